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
			{ID: "P1", Outline: tri, Face: Base, Depth: 2}, {ID: "P2", Outline: tri, Face: Inside, Low: 2, High: 6}, {ID: "P3", Outline: tri, Face: Through},
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
