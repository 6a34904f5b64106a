package outline_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"cabwright/geometry"
	"cabwright/geometry/geomtest"
	"cabwright/geometry/outline"
)

func stickOut(outer, inner outline.Outline) float64 { return outer.Profile().StickOut(inner.Profile()) }

func TestStickOutExact(t *testing.T) {
	root3 := math.Sqrt(3)
	triangle, err := outline.Freeform(ring(2*root3, 0, -root3, 3, -root3, -3)) // incircle of radius sqrt 3
	require.NoError(t, err)
	bay, err := outline.Freeform(ring(5, 0, 1, 1, 0, 5, -5, 0, 0, -5))
	require.NoError(t, err)
	for name, c := range map[string]struct {
		outer, inner outline.Outline
		want         float64
	}{
		"circle in itself":     {newOutline(t, "round", 8, 8), newOutline(t, "round", 8, 8), 0},
		"circle in a larger":   {newOutline(t, "round", 9, 9), newOutline(t, "round", 8, 8), -0.5},
		"circle in a smaller":  {newOutline(t, "round", 7, 7), newOutline(t, "round", 8, 8), 0.5},
		"oval in a longer one": {newOutline(t, "oval", 14, 10), newOutline(t, "oval", 12, 10), 0},
		"square in its circle": {newOutline(t, "round", 10*math.Sqrt2, 10*math.Sqrt2),
			newOutline(t, "square", 10, 10), 0},
		"circle in a square":          {newOutline(t, "square", 10, 10), newOutline(t, "round", 9, 9), -0.5},
		"square's corner from circle": {newOutline(t, "round", 10, 10), newOutline(t, "square", 10, 10), 5*math.Sqrt2 - 5},
		"incircle of a triangle":      {triangle, newOutline(t, "round", 2*root3, 2*root3), 0},
		"circle in a Reuleaux one": {newOutline(t, "triangle", root3, root3), newOutline(t, "round", 1.4, 1.4),
			0.7 - (root3 - 1)},
		"tip of a marquise":            {newOutline(t, "round", 12, 12), newOutline(t, "marquise", 14, 7), 1},
		"pear's tip":                   {newOutline(t, "pear", 12, 8), newOutline(t, "pear", 13, 8), 1},
		"heart in itself":              {newOutline(t, "heart", 10, 10), newOutline(t, "heart", 10, 10), 0},
		"freeform with a bay, covered": {newOutline(t, "round", 10, 10), bay, 0},
		"freeform with a bay, outside": {bay, newOutline(t, "round", 1, 1), math.Inf(1)},
	} {
		got := stickOut(c.outer, c.inner)
		if math.IsInf(c.want, 1) {
			assert.Equal(t, c.want, got, name)
			continue
		}
		assert.GreaterOrEqual(t, got, c.want, name)
		assert.LessOrEqual(t, got, c.want+1e-3, name)
	}
}

// The sides of a turned square face no sampled direction, so the bound has to
// come from between the samples. The circle's chord adds 1 (2 pi/1024)^2/8.
func TestStickOutBetweenSamples(t *testing.T) {
	for _, turn := range []float64{0.1, 0.3, 0.777, 1.5} {
		s, c := math.Sincos(turn)
		square, err := outline.Freeform(ring(
			10*(c-s), 10*(s+c), -10*(c+s), 10*(c-s), -10*(c-s), -10*(s+c), 10*(c+s), -10*(c-s)))
		require.NoError(t, err)
		got := stickOut(square, newOutline(t, "round", 2, 2))
		assert.GreaterOrEqual(t, got, -9.0)
		assert.LessOrEqual(t, got, -9+1e-5)
	}
}

