package odds

import (
	"context"
	"testing"

	"github.com/stretchr/testify/require"

	"cabwright/geometry"
	"cabwright/planner"
	"cabwright/planner/search"
)

// On a slab with one bright square larger than the stone the place with most colour has
// it all, and keeps the spare asked for; with more than there is room for there is none.
func TestMostColour(t *testing.T) {
	s := slab(6)
	s.Colour = []planner.Zone{{
		ID: "Z1", Face: planner.Top, Grade: 5,
		Outline: []geometry.Vec2{{X: 2, Y: -9}, {X: 18, Y: -9}, {X: 18, Y: 9}, {X: 2, Y: 9}},
	}}
	f := cabochon(t, 0.8)
	before := f.Pose
	for _, spare := range []float64{0, 0.2} {
		got, ok, err := MostColour(context.Background(), s, f, spare, 0)
		require.NoError(t, err)
		require.True(t, ok)
		require.InDelta(t, 1, got.Colour, 1e-9)
		require.GreaterOrEqual(t, got.Clearance, spare-1e-3)
		site, err := search.Open(s)
		require.NoError(t, err)
		require.InDelta(t, site.Clearance(got.Solid, got.Pose).Clearance, got.Clearance, 0.01)
	}
	require.Equal(t, before, f.Pose)
	// 4.2 mm of stone in 6: 0.4 beyond the skin on either side.
	_, ok, err := MostColour(context.Background(), s, f, 0.45, 0)
	require.NoError(t, err)
	require.False(t, ok)
	_, _, err = MostColour(context.Background(), planner.Stone{}, f, 0, 0)
	require.Error(t, err)
}

// Two zones of unlike grade: the brighter one is found from over the dull one, which a
// local walk does not leave.
func TestMostColourLeavesADullZone(t *testing.T) {
	s := slab(6)
	square := func(x float64) []geometry.Vec2 {
		return []geometry.Vec2{{X: x, Y: -8}, {X: x + 16, Y: -8}, {X: x + 16, Y: 8}, {X: x, Y: 8}}
	}
	s.Colour = []planner.Zone{
		{ID: "Z1", Face: planner.Top, Grade: 2, Outline: square(-19)},
		{ID: "Z2", Face: planner.Top, Grade: 4, Outline: square(3)},
		{ID: "Z3", Face: planner.Base, Grade: 5, Outline: square(-8)},
	}
	f := cabochon(t, 0.8)
	f.Pose.Origin.X = -11
	got, ok, err := MostColour(context.Background(), s, f, 0, 0)
	require.NoError(t, err)
	require.True(t, ok)
	require.InDelta(t, 0.8, got.Colour, 1e-9, "grade 4 of 5 under all of it")
}
