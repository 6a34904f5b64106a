package outline

import "math"

// Support returns how far the outline reaches in the direction (cu, cv): the
// largest cu u + cv v over its points. It is exact, and in proportion to the
// length of the direction, which need not be 1; 0 for no direction.
func (o Outline) Support(cu, cv float64) float64 {
	length := math.Hypot(cu, cv)
	if length == 0 {
		return 0
	}
	far := math.Inf(-1)
	for _, reach := range o.curve.cover() {
		far = math.Max(far, reach(cu/length, cv/length))
	}
	return far * length
}