// Steiner: the largest ellipse in a triangle takes pi/(3 sqrt 3) of its area.
// For a triangle with an axis of symmetry along u it is an upright oval.
func TestSteinerInellipse(t *testing.T) {
	for _, stretch := range []float64{0.5, 1, 1.7} {
		corners := ring(6*stretch, 0, -3*stretch, 3*math.Sqrt(3), -3*stretch, -3*math.Sqrt(3))
		triangle, err := outline.Freeform(corners)
		require.NoError(t, err)
		oval := newOutline(t, "oval", 6*stretch, 6)
		assert.InDelta(t, 0, stickOut(triangle, oval), 1e-3)
		assert.InEpsilon(t, math.Pi/(3*math.Sqrt(3)), oval.Area()/triangle.Area(), 1e-12)
	}
}

// straight bounds what the straight sides of a freeform add to StickOut: l d/4
// for the length l of all sides that face one stretch of so many steps. As a
// function of the direction t, the reach h of a convex polygon has h” + h = sum
// of l_i delta(t - n_i), the sides' lengths at their normals. A chord over a step
// of d is too high by at most sum l_i (n_i - k)(k + d - n_i)/d <= l d/4 (inner).
// Of the two chords carried on from the steps before and behind (outer), sides
// of l1 towards one and l2 towards the other keep the crossing away by at most
// l1 l2 d/(l1 + l2) <= l d/4.
func straight(o outline.Outline, steps int) float64 {
	const d = 2 * math.Pi / 1024
	most := 0.0
	for i := range o.Polygon {
		facing, n := 0.0, side(o.Polygon, i)
		for j := range o.Polygon {
			m := side(o.Polygon, j)
			if turn := math.Atan2(n.Cross(m), n.Dot(m)); turn >= 0 && turn <= float64(steps)*d {
				facing += m.Norm()
			}
		}
		most = math.Max(most, facing*d/4)
	}
	return most
}

func side(ring []geometry.Vec2, i int) geometry.Vec2 { return ring[(i+1)%len(ring)].Sub(ring[i]) }

// Two long sides that are nearly in line face directions less than two steps
// apart, so that the bound between the samples is loose, but never too low. The
// circle's points lie furthest from the side through (2.55, -9.67), at 2 less
// its distance from the origin.
func TestStickOutBesideSidesNearlyInLine(t *testing.T) {
	ring := ring(-2.0225424859373686, -1.4694631307311832, 2.5486565960451464, -9.66976471044852,
		1.7163742407056533, 0.34140806352822484, -0.12271769298308341, 19.99962350565202)
	outer, err := outline.Freeform(ring)
	require.NoError(t, err)
	d := ring[2].Sub(ring[1])
	want := 2 - d.Cross(ring[1].Scale(-1))/d.Norm()
	got := stickOut(outer, newOutline(t, "round", 4, 4))
	require.InDelta(t, 0.2612, want, 1e-4)
	require.GreaterOrEqual(t, got, want)
	require.LessOrEqual(t, got, want+straight(outer, 3)+1e-5)
}

// No sampled point may stick out further than the bound, and for convex
// outlines the bound is near what dense sampling finds.
func TestStickOutAgainstSampling(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		outer := geomtest.Outline().Draw(t, "outer")
		inner := geomtest.Outline().Draw(t, "inner")
		const n = 400
		sampled := geomtest.StickOutBySampling(outer, inner, n)
		bound := stickOut(outer, inner)
		// Sampling measures from the polygon through n points, which lies
		// within R (2 pi/n)^2/2 of a curve that bends with the radius R.
		const polygon = 40 * (2 * math.Pi / n) * (2 * math.Pi / n) / 2
		require.GreaterOrEqual(t, bound, sampled-polygon)
		if bound > 0 && outer.Convex() && inner.Convex() {
			require.LessOrEqual(t, bound, math.Max(sampled, 0)+3*polygon+straight(outer, 3)+straight(inner, 1))
		}
	})
}

func BenchmarkStickOut(b *testing.B) {
	outer, inner := newOutline(b, "oval", 14, 10).Profile(), newOutline(b, "pear", 12, 10).Profile()
	for b.Loop() {
		outer.StickOut(inner)
	}
}
