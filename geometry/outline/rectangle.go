package outline

import (
	"math"

	"cabwright/geometry"
)

// rectangle is the rectangle |u| <= a, |v| <= b with sharp corners: the square
// and the rectangle. Sharp, because a plan that keeps the whole corner also
// holds the stone whose corners are eased a little at the wheel.
type rectangle struct{ a, b float64 }

func newSquare(length, width float64) (curve, error) {
	if length != width {
		return nil, errNotEqual
	}
	return rectangle{length / 2, width / 2}, nil
}

func newRectangle(length, width float64) (curve, error) {
	return rectangle{length / 2, width / 2}, nil
}

func (r rectangle) gauge(u, v float64) float64 {
	return math.Max(math.Abs(u)/r.a, math.Abs(v)/r.b)
}

func (r rectangle) area() float64 { return 4 * r.a * r.b }

func (r rectangle) corners() []float64 {
	t := math.Atan2(r.b, r.a)
	return []float64{t - math.Pi, -t, t, math.Pi - t}
}

func (r rectangle) extent() (min, max geometry.Vec2) { return centred(r.a, r.b) }

func (r rectangle) period() float64 { return fourfold(r.a, r.b) }

func (r rectangle) pieces() []support {
	return []support{func(cu, cv float64) float64 {
		return r.a*math.Abs(cu) + r.b*math.Abs(cv)
	}}
}

func (r rectangle) cover() []support { return r.pieces() }
