package odds

import (
	"math"

	"cabwright/geometry"
	"cabwright/planner"
)

// Thickness returns the rough's greatest thickness, mm, where a range without an
// end ends: sought over a grid of about a hundredth of its breadth and climbed to
// from the best spots, halving the step down to a thousandth of a millimetre.
func Thickness(rough *planner.Rough) float64 {
	lo, hi := geometry.Bounds(rough.Outline)
	step := math.Max(hi.X-lo.X, hi.Y-lo.Y) / 100
	at := func(p geometry.Vec2) float64 {
		if !geometry.InPolygon(rough.Outline, p) {
			return math.Inf(-1)
		}
		return rough.Top(p.X, p.Y) - rough.Base(p.X, p.Y)
	}
	best, most := geometry.Vec2{}, math.Inf(-1)
	try := func(p geometry.Vec2) bool {
		t := at(p)
		if t > most {
			best, most = p, t
			return true
		}
		return false
	}
	for x := lo.X + step/2; x < hi.X; x += step {
		for y := lo.Y + step/2; y < hi.Y; y += step {
			try(geometry.Vec2{X: x, Y: y})
		}
	}
	// The outline's corners may reach where no grid point lies.
	for i, p := range rough.Outline {
		q := rough.Outline[(i+1)%len(rough.Outline)]
		for _, at := range []geometry.Vec2{p, p.Add(q).Scale(0.5)} {
			most = math.Max(most, rough.Top(at.X, at.Y)-rough.Base(at.X, at.Y))
		}
	}
	for ; step > 1e-3; step /= 2 {
		for moved := true; moved; {
			moved = false
			for _, d := range []geometry.Vec2{{X: step}, {X: -step}, {Y: step}, {Y: -step}} {
				moved = try(best.Add(d)) || moved
			}
		}
	}
	return math.Max(0, most)
}
