package odds

import (
	"context"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"cabwright/geometry"
	"cabwright/planner"
	"cabwright/planner/search"
)

// underPocket is a cabochon with its dome down and its flat at z, below a pocket inside the
// slab whose bottom is at 8 for sure and whose top is not.
func underPocket(t *testing.T, z float64) (*Judge, search.Fit) {
	t.Helper()
	s := slab(10)
	p := basePocket("P1", 0)
	p.Face, p.Depth, p.DepthRange = planner.Inside, 0, nil
	p.Low, p.High, p.TopRange = 8, 9, &planner.Range{Least: 8.5, Most: 9.4}
	s.Pockets = []planner.Pocket{p}
	j, err := NewJudge(s)
	require.NoError(t, err)
	f := cabochon(t, z)
	f.Face, f.Pose.Axes = planner.Base, geometry.RotX(math.Pi)
	return j, f
}

// The flat keeps 8 - z from the pocket whatever its top is: 0.5 or more, it never spoils
// the place; less, it always does. Within a hair of that it is on the edge. A depth whose
// limit is on the grid exactly is not: it is off by a step at most.
func TestPlacesOnAnEdge(t *testing.T) {
	for _, c := range []struct {
		z, odds float64
		edge    bool
	}{{7.45, 1, false}, {7.49, 1, false}, {7.5003, 1, true}, {7.51, 0, false}, {7.6, 0, false}} {
		j, f := underPocket(t, c.z)
		p, ok := j.Place(f)
		require.True(t, ok)
		require.Equal(t, c.odds, p.Odds, "flat at %v", c.z)
		require.Equal(t, c.edge, j.onEdge(p), "flat at %v", c.z)
	}
	s := slab(10)
	s.Pockets = []planner.Pocket{basePocket("P1", 0)}
	half := 0.5
	s.Pockets[0].Depth, s.Pockets[0].DepthRange, s.Pockets[0].Chance = 2.5, nil, &half
	for z, edge := range map[float64]bool{2.99: false, 2.9997: true, 3.0003: true, 3.01: false} {
		j, err := NewJudge(s)
		require.NoError(t, err)
		p, ok := j.Place(cabochon(t, z))
		require.True(t, ok)
		require.Equal(t, edge, j.onEdge(p), "flat at %v over a pocket that may be there", z)
	}
	s.Pockets = []planner.Pocket{basePocket("P1", 0)}
	j, err := NewJudge(s)
	require.NoError(t, err)
	p, ok := j.Place(cabochon(t, 3))
	require.True(t, ok)
	require.False(t, j.onEdge(p))
}

// A place that is sought stands off the edge: what is said of it is true by arithmetic.
func TestBestPlaceStandsOffAnEdge(t *testing.T) {
	j, f := underPocket(t, 7.5003)
	p, ok := j.Best(context.Background(), f, []search.Pose{f.Pose}, 0)
	require.True(t, ok)
	require.Equal(t, 1.0, p.Odds)
	require.Less(t, p.Pose.Origin.Z, 7.5)
}
