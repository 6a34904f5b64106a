package freeform

import (
	"cmp"
	"math"
	"slices"
)

// spotInPlan is a cell of a layer.
type spotInPlan struct{ i, j int }

// How a convex outline is bounded: so many cells that it has to leave out are looked at in
// each layer, in so many directions, and so many of them after one another. More make the
// bound little lower.
const (
	mostBlocked  = 40
	convexTurns  = 24
	convexCuts   = 2
	convexTrials = 12
)

// convexMost bounds the number of cells that a convex set can reach which lies within the
// cells given and leaves out the blocked ones: a line parts it from any one of them, so it
// lies on one side of a line through that cell, and what is on that side is bounded in the
// same way.
func convexMost(all, blocked []spotInPlan, cuts int) float64 {
	if cuts == 0 || len(blocked) == 0 || len(all) == 0 {
		return float64(len(all))
	}
	best, sides := float64(len(all)), [][]spotInPlan(nil)
	for n := range min(len(blocked), convexTrials) {
		some := sidesOf(all, blocked[n*len(blocked)/min(len(blocked), convexTrials)])
		if most := float64(len(some[0])); most < best {
			best, sides = most, some
		}
	}
	if sides == nil {
		return best
	}
	most := 0.0
	for _, side := range sides { // the largest first
		if float64(len(side)) <= most {
			break
		}
		most = max(most, convexMost(side, blocked, cuts-1))
	}
	return most
}

// sidesOf returns, for each range of directions, the cells that may lie on the one side of a
// line through the middle of a cell, the largest set first. The sides of all lines of a
// range are within those of the two at its ends; a cell that reaches over to a side has
// its middle no further off than half its diagonal.
func sidesOf(all []spotInPlan, at spotInPlan) [][]spotInPlan {
	out := make([][]spotInPlan, convexTurns)
	for n := range out {
		s0, c0 := math.Sincos(2 * math.Pi * float64(n) / convexTurns)
		s1, c1 := math.Sincos(2 * math.Pi * float64(n+1) / convexTurns)
		for _, p := range all {
			x, y := float64(p.i-at.i), float64(p.j-at.j)
			if x*c0+y*s0 >= -math.Sqrt2/2 || x*c1+y*s1 >= -math.Sqrt2/2 {
				out[n] = append(out[n], p)
			}
		}
	}
	slices.SortStableFunc(out, func(a, b []spotInPlan) int { return cmp.Compare(len(b), len(a)) })
	return out
}
