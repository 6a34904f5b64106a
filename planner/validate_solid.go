package planner

import (
	"fmt"
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
	high, low := r.wrongSide(s, Base), r.wrongSide(s, Top)
	if len(low) < len(high) || len(low) == len(high) && oddest(s.Top) > oddest(s.Base) {
		return append(low, high...)
	}
	return append(high, low...)
}

// wrongSide returns the readings of a face that lie on the wrong side of the other.
func (r *Rough) wrongSide(s Stone, f Face) (out []Problem) {
	for i, p := range s.Readings(f) {
		if err := r.Misread(f, p); err != nil {
			spot := p.XY()
			out = append(out, Problem{Place: at(string(f), i), What: err.Error(), At: &spot})
		}
	}
	return out
}

// Misread says, with both heights, that a height of a face lies on the wrong side of
// the other face there, or on it; nil when it does not.
func (r *Rough) Misread(f Face, p geometry.Vec3) error {
	way, other := "at or above", f.other()
	height := r.Height(other, p.X, p.Y)
	wrong := p.Z >= height
	if f == Top {
		way, wrong = "at or below", p.Z <= height
	}
	if !wrong {
		return nil
	}
	const misread = "%v mm lies %s the %s, which is at %.2f mm there: one of the two is wrong"
	return fmt.Errorf(misread, p.Z, way, other, height)
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
