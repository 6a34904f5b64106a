package outline

import (
	"math"

	"cabwright/geometry"
)

// disc is a full circle that holds the origin; arcs of it make up the
// marquise, the pear, the triangle and the heart.
type disc struct {
	c geometry.Vec2
	r float64
}

// gauge returns the gauge of the disc about the origin. The point p/g lies on
// the circle when |p/g - c|^2 = r^2, a quadratic in 1/g with one positive root:
//
//	g = (sqrt((p.c)^2 + |p|^2 k) - p.c) / k   with k = r^2 - |c|^2 > 0
func (d disc) gauge(u, v float64) float64 {
	k := d.r*d.r - d.c.Dot(d.c)
	pc := u*d.c.X + v*d.c.Y
	return (math.Sqrt(pc*pc+(u*u+v*v)*k) - pc) / k
}

// sweep returns the area between the origin and the arc of the circle from the
// angle from to the angle to about its centre: half the integral of
// p x dp = r^2/2 (to - from) + c x (end - start) / 2.
func (d disc) sweep(from, to float64) float64 {
	return (d.r*d.r*(to-from) + d.c.Cross(d.at(to).Sub(d.at(from)))) / 2
}

// at returns the point of the circle at an angle about its centre.
func (d disc) at(angle float64) geometry.Vec2 {
	s, c := math.Sincos(angle)
	return geometry.Vec2{X: d.c.X + d.r*c, Y: d.c.Y + d.r*s}
}

// support returns how far the full disc reaches in a direction.
func (d disc) support(cu, cv float64) float64 { return d.c.X*cu + d.c.Y*cv + d.r }
