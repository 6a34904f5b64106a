package planner

import (
	"math"

	"cabwright/geometry"
)

// Calipers are the length and the width of an outline as calipers take them: the
// width is the narrowest gap it passes through, the length lies square to that.
type Calipers struct {
	Length, Width float64 // mm
	Angle         float64 // of the length, radians from +x, -pi/2 < Angle <= pi/2
	Centre        geometry.Vec2
}

// Extent measures an outline. The narrowest gap has one jaw along an edge of the
// convex hull; the hull's farthest corners are followed from edge to edge
// (Toussaint 1983, rotating calipers).
func Extent(corners []geometry.Vec2) Calipers {
	hull := geometry.ConvexHull(corners)
	if len(hull) < 3 {
		return Calipers{}
	}
	var best Calipers
	least := math.Inf(1)
	n := len(hull)
	far, ahead, behind := 1, 1, 1
	for i, p := range hull {
		u := hull[(i+1)%n].Sub(p)
		u = u.Scale(1 / u.Norm())
		v := geometry.Vec2{X: -u.Y, Y: u.X}
		advance := func(j int, d geometry.Vec2) int {
			for hull[(j+1)%n].Sub(hull[j]).Dot(d) > 0 {
				j = (j + 1) % n
			}
			return j
		}
		if i == 0 {
			ahead = advance(1, u)
			far = advance(ahead, v)
			behind = advance(far, u.Scale(-1))
		} else {
			ahead, far, behind = advance(ahead, u), advance(far, v), advance(behind, u.Scale(-1))
		}
		along, across := hull[ahead].Sub(hull[behind]).Dot(u), hull[far].Sub(p).Dot(v)
		if across < least {
			least = across
			from := hull[behind].Sub(p).Dot(u)
			best = Calipers{Length: along, Width: across, Angle: math.Atan2(u.Y, u.X),
				Centre: p.Add(u.Scale(from + along/2)).Add(v.Scale(across / 2))}
		}
	}
	best.Angle -= math.Pi * math.Ceil(best.Angle/math.Pi-0.5)
	return best
}
