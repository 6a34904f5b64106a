package outline

import (
	"math"

	"cabwright/geometry"
)

// Points returns points of the curve, counter-clockwise by rising direction:
// one at every corner, and between two corners as many evenly spaced in
// direction as keep each step at 2 pi / n radians or less. So there are at
// least n points, and at most n plus the number of corners.
func (o Outline) Points(n int) []geometry.Vec2 {
	if n < 1 {
		n = 1
	}
	step := 2 * math.Pi / float64(n)
	turns := o.Corners()
	if len(turns) == 0 {
		turns = []float64{0}
	}
	var points []geometry.Vec2
	for i, from := range turns {
		to := turns[0] + 2*math.Pi
		if i+1 < len(turns) {
			to = turns[i+1]
		}
		// The hair off keeps a whole number of steps from rounding up to
		// one more.
		parts := int(math.Max(1, math.Ceil((to-from)/step-1e-9)))
		for k := 0; k < parts; k++ {
			points = append(points, o.at(from+(to-from)*float64(k)/float64(parts)))
		}
	}
	return points
}

// at returns the point of the curve in the direction theta.
func (o Outline) at(theta float64) geometry.Vec2 {
	s, c := math.Sincos(theta)
	r := 1 / o.curve.gauge(c, s)
	return geometry.Vec2{X: r * c, Y: r * s}
}
