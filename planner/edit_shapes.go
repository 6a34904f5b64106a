package planner

import (
	"math"

	"cabwright/geometry"
)

// pocketSlack is how far, in mm, the polygon drawn for a round or oval pocket
// may stand outside it: a tenth of the least allowance kept from pockets.
const pocketSlack = 0.05

// OvalOutline returns the corners of a polygon around an oval of a length and
// a width in mm, its length at an angle in degrees from +x. The polygon's edges
// touch the oval from outside, so that no part of the hollow is left out.
func OvalOutline(centre geometry.Vec2, length, width, degrees float64) []geometry.Vec2 {
	// A regular n-gon around a circle of radius r reaches out to r / cos(pi/n),
	// r (pi/n)^2 / 2 further to second order.
	r := max(length, width) / 2
	n := int(math.Ceil(math.Pi * math.Sqrt(r/(2*pocketSlack))))
	n = min(max(n, 12), 180)
	out := make([]geometry.Vec2, n)
	grow := 1 / math.Cos(math.Pi/float64(n))
	sin, cos := math.Sincos(degrees * math.Pi / 180)
	for i := range out {
		t := 2 * math.Pi * (float64(i) + 0.5) / float64(n)
		u, v := length/2*grow*math.Cos(t), width/2*grow*math.Sin(t)
		out[i] = tidy2(geometry.Vec2{X: centre.X + cos*u - sin*v, Y: centre.Y + sin*u + cos*v})
	}
	return out
}
