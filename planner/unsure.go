package planner

// Range is what a length or a height that is not known for sure may be, in
// millimetres. The likely value stands beside it, in the mark, and lies within.
// Treat a Range as a value: marks share them.
type Range struct {
	Least, Most float64
	Open        bool // no Most is given: the rough's greatest thickness
}

// sameAt reports whether two pointers are both nil or to equal values.
func sameAt[E comparable](a, b *E) bool {
	return a == b || a != nil && b != nil && *a == *b
}
