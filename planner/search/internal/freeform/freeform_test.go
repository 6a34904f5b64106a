package freeform

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"cabwright/geometry"
	"cabwright/planner/search/internal/poses"
	"cabwright/planner/search/internal/searchtest"
)

// In a plate too thin for the dome of a stone as wide as it, the largest freeform is as
// long as the plate: it is made narrow, not small. With corners of the least radius it has
// the area of a rectangle less (4 - pi) r^2.
func TestANarrowFreeformKeepsItsLength(t *testing.T) {
	const length, width, thick, skin = 40.0, 14.0, 4.4, 0.5
	plate := []geometry.Vec2{{X: -20, Y: -7}, {X: 20, Y: -7}, {X: 20, Y: 7}, {X: -20, Y: 7}}
	for _, flip := range []bool{false, true} {
		ff := shaperFor(t, searchtest.Slab(plate, 0, thick, skin), flip)
		z := 0.6
		if flip {
			z = thick - z
		}
		spot := ff.Improve(Spot{At: poses.Coord{3, 1, z}, Width: 5}, 0)[0]
		s := ff.Finish(spot)
		require.NotNil(t, s)
		require.True(t, s.Fits)
		widest := (thick - 2*skin - ff.Wall.Height) / ff.Style.HeightByWidth
		require.Less(t, widest, width-2*skin)
		require.InDelta(t, length-2*skin, s.Solid.Outline.Length, 0.1)
		require.LessOrEqual(t, s.Solid.Outline.Width, widest)
		exact := ((length-2*skin)*widest - (4-math.Pi)*ff.Radius*ff.Radius) * ff.fullness(widest)
		require.LessOrEqual(t, s.Solid.Volume(), exact)
		require.Greater(t, s.Solid.Volume(), 0.93*exact)
	}
}

// What is drawn in is drawn in where it is too near, most in that direction and nothing on
// the other side.
func TestDrawnInWhereItIsTooNear(t *testing.T) {
	radii := make([]float64, 72)
	for i := range radii {
		radii[i] = 5
	}
	drawIn(radii, geometry.Vec2{X: -1}, 0.2)
	require.InDelta(t, 4.8, radii[36], 1e-12)
	require.Less(t, radii[37], 5.0)
	require.Greater(t, radii[37], radii[36])
	require.InDelta(t, radii[35], radii[37], 1e-12)
	require.Equal(t, 5.0, radii[0])
	require.Equal(t, 5.0, radii[30], "30 degrees beside")
}

// A finished freeform keeps every allowance on the exact shapes, and has most of what the
// rays saw room for.
func TestFinishedFreeformsKeepTheirAllowances(t *testing.T) {
	r := searchtest.Random(67)
	found, seen := 0.0, 0.0
	for k := range 8 {
		ff := shaperFor(t, searchtest.SmallStone(r), k%2 == 0)
		for _, d := range ff.Field.Deepest(2, 2) {
			spot := ff.Improve(Spot{At: poses.Coord{d.X, d.Y, d.Z}, Width: 5}, 0)[0]
			if s := ff.Finish(spot); s != nil && s.Fits {
				require.GreaterOrEqual(t, s.Lower, 0.0)
				found, seen = found+s.Solid.Volume(), seen+spot.Volume
			}
		}
	}
	require.Positive(t, found)
	require.Greater(t, found, 0.9*seen)
}
