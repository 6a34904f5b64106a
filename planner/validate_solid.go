package planner

import (
	"math"
	"slices"

	"cabwright/geometry"
)

// solid checks that the two faces, each good by itself, have a stone between
// them: at every reading, and at all.
func (c *checker) solid(s Stone) {
	r, err := layFaces(s)
	if err != nil {
		c.add("outline", "%v", err)
		return
	}
	if crossed := r.crossed(s); len(crossed) > 0 {
		c.problems = append(c.problems, crossed...)
		return
	}
	for _, p := range s.Outline[:min(len(s.Outline), 16)] {
		if r.Top(p.X, p.Y) > r.Base(p.X, p.Y) {
			return // which nearly always settles it
		}
	}
	if r.measure(s); r.volume <= 0 {
		c.add("top", "%v", ErrNoSolid)
	}
}

// crossed returns the readings of the base that lie at or above the top there,
// and those of the top at or below the base. Where a slip in one reading puts
// several of the other face on the wrong side, that one comes first.
func (r *Rough) crossed(s Stone) []Problem {
	var high, low []Problem
	for i, p := range s.Base {
		if top := r.Top(p.X, p.Y); p.Z >= top {
			high = append(
				high,
				problemf(
					at("base", i), "%v mm lies at or above the top, which is at %.2f mm there: one of the two is wrong", p.Z, top,
				),
			)
		}
	}
	for i, p := range s.Top {
		if base := r.Base(p.X, p.Y); p.Z <= base {
			low = append(
				low,
				problemf(
					at("top", i), "%v mm lies at or below the base, which is at %.2f mm there: one of the two is wrong", p.Z, base,
				),
			)
		}
	}
	if len(low) < len(high) || len(low) == len(high) && oddest(s.Top) > oddest(s.Base) {
		return append(low, high...)
	}
	return append(high, low...)
}

// oddest returns how far the reading of a face that is furthest from their
// middle height lies from it.
func oddest(readings []geometry.Vec3) float64 {
	heights := make([]float64, len(readings))
	for i, p := range readings {
		heights[i] = p.Z
	}
	slices.Sort(heights)
	if len(heights) == 0 {
		return 0
	}
	middle := heights[len(heights)/2]
	return math.Max(middle-heights[0], heights[len(heights)-1]-middle)
}
