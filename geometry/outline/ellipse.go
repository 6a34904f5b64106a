package outline

import (
	"errors"
	"math"

	"cabwright/geometry"
)

// ellipse is the curve (u/a)^2 + (v/b)^2 = 1: the round and the oval.
type ellipse struct{ a, b float64 }

var errNotEqual = errors.New("length and width must be equal")

func newRound(length, width float64) (curve, error) {
	if length != width {
		return nil, errNotEqual
	}
	return ellipse{length / 2, width / 2}, nil
}

func newOval(length, width float64) (curve, error) {
	return ellipse{length / 2, width / 2}, nil
}

func (e ellipse) gauge(u, v float64) float64 {
	x, y := u/e.a, v/e.b
	return math.Sqrt(x*x + y*y)
}

func (e ellipse) area() float64 { return math.Pi * e.a * e.b }

func (e ellipse) corners() []float64 { return nil }

func (e ellipse) extent() (min, max geometry.Vec2) { return centred(e.a, e.b) }

func (e ellipse) period() float64 {
	if e.a == e.b {
		return 0
	}
	return math.Pi
}

// The support of the unit disc is 1 in every direction; stretching the set by
// (a, b) stretches the direction asked about in the same way.
func (e ellipse) pieces() []support {
	return []support{func(cu, cv float64) float64 {
		x, y := e.a*cu, e.b*cv
		return math.Sqrt(x*x + y*y)
	}}
}

func (e ellipse) cover() []support { return e.pieces() }

// centred is the extent of a curve that lies the same on all sides.
func centred(a, b float64) (min, max geometry.Vec2) {
	return geometry.Vec2{X: -a, Y: -b}, geometry.Vec2{X: a, Y: b}
}
