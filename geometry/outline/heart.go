package outline

import (
	"errors"
	"math"

	"cabwright/geometry"
)

// heart is two round lobes side by side across the v axis, and from each a
// straight side, tangent to it, to the tip (t, 0). With b half the width, the
// lobes are circles of radius 5b/9 about (0, +-4b/9): they overlap on the u
// axis and leave a cleft there at (-b/3, 0), 2b/9 deep. So the curve is
// star-shaped about its origin, the middle between the lobes.
//
//	 ,--.
//	/    '-.
//	\       '-.
//	 >         > tip
//	/       ,-'
//	\    ,-'
//	 '--'          u ->
type heart struct {
	b, t   float64
	lobe   disc          // the one at v > 0
	tangle float64       // angle about the lobe's centre at which its side leaves it
	touch  geometry.Vec2 // the point there
}

func newHeart(length, width float64) (curve, error) {
	b := width / 2
	h := heart{b: b, t: length - 5*b/9, lobe: disc{geometry.Vec2{X: 0, Y: 4 * b / 9}, 5 * b / 9}}
	// Shorter than this the sides would meet at an angle of over 90 degrees.
	if h.t < b {
		return nil, errors.New("the length must be at least 7/9 of the width")
	}
	// From the lobe's centre the tip lies at the angle atan2(-4b/9, t); the
	// tangent from the tip touches acos(radius / distance) before it.
	away := math.Hypot(h.t, h.lobe.c.Y)
	h.tangle = math.Atan2(-h.lobe.c.Y, h.t) + math.Acos(h.lobe.r/away)
	h.touch = h.lobe.at(h.tangle)
	return h, nil
}

func (h heart) gauge(u, v float64) float64 {
	v = math.Abs(v)
	if h.touch.Cross(geometry.Vec2{X: u, Y: v}) >= 0 {
		return h.lobe.gauge(u, v)
	}
	// On the side: the line from the tip to the touching point, whose
	// cross product with its own direction is the same all along.
	d := geometry.Vec2{X: h.touch.X - h.t, Y: h.touch.Y}
	return (u*d.Y - v*d.X) / (h.t * d.Y)
}

// area is twice the upper half: the triangle of origin, tip and touching
// point, and the arc from there to the cleft.
func (h heart) area() float64 {
	cleft := math.Pi + math.Atan2(4, 3)
	return 2 * (h.t*h.touch.Y/2 + h.lobe.sweep(h.tangle, cleft))
}

func (h heart) corners() []float64 { return []float64{0, math.Pi} }

func (h heart) extent() (min, max geometry.Vec2) {
	return geometry.Vec2{X: -h.lobe.r, Y: -h.b}, geometry.Vec2{X: h.t, Y: h.b}
}

func (h heart) period() float64 { return 2 * math.Pi }

// The heart is two mirror images of one drop: the convex hull of a lobe and
// the tip. Each holds the origin, as the lobe does.
func (h heart) pieces() []support {
	half := func(side float64) support {
		return func(cu, cv float64) float64 {
			return math.Max(h.lobe.support(cu, side*cv), h.t*cu)
		}
	}
	return []support{half(1), half(-1)}
}

// The hull of the heart is that of its two lobes and its tip. Taken one by one
// they have no straight sides, whose reach would be met less closely.
func (h heart) cover() []support {
	return []support{
		h.lobe.support,
		func(cu, cv float64) float64 { return h.lobe.support(cu, -cv) },
		func(cu, _ float64) float64 { return h.t * cu },
	}
}
