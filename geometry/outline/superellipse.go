package outline

import (
	"math"

	"cabwright/geometry"
)

// superellipse is the curve |u/a|^3 + |v/b|^3 = 1: the cushion.
type superellipse struct{ a, b float64 }

func newCushion(length, width float64) (curve, error) {
	return superellipse{length / 2, width / 2}, nil
}

func (s superellipse) gauge(u, v float64) float64 {
	x, y := math.Abs(u)/s.a, math.Abs(v)/s.b
	return math.Cbrt(x*x*x + y*y*y)
}

// area is 4 a b Gamma(1 + 1/n)^2 / Gamma(1 + 2/n) with n = 3 (Dirichlet's
// integral, DLMF 5.14.1).
func (s superellipse) area() float64 {
	g := math.Gamma(1 + 1.0/3)
	return 4 * s.a * s.b * g * g / math.Gamma(1+2.0/3)
}

func (s superellipse) corners() []float64 { return nil }

func (s superellipse) extent() (min, max geometry.Vec2) { return centred(s.a, s.b) }

func (s superellipse) period() float64 { return fourfold(s.a, s.b) }

// The dual of the 3-norm is the 3/2-norm (Hoelder's inequality).
func (s superellipse) pieces() []support {
	return []support{func(cu, cv float64) float64 {
		x, y := math.Abs(s.a*cu), math.Abs(s.b*cv)
		t := x*math.Sqrt(x) + y*math.Sqrt(y)
		return math.Cbrt(t * t)
	}}
}

func (s superellipse) cover() []support { return s.pieces() }

// fourfold is the turn period of a curve with mirror lines along u and v that
// is also as long as wide, or not.
func fourfold(a, b float64) float64 {
	if a == b {
		return math.Pi / 2
	}
	return math.Pi
}
