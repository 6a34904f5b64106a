package certify

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"cabwright/geometry"
	"cabwright/geometry/geomtest"
	"cabwright/geometry/outline"
	"cabwright/geometry/solid"
	"cabwright/planner/search/internal/searchtest"
)

// toSegment is the distance from q to the straight line from a to b.
func toSegment(q, a, b geometry.Vec2) float64 {
	d := b.Sub(a)
	u := max(0, min(1, q.Sub(a).Dot(d)/max(1e-300, d.Dot(d))))
	return q.Sub(a.Add(d.Scale(u))).Norm()
}

// The curve stays within an arc's bow of its chord, and comes near it.
func TestArcBowAgainstTheCurve(t *testing.T) {
	outlines := []outline.Outline{}
	for _, shape := range outline.Shapes() {
		length, width := 14.0, 10.0
		if shape == "round" || shape == "square" {
			width = length
		}
		outlines = append(outlines, geomtest.Cab(shape, length, width, 3, 0).Outline)
	}
	notched, err := outline.Freeform([]geometry.Vec2{
		{X: 8, Y: -1}, {X: 4, Y: 4}, {X: 0.5, Y: 2}, {X: -5, Y: 4}, {X: -6, Y: -4},
	})
	require.NoError(t, err)
	outlines = append(outlines, notched)
	r := searchtest.Random(31)
	loose, arcs := 0, 0
	for _, o := range outlines {
		c := geomtest.Cab("round", 10, 10, 3, 0)
		c.Outline = o
		directions := directionsOf(c)
		for k := 0; k+1 < len(directions); k++ {
			a := newArc(&o, directions[k], directions[k+1])
			for range r.IntN(5) {
				left, right := a.halves()
				if a = left; r.IntN(2) == 0 {
					a = right
				}
			}
			far := 0.0
			for i := range 201 {
				q := onOutline(&o, a.from+(a.to-a.from)*float64(i)/200)
				far = max(far, toSegment(q, a.at[0], a.at[4]))
			}
			require.LessOrEqual(t, far, a.bow, "%s from %g to %g", o.Shape, a.from, a.to)
			arcs++
			if a.bow > 1.6*far+1e-6 {
				loose++
			}
		}
	}
	require.Less(t, loose, arcs/20, "of %d", arcs)
	// Two corners of a polygon may lie a last digit apart.
	for _, o := range outlines {
		for _, from := range directionsOf(solid.Cabochon{Outline: o}) {
			for _, to := range []float64{from, math.Nextafter(from, 4), from + 1e-15, from + 1e-12} {
				require.Less(t, newArc(&o, from, to).bow, 1e-6, "%s from %g to %g", o.Shape, from, to)
			}
		}
	}
}

// A bound that is no number is none.
func TestKnownBounds(t *testing.T) {
	require.Equal(t, math.Inf(-1), known(math.NaN()))
	require.Equal(t, 0.3, known(0.3))
}

// Every point of a patch of skin lies within its sag of the surface spanned by
// the patch's corners.
func TestSagAgainstTheSkin(t *testing.T) {
	r := searchtest.Random(32)
	for _, shape := range outline.Shapes() {
		for _, back := range []float64{0, 1.2} {
			width := 10.0
			if shape == "round" || shape == "square" {
				width = 14
			}
			c := geomtest.Cab(shape, 14, width, 3.5, back)
			directions := directionsOf(c)
			for _, s := range sides(c) {
				for range 12 {
					k := r.IntN(len(directions) - 1)
					a := newArc(&c.Outline, directions[k], directions[k+1])
					b0 := r.Float64()
					b1 := b0 + (1-b0)*r.Float64()
					along, across := s.sag(a, b0, b1)
					corners := [4]geometry.Vec3{s.at(a.at[0], b0), s.at(a.at[4], b0), s.at(a.at[0], b1), s.at(a.at[4], b1)}
					span := func(u, v float64) geometry.Vec3 {
						a := corners[0].Scale(1 - u).Add(corners[1].Scale(u))
						b := corners[2].Scale(1 - u).Add(corners[3].Scale(u))
						return a.Scale(1 - v).Add(b.Scale(v))
					}
					for range 10 {
						q := s.at(onOutline(&c.Outline, searchtest.Between(r, a.from, a.to)), searchtest.Between(r, b0, b1))
						// The nearest point of the spanned surface, by halving steps.
						u, v := 0.5, 0.5
						best := span(u, v).Sub(q).Norm()
						for h := 0.25; h > 1e-6; {
							moved := false
							for _, m := range [4][2]float64{{h, 0}, {-h, 0}, {0, h}, {0, -h}} {
								x, y := max(0, min(1, u+m[0])), max(0, min(1, v+m[1]))
								if d := span(x, y).Sub(q).Norm(); d < best-1e-12 {
									u, v, best, moved = x, y, d, true
								}
							}
							if !moved {
								h /= 2
							}
						}
						require.LessOrEqual(t, best, along+across+1e-4, "%s, side %+v, b %g to %g", shape, s, b0, b1)
					}
				}
			}
		}
	}
	// A dome's sag over a quarter of its height is that of the ellipse, not zero.
	c := geomtest.Cab("round", 10, 10, 5, 0)
	a := newArc(&c.Outline, 0, 1e-6)
	dome := sides(c)[0]
	_, across := dome.sag(a, 0, 0.25)
	require.InDelta(t, 5*c.RimRatio()*(1-math.Cos(math.Pi/16)), across, 0.02)
}
