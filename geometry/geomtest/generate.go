package geomtest

import (
	"math"

	"pgregory.net/rapid"

	"cabwright/geometry"
	"cabwright/geometry/outline"
	"cabwright/geometry/solid"
)

// directions draws 3 to 24 rising angles around the full circle, no two of
// them half a turn apart or more.
func directions(t *rapid.T) []float64 {
	n := rapid.IntRange(3, 24).Draw(t, "corners")
	angles := make([]float64, n)
	for i := range angles {
		// With 3 corners, steps of (1 +- 0.4)/3 of a turn stay below a half.
		jitter := rapid.Float64Range(0, 0.4).Draw(t, "jitter")
		angles[i] = -math.Pi + 2*math.Pi*(float64(i)+jitter)/float64(n)
	}
	return angles
}

// ConvexPolygon draws a convex polygon around the origin, counter-clockwise:
// corners on an ellipse with half axes of 1 to 20 mm.
func ConvexPolygon() *rapid.Generator[[]geometry.Vec2] {
	return rapid.Custom(func(t *rapid.T) []geometry.Vec2 {
		a := rapid.Float64Range(1, 20).Draw(t, "a")
		b := rapid.Float64Range(1, 20).Draw(t, "b")
		var ring []geometry.Vec2
		for _, angle := range directions(t) {
			s, c := math.Sincos(angle)
			ring = append(ring, geometry.Vec2{X: a * c, Y: b * s})
		}
		return ring
	})
}

// StarPolygon draws a polygon that is star-shaped about the origin,
// counter-clockwise, with corners 1 to 20 mm away.
func StarPolygon() *rapid.Generator[[]geometry.Vec2] {
	return rapid.Custom(func(t *rapid.T) []geometry.Vec2 {
		var ring []geometry.Vec2
		for _, angle := range directions(t) {
			s, c := math.Sincos(angle)
			r := rapid.Float64Range(1, 20).Draw(t, "distance")
			ring = append(ring, geometry.Vec2{X: r * c, Y: r * s})
		}
		return ring
	})
}

// Outline draws one of the named outlines, 3 to 40 mm long, or a freeform.
func Outline() *rapid.Generator[outline.Outline] {
	return rapid.Custom(func(t *rapid.T) outline.Outline {
		shape := rapid.SampledFrom(append(outline.Shapes(), "freeform")).Draw(t, "shape")
		if shape == "freeform" {
			ring := rapid.OneOf(ConvexPolygon(), StarPolygon()).Draw(t, "polygon")
			return must(outline.Freeform(ring))
		}
		length := rapid.Float64Range(3, 40).Draw(t, "length")
		width := length
		if shape != "round" && shape != "square" {
			width *= rapid.Float64Range(0.4, 1).Draw(t, "width/length")
		}
		return must(outline.New(shape, length, width))
	})
}

// Cabochon draws a finished stone: any outline, a wall of 0 to 2 mm that leans
// in up to 15 degrees, any dome and back.
func Cabochon() *rapid.Generator[solid.Cabochon] {
	return rapid.Custom(func(t *rapid.T) solid.Cabochon {
		o := Outline().Draw(t, "outline")
		return solid.Cabochon{
			Outline:     o,
			Wall:        rapid.Float64Range(0, 2).Draw(t, "wall"),
			WallLeanDeg: rapid.Float64Range(0, 15).Draw(t, "lean"),
			Dome:        o.Width * rapid.Float64Range(0.1, 0.5).Draw(t, "dome/width"),
			Back:        o.Width * rapid.Float64Range(0, 0.5).Draw(t, "back/width"),
			Sides:       rapid.IntRange(1, 2).Draw(t, "sides"),
		}
	})
}

func must(o outline.Outline, err error) outline.Outline {
	if err != nil {
		panic(err) // the generators only ask for what there is
	}
	return o
}
