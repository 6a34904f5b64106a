package geomtest

import (
	"math"

	"gonum.org/v1/gonum/integrate/quad"

	"cabwright/geometry"
	"cabwright/geometry/outline"
	"cabwright/geometry/solid"
)

// AreaByQuadrature returns the area within an outline in mm2: half the
// integral of its squared radius, by Gauss-Legendre quadrature of n points
// between corners (or, where there are none, over quarters).
func AreaByQuadrature(o outline.Outline, n int) float64 {
	cuts := append([]float64{-math.Pi, -math.Pi / 2, 0, math.Pi / 2, math.Pi}, o.Corners()...)
	return integrate(cuts, -math.Pi, math.Pi, n, func(t float64) float64 {
		r := o.Radius(t)
		return r * r / 2
	})
}

// VolumeByQuadrature returns the volume of a stone in mm3, ring by ring, from
// the heights of its two sides. The rim is a cut; the angle asin(rho) takes
// the infinite slope of the back at the rim away, and that of the dome is met
// by many points.
func VolumeByQuadrature(c solid.Cabochon, n int) float64 {
	return AreaByQuadrature(c.Outline, n) * RingIntegral(c.RimRatio(), n, func(rho float64) float64 {
		return c.Upper(rho) - c.Lower(rho)
	})
}

// RingIntegral integrates 2 rho height(rho) over rho from 0 to 1, with a cut
// at the gauge rim. Multiplied with an area it is the volume under a height
// that depends on the gauge alone.
func RingIntegral(rim float64, n int, height func(rho float64) float64) float64 {
	below := func(rim float64) func(angle float64) float64 {
		return func(angle float64) float64 {
			s, c := math.Sincos(angle)
			return 2 * rim * s * height(rim*s) * rim * c
		}
	}
	// Up to the rim in the angle asin(rho/rim), where a dome is smooth.
	sum := integrate(nil, 0, math.Pi/2, n, below(rim))
	return sum + integrate(nil, math.Asin(rim), math.Pi/2, n, below(1))
}

// integrate adds up the integrals between the cuts that lie from low to high.
func integrate(cuts []float64, low, high float64, n int, f func(float64) float64) float64 {
	at := low
	sum := 0.0
	for at < high {
		next := high
		for _, c := range cuts {
			if c > at && c < next {
				next = c
			}
		}
		sum += quad.Fixed(f, at, next, n, quad.Legendre{}, 0)
		at = next
	}
	return sum
}

// StickOutBySampling returns how far the points of inner, n directions of
// them, lie from the polygon through the points of outer at most: negative,
// the least distance to it from inside. It is near the true value for large n.
func StickOutBySampling(outer, inner outline.Outline, n int) float64 {
	ring := outer.Points(n)
	worst := math.Inf(-1)
	for _, p := range inner.Points(n) {
		d := DistanceToRing(p, ring)
		if outer.Gauge(p.X, p.Y) < 1 {
			d = -d
		}
		worst = math.Max(worst, d)
	}
	return worst
}

// DistanceToRing returns the distance from a point to the sides of a closed
// polygon, in mm.
func DistanceToRing(p geometry.Vec2, ring []geometry.Vec2) float64 {
	best := math.Inf(1)
	for i, a := range ring {
		d := ring[(i+1)%len(ring)].Sub(a)
		t := 0.0
		if d.Dot(d) > 0 {
			t = math.Max(0, math.Min(1, p.Sub(a).Dot(d)/d.Dot(d)))
		}
		best = math.Min(best, p.Sub(a.Add(d.Scale(t))).Norm())
	}
	return best
}
