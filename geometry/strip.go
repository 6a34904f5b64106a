package geometry

import "math"

// stripSteps are the steps in which the best strip is looked for: each leaves two thirds of
// where it can lie.
const stripSteps = 6

// Strip returns the part of a convex polygon in the strip of a width, square to a direction
// given as a unit vector, that holds most of it, and the origin by at least a margin. How
// much a strip holds rises to the best one and falls behind it (Brunn and Minkowski). A
// polygon no wider than that is returned as it is.
func Strip(poly []Vec2, way Vec2, width, margin float64) []Vec2 {
	least, most := Across(poly, way)
	if most-least <= width {
		return poly
	}
	from := func(at float64) []Vec2 {
		return Clip(Clip(poly, way.Scale(at), way), way.Scale(at+width), way.Scale(-1))
	}
	lo, hi := max(least, margin-width), min(most-width, -margin)
	for range stripSteps {
		if hi <= lo {
			break
		}
		a, b := lo+(hi-lo)/3, hi-(hi-lo)/3
		if math.Abs(Area(from(a))) < math.Abs(Area(from(b))) {
			lo = a
		} else {
			hi = b
		}
	}
	return from((lo + hi) / 2)
}

// Across returns how far a polygon reaches along a direction, either way.
func Across(poly []Vec2, way Vec2) (least, most float64) {
	least, most = math.Inf(1), math.Inf(-1)
	for _, p := range poly {
		d := way.Dot(p)
		least, most = min(least, d), max(most, d)
	}
	return least, most
}
