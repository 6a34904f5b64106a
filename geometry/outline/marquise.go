package outline

import (
	"errors"
	"math"

	"cabwright/geometry"
)

// marquise is the lens of the two equal circular arcs through (+-a, 0) and
// (0, +-b), a >= b.
type marquise struct {
	a, b  float64
	upper disc // the circle of the arc with v >= 0; its centre is at v <= 0
}

var errTooWide = errors.New("the length must not be below the width")

func newMarquise(length, width float64) (curve, error) {
	if length < width {
		return nil, errTooWide
	}
	a, b := length/2, width/2
	return marquise{a, b, bow(a, b)}, nil
}

// bow returns the circle through (+-a, 0) and (0, b), centred at or below the
// u axis.
func bow(a, b float64) disc {
	r := (a*a + b*b) / (2 * b)
	return disc{geometry.Vec2{X: 0, Y: b - r}, r}
}

func (m marquise) gauge(u, v float64) float64 { return m.upper.gauge(u, math.Abs(v)) }

// area is twice the arc's segment above the u axis. The arc runs from the tip
// (a, 0) to the tip (-a, 0).
func (m marquise) area() float64 {
	t := math.Atan2(-m.upper.c.Y, m.a)
	return 2 * m.upper.sweep(t, math.Pi-t)
}

func (m marquise) corners() []float64 { return []float64{0, math.Pi} }

func (m marquise) extent() (min, max geometry.Vec2) { return centred(m.a, m.b) }

func (m marquise) period() float64 { return math.Pi }

func (m marquise) pieces() []support {
	return []support{func(cu, cv float64) float64 {
		cu, cv = math.Abs(cu), math.Abs(cv)
		// The arc's normals span the directions between those of its ends.
		if cu*m.upper.r > m.a {
			return m.a * cu
		}
		return m.upper.support(cu, cv)
	}}
}

func (m marquise) cover() []support { return m.pieces() }
