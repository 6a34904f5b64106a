package fits

import (
	"cabwright/planner"
	"cabwright/planner/search"
)

// ready is one of the comparisons that need no pins.
type ready int

const (
	noReady ready = iota
	twoFaces
	oneOrTwoSides
	setOrFree
	readyCount
)

func (r ready) words() string {
	return [...]string{"", "top face up, base face up", "single-sided, double-sided", "calibrated, freeform"}[r]
}

func (r ready) key() string { return [...]string{"", "F", "T", "C"}[r] }

// sides returns what holds for the candidates on the left and on the right.
func (r ready) sides() (left, right func(search.Candidate) bool) {
	switch r {
	case twoFaces:
		return func(c search.Candidate) bool { return c.Face == planner.Top },
			func(c search.Candidate) bool { return c.Face == planner.Base }
	case oneOrTwoSides:
		return func(c search.Candidate) bool { return c.Solid.Sides != 2 },
			func(c search.Candidate) bool { return c.Solid.Sides == 2 }
	default:
		return func(c search.Candidate) bool { return !freeform(c) }, freeform
	}
}

// pair returns the best fit of each side: of the chosen one's outline where both
// sides hold it, else of all. Where a side has none it returns the other alone.
func (r ready) pair(plan search.Plan, chosen *search.Fit) []search.Fit {
	left, right := r.sides()
	best := func(side func(search.Candidate) bool, only func(search.Candidate) bool) *search.Fit {
		for i, f := range plan.Fits {
			if side(f.Candidate) && only(f.Candidate) {
				return &plan.Fits[i]
			}
		}
		return nil
	}
	if chosen != nil && r != setOrFree {
		same := func(c search.Candidate) bool {
			a, b := c.Solid.Outline, chosen.Solid.Outline
			return a.Shape == b.Shape && (freeform(c) || a.Length == b.Length && a.Width == b.Width)
		}
		if a, b := best(left, same), best(right, same); a != nil && b != nil {
			return []search.Fit{*a, *b}
		}
	}
	any := func(search.Candidate) bool { return true }
	var out []search.Fit
	for _, f := range []*search.Fit{best(left, any), best(right, any)} {
		if f != nil {
			out = append(out, *f)
		}
	}
	return out
}
