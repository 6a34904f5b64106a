package geomtest

import (
	"math"

	"cabwright/geometry"
	"cabwright/geometry/outline"
	"cabwright/geometry/solid"
)

// Cab is a cabochon with a wall of 1.2 mm that leans in 10 degrees; two-sided with a
// back. Lengths are mm.
func Cab(shape string, length, width, dome, back float64) solid.Cabochon {
	o := must(outline.New(shape, length, width))
	c := solid.Cabochon{Outline: o, Wall: 1.2, WallLeanDeg: 10, Dome: dome, Back: back, Sides: 1}
	if back > 0 {
		c.Sides = 2
	}
	return c
}

// Skin is a net of points on a solid's skin, in its own axes, taken from the contract's
// formulas and from nothing that a search samples: n directions and the outline's
// corners, n/4 gauges each.
func Skin(c solid.Cabochon, n int) []geometry.Vec3 {
	var out []geometry.Vec3
	r, m := c.RimRatio(), max(3, n/4)
	for _, p := range c.Outline.Points(n) {
		put := func(rho, w float64) { out = append(out, geometry.Vec3{X: rho * p.X, Y: rho * p.Y, Z: w}) }
		for k := 0; k <= m; k++ {
			rho := math.Sin(float64(k) / float64(m) * math.Pi / 2)
			put(r*rho, c.Upper(r*rho))
			put(rho, c.Lower(rho))
			put(1-(1-r)*float64(k)/float64(m), c.Wall*float64(k)/float64(m))
		}
	}
	return out
}

// Outside tells by how much a point breaks the contract's inequalities of the
// solid: 0 or less inside.
func Outside(c solid.Cabochon, p geometry.Vec3) float64 {
	rho := c.Outline.Gauge(p.X, p.Y)
	if rho > 1 {
		return (rho - 1) * p.XY().Norm()
	}
	return max(p.Z-c.Upper(rho), c.Lower(rho)-p.Z)
}
