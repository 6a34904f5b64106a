package outline

import (
	"math"

	"cabwright/geometry"
)

// pear is a half circle of radius b about the origin on the side u <= 0, and
// from its two widest points (0, +-b) two circular arcs, tangent to it there,
// that meet at the tip (t, 0).
type pear struct {
	b, t  float64
	upper disc // the circle of the arc from (0, b) to the tip
}

func newPear(length, width float64) (curve, error) {
	if length < width {
		return nil, errTooWide
	}
	b := width / 2
	t := length - b
	return pear{b, t, bow(t, b)}, nil
}

func (p pear) gauge(u, v float64) float64 {
	if u <= 0 {
		return math.Sqrt(u*u+v*v) / p.b
	}
	return p.upper.gauge(u, math.Abs(v))
}

// area is the half disc and twice the arc's part from the tip to (0, b).
func (p pear) area() float64 {
	return math.Pi*p.b*p.b/2 + 2*p.upper.sweep(math.Atan2(-p.upper.c.Y, p.t), math.Pi/2)
}

func (p pear) corners() []float64 { return []float64{0} }

func (p pear) extent() (min, max geometry.Vec2) {
	return geometry.Vec2{X: -p.b, Y: -p.b}, geometry.Vec2{X: p.t, Y: p.b}
}

func (p pear) period() float64 { return 2 * math.Pi }

func (p pear) pieces() []support {
	return []support{func(cu, cv float64) float64 {
		switch {
		case cu <= 0:
			return p.b
		case cu*p.upper.r > p.t:
			return p.t * cu
		default:
			return p.upper.support(cu, math.Abs(cv))
		}
	}}
}

func (p pear) cover() []support { return p.pieces() }
