package certify

import (
	"math"

	"cabwright/geometry"
	"cabwright/geometry/outline"
	"cabwright/geometry/solid"
)

// arc is a piece of an outline between two directions with no corner inside: it
// turns one way only. Points are on the curve, a quarter of the angle apart.
type arc struct {
	outline     *outline.Outline
	from, to    float64 // directions
	at          [5]geometry.Vec2
	bow         float64 // the curve is within this of its chord
	left, right *arc    // halves, once asked for
}

func newArc(o *outline.Outline, from, to float64) *arc {
	a := &arc{outline: o, from: from, to: to}
	for k := range a.at {
		a.at[k] = onOutline(o, from+(to-from)*float64(k)/4)
	}
	a.measure()
	return a
}

func onOutline(o *outline.Outline, theta float64) geometry.Vec2 {
	s, c := math.Sincos(theta)
	r := 1 / o.Gauge(c, s)
	return geometry.Vec2{X: r * c, Y: r * s}
}

// halves divides the arc.
func (a *arc) halves() (*arc, *arc) {
	if a.left == nil {
		mid := (a.from + a.to) / 2
		half := func(from, to float64, p, q, r geometry.Vec2) *arc {
			h := &arc{outline: a.outline, from: from, to: to}
			h.at = [5]geometry.Vec2{p, onOutline(a.outline, from+(to-from)/4), q, onOutline(a.outline, from+(to-from)*3/4), r}
			h.measure()
			return h
		}
		a.left = half(a.from, mid, a.at[0], a.at[1], a.at[2])
		a.right = half(mid, a.to, a.at[2], a.at[3], a.at[4])
	}
	return a.left, a.right
}

// measure bounds the bow. A curve that turns one way only lies, between two of
// its points, in the triangle of these and of the meeting of the lines that
// continue its chords on either side; at the ends of the arc the ray from the
// origin takes the place of one of these lines, as the curve is star-shaped. The
// distance from the chord is convex, so it is largest at a corner of a triangle.
func (a *arc) measure() {
	p := &a.at
	chord := p[4].Sub(p[0])
	length := chord.Norm()
	off := func(q geometry.Vec2) float64 {
		v := q.Sub(p[0])
		if length < 1e-12 {
			return v.Norm()
		}
		u := max(0, min(length, chord.Dot(v)/length))
		return v.Sub(chord.Scale(u / length)).Norm()
	}
	a.bow = max(off(p[1]), off(p[2]), off(p[3]))
	for _, q := range [4]geometry.Vec2{
		geometry.Meeting(p[0], p[0], p[1], p[2].Sub(p[1])),
		geometry.Meeting(p[1], p[1].Sub(p[0]), p[2], p[3].Sub(p[2])),
		geometry.Meeting(p[2], p[2].Sub(p[1]), p[3], p[4].Sub(p[3])),
		geometry.Meeting(p[4], p[4], p[3], p[3].Sub(p[2])),
	} {
		a.bow = max(a.bow, off(q))
	}
	a.bow += 1e-9 // rounding
}

// side is one smooth part of a cabochon's skin: the outline's points scaled by
// rho(b) at the height w(b), for b from 0 to 1. Along b both run along a straight
// line, or along a quarter of an ellipse.
type side struct {
	rho0, rho1 float64 // where it is straight
	w0, w1     float64
	round      bool // rho = rho0 cos, w = w0 + w1 sin of b quarter turns
	cuts       int  // first division along b
}

// sides returns the parts of a cabochon's skin.
func sides(c solid.Cabochon) []side {
	r := c.RimRatio()
	out := []side{{rho0: r, w0: c.Wall, w1: c.Dome, round: true, cuts: 6}}
	if c.Wall > 0 {
		out = append(out, side{rho0: 1, rho1: r, w1: c.Wall, cuts: 1})
	}
	if back := c.BackDepth(); back > 0 {
		return append(out, side{rho0: 1, w1: -back, round: true, cuts: 5})
	}
	return append(out, side{rho0: 1, rho1: 0, cuts: 4})
}

// at returns the point over a point of the outline.
func (s *side) at(p geometry.Vec2, b float64) geometry.Vec3 {
	rho, w := s.rho0+b*(s.rho1-s.rho0), s.w0+b*(s.w1-s.w0)
	if s.round {
		sin, cos := math.Sincos(b * math.Pi / 2)
		rho, w = s.rho0*cos, s.w0+s.w1*sin
	}
	return geometry.Vec3{X: rho * p.X, Y: rho * p.Y, Z: w}
}

// sag bounds how far the skin over an arc strays, for b from b0 to b1, from the
// surface spanned bilinearly by its four corners, whose points are convex
// combinations of these: along the outline by the arc's bow, scaled; along b by
// what linear interpolation of a function misses, step^2/8 times its largest
// second derivative, in rho and in w. Both parts are returned.
func (s *side) sag(a *arc, b0, b1 float64) (along, across float64) {
	if !s.round {
		return a.bow * max(s.rho0+b0*(s.rho1-s.rho0), s.rho0+b1*(s.rho1-s.rho0)), 0
	}
	t0, t1 := b0*math.Pi/2, b1*math.Pi/2
	cos, sin := s.rho0*math.Cos(t0), math.Abs(s.w1)*math.Sin(t1)
	far := 0.0
	for _, q := range a.at {
		far = max(far, q.Norm())
	}
	step := (t1 - t0) * (t1 - t0) / 8
	return a.bow * cos, step * math.Hypot(cos*(far+a.bow), sin)
}

// directionsOf divides the turn at the outline's corners and into steps of at
// most 15 degrees.
func directionsOf(c solid.Cabochon) []float64 {
	cuts := []float64{-math.Pi}
	cuts = append(cuts, c.Outline.Corners()...)
	if cuts[len(cuts)-1] < math.Pi {
		cuts = append(cuts, math.Pi)
	}
	out := []float64{-math.Pi}
	for i := 0; i+1 < len(cuts); i++ {
		n := math.Ceil((cuts[i+1] - cuts[i]) / (math.Pi / 12))
		for k := 1.0; k <= n; k++ {
			out = append(out, cuts[i]+(cuts[i+1]-cuts[i])*k/n)
		}
	}
	return out
}
