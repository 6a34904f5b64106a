package odds

import (
	"math"

	"cabwright/geometry"
	"cabwright/geometry/solid"
	"cabwright/planner/search"
)

// outlineSteps is how many directions an outline is followed in. The chords of a
// stone 40 mm long then lie within 0.003 mm of it, inside.
const outlineSteps = 360

// inPlan returns the outline of a placed solid as seen from above, counter-clockwise, or
// of an outline that is not convex a large convex part of it: what lies in that lies in
// the outline.
func inPlan(c solid.Cabochon, pose search.Pose) []geometry.Vec2 {
	radii := radiiOf(c)
	if !c.Outline.Convex() {
		radii = geometry.ConvexPart(radii)
	}
	return placed(radii, pose)
}

// hullInPlan returns the least convex outline that holds a placed solid's as seen from
// above, counter-clockwise: where that lies, the solid's lies.
func hullInPlan(c solid.Cabochon, pose search.Pose) []geometry.Vec2 { return placed(radiiOf(c), pose) }

// radiiOf are how far an outline reaches in each direction, mm.
func radiiOf(c solid.Cabochon) []float64 {
	radii := make([]float64, outlineSteps)
	for i := range radii {
		radii[i] = c.Outline.Radius(2 * math.Pi * float64(i) / outlineSteps)
	}
	return radii
}

// placed returns the convex hull of an outline, given by its radii, at a pose.
func placed(radii []float64, pose search.Pose) []geometry.Vec2 {
	points := make([]geometry.Vec2, 0, outlineSteps)
	for i, r := range radii {
		s, co := math.Sincos(2 * math.Pi * float64(i) / outlineSteps)
		points = append(points, pose.Place(geometry.Vec3{X: r * co, Y: r * s}).XY())
	}
	return geometry.ConvexHull(points)
}

// grown returns a convex polygon, counter-clockwise, moved outwards so far that what
// keeps the given distance from the new one's edges is exactly the old one: each edge
// is moved by it, and at a sharp corner one is put across, as far from the corner.
func grown(poly []geometry.Vec2, by float64) []geometry.Vec2 {
	type line struct {
		normal geometry.Vec2
		offset float64
	}
	var lines []line
	n := len(poly)
	normal := func(i int) geometry.Vec2 {
		d := poly[(i+1)%n].Sub(poly[i%n])
		return geometry.Vec2{X: d.Y, Y: -d.X}.Scale(1 / d.Norm())
	}
	for i, p := range poly {
		before, after := normal(i+n-1), normal(i)
		// More than a mitre of 60 degrees would reach far out of the rough.
		turn := math.Atan2(before.Cross(after), before.Dot(after))
		for k, cuts := 1.0, math.Ceil(turn/(math.Pi/3)); k < cuts; k++ {
			s, c := math.Sincos(turn * k / cuts)
			m := geometry.Vec2{X: c*before.X - s*before.Y, Y: s*before.X + c*before.Y}
			lines = append(lines, line{m, m.Dot(p) + by})
		}
		lines = append(lines, line{after, after.Dot(p) + by})
	}
	out := make([]geometry.Vec2, 0, len(lines))
	for i, a := range lines {
		b := lines[(i+1)%len(lines)]
		cross := a.normal.Cross(b.normal)
		if cross < 1e-9 {
			continue // as good as parallel: one edge
		}
		out = append(out, geometry.Vec2{
			X: (a.offset*b.normal.Y - b.offset*a.normal.Y) / cross,
			Y: (b.offset*a.normal.X - a.offset*b.normal.X) / cross,
		})
	}
	return out
}

// insideOf reports whether a convex polygon holds another.
func insideOf(poly, other []geometry.Vec2) bool {
	for i, p := range poly {
		d := poly[(i+1)%len(poly)].Sub(p)
		for _, q := range other {
			if d.Cross(q.Sub(p)) < 0 {
				return false
			}
		}
	}
	return true
}
