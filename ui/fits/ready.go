package fits

import (
	"cabwright/planner"
	"cabwright/planner/search"
	"cabwright/ui/view"
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

// names returns what stands on the left and on the right.
func (r ready) names() (left, right string) {
	n := [...][2]string{{}, {"top up", "base up"}, {"single-sided", "double-sided"}, {"calibrated", "freeform"}}[r]
	return n[0], n[1]
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
		return func(c search.Candidate) bool { return !view.Freeform(c) }, view.Freeform
	}
}

// compared is a fit of a comparison, and what it stands there as: "best of all
// single-sided"; "" where it was chosen or pinned.
type compared struct {
	search.Fit
	as string
}

// tiles returns what a ready comparison shows: the best of all on each side, and
// after them those of the chosen one's size where both sides hold it.
func (r ready) tiles(fits []search.Fit, chosen *search.Fit) []compared {
	left, right := r.sides()
	leftName, rightName := r.names()
	var out []compared
	add := func(as string, holds func(search.Candidate) bool) {
		var best *search.Fit
		for i, f := range fits {
			if holds(f.Candidate) && (best == nil || f.Carat > best.Carat) {
				best = &fits[i]
			}
		}
		if best == nil {
			return
		}
		for _, c := range out {
			if view.SameFit(c.Fit, *best) {
				return
			}
		}
		out = append(out, compared{*best, as})
	}
	add("best of all "+leftName, left)
	add("best of all "+rightName, right)
	if chosen == nil || r == setOrFree || len(out) < 2 {
		return out
	}
	k := sizeAlone(chosen.Candidate)
	same := func(side func(search.Candidate) bool) func(search.Candidate) bool {
		return func(c search.Candidate) bool { return side(c) && sizeAlone(c) == k }
	}
	add("the chosen size, "+leftName, same(left))
	add("the chosen size, "+rightName, same(right))
	return out
}
