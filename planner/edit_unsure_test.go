package planner

import (
	"testing"

	"github.com/stretchr/testify/require"

	"cabwright/geometry"
)

func TestAMarkIsMadeUnsureAndSureAgain(t *testing.T) {
	path := []geometry.Vec2{{X: 0}, {X: 3}}
	tri := []geometry.Vec2{{X: 0}, {X: 3}, {X: 3, Y: 3}}
	s := Stone{
		Top: []geometry.Vec3{{Z: 8}, {X: 1, Z: 9}, {Y: 1, Z: 7}}, Base: []geometry.Vec3{{Z: 1}},
		Cracks: []Crack{{ID: "C1", Path: path, Face: Top, Depth: 3}, {ID: "C2", Path: path, Face: Top, Through: true}},
		Pockets: []Pocket{
			{ID: "P1", Outline: tri, Face: Base, Depth: 2}, {ID: "P2", Outline: tri, Face: Inside, Low: 2, High: 6}, {ID: "P3",
				Outline: tri, Face: Through},
		},
	}
	before := s
	_, err := MakeUnsure(s, "P9")
	require.Error(t, err)
	_, err = MakeUnsure(s, "P3")
	require.ErrorContains(t, err, "right through")
	for _, id := range []string{"C1", "C2", "P1", "P2"} {
		s, err = MakeUnsure(s, id)
		require.NoError(t, err, id)
	}
	require.Equal(t, &Range{Least: 1.5, Most: 6}, s.Cracks[0].DepthRange)
	require.Equal(t, &Range{Least: 4, Open: true}, s.Cracks[1].DepthRange, "half of the 8 mm between the readings")
	require.Equal(t, &Range{Least: 1, Most: 4}, s.Pockets[0].DepthRange)
	// 4 mm high about a middle of 4: from 2 to 8 mm high.
	require.Equal(t, &Range{Least: 5, Most: 8}, s.Pockets[1].TopRange)
	require.Equal(t, &Range{Least: 0, Most: 3}, s.Pockets[1].BottomRange)
	require.Nil(t, before.Cracks[0].DepthRange, "the stone it was made of is as it was")
	for _, id := range []string{"C1", "C2", "P1", "P2"} {
		s, err = MakeSure(s, id)
		require.NoError(t, err, id)
	}
	require.True(t, s.Equal(before))
	_, err = MakeSure(s, "P9")
	require.Error(t, err)
}

// Whoever looked to a depth and saw the mark go on knows that it is no less deep, and
// that it is there.
func TestLookedToMakesTheLeast(t *testing.T) {
	path, tri := []geometry.Vec2{{X: 0}, {X: 3}}, []geometry.Vec2{{X: 0}, {X: 3}, {X: 3, Y: 3}}
	half := 0.5
	s := Stone{
		Cracks: []Crack{
			{ID: "C1", Path: path, Face: Top, Through: true, DepthRange: &Range{Least: 4, Open: true}},
			{ID: "C2", Path: path, Face: Top, Depth: 2},
		},
		Pockets: []Pocket{
			{ID: "P1", Outline: tri, Face: Base, Depth: 2, DepthRange: &Range{Least: 1, Most: 4}, Chance: &half},
			{ID: "P2", Outline: tri, Face: Inside, Low: 2, High: 6},
		},
	}
	for _, c := range []struct {
		id  string
		mm  float64
		why string
	}{
		{"P9", 2, "no mark P9"}, {"C2", 3, "taken as known"}, {"P2", 3, "from no face"}, {"P1", 1,
			"1 mm deep at the least"}, {"C1", 3, "4 mm deep"},
	} {
		same, err := LookedTo(s, c.id, c.mm)
		require.ErrorContains(t, err, c.why)
		require.True(t, same.Equal(s))
	}
	for mm, want := range map[float64]Pocket{
		1.5: {Depth: 2, DepthRange: &Range{Least: 1.5, Most: 4}},
		3:   {Depth: 3, DepthRange: &Range{Least: 3, Most: 4}},
		4:   {Depth: 4}, 5: {Depth: 5},
	} {
		now, err := LookedTo(s, "P1", mm)
		require.NoError(t, err)
		p := now.Pockets[0]
		require.Equal(t, want, Pocket{Depth: p.Depth, DepthRange: p.DepthRange, Chance: p.Chance}, "looked to %g", mm)
	}
	now, err := LookedTo(s, "C1", 5)
	require.NoError(t, err)
	require.Equal(t, &Range{Least: 5, Open: true}, now.Cracks[0].DepthRange)
	require.True(t, now.Cracks[0].Through)
	require.Equal(t, 4.0, s.Cracks[0].DepthRange.Least, "the stone it was made of is as it was")
}
