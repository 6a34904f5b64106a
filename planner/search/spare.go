package search

import "slices"

// HasSpare reports whether a fit has the clearance beyond the allowances that is
// asked for, in mm.
func (f Fit) HasSpare(spare float64) bool { return f.Clearance >= spare }

// SpareFirst puts the fits that have the spare asked for, in mm, before those
// that have not, each in the order they were in.
func SpareFirst(fits []Fit, spare float64) {
	if spare <= 0 {
		return
	}
	slices.SortStableFunc(fits, func(a, b Fit) int {
		switch has := a.HasSpare(spare); {
		case has == b.HasSpare(spare):
			return 0
		case has:
			return -1
		default:
			return 1
		}
	})
}
