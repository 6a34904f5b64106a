package odds

import (
	"context"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"cabwright/geometry"
	"cabwright/geometry/outline"
	"cabwright/geometry/solid"
	"cabwright/planner"
	"cabwright/planner/search"
)

// overPocket is a place 14 by 10 mm with a dome of 4 over a pocket of 1 to 4 mm, in a slab
// of 10: with the pocket at its most there are 5 mm for a stone, from 4.5 to 9.5.
func overPocket(t *testing.T) (*Judge, Place) {
	t.Helper()
	s := slab(10)
	s.Pockets = []planner.Pocket{basePocket("P1", 0)}
	j, err := NewJudge(s)
	require.NoError(t, err)
	f := cabochon(t, 4.2)
	f.Solid.Dome = 4
	f.Volume = f.Solid.Volume()
	f.Carat = planner.Carat(f.Volume, 2.6)
	p, ok := j.Place(f)
	require.True(t, ok)
	require.Less(t, p.Odds, 1.0)
	return j, p
}

// oval is a candidate, top up.
func oval(t *testing.T, length, width, dome, back float64) search.Candidate {
	t.Helper()
	o, err := outline.New("oval", length, width)
	require.NoError(t, err)
	c := solid.Cabochon{Outline: o, Wall: 1.2, WallLeanDeg: 10, Dome: dome, Sides: 1}
	if back > 0 {
		c.Sides, c.Back = 2, back
	}
	return search.Candidate{Solid: c, Face: planner.Top}
}

// What is left may have the place's own outline, higher or lower in the stone; else it is
// the heaviest that lies in it, however long the list is of what does not.
func TestWhatIsLeft(t *testing.T) {
	j, p := overPocket(t)
	ctx := context.Background()
	high := oval(t, 14, 10, 3.9, 0)
	low := oval(t, 14, 10, 3, 0)
	got := j.IfNot(ctx, p, nil, []search.Candidate{high, low}, nil, 0)
	require.NotNil(t, got)
	require.Equal(t, low.Solid, got.Solid)
	require.InDelta(t, 4.9, got.Pose.Origin.Z, 0.4, "from 4.5 to 9.5 less its height of 4.2")
	require.True(t, j.levelSite(1).Keeps(got.Solid, got.Pose))
	require.Nil(t, j.IfNot(ctx, p, nil, []search.Candidate{high}, nil, 0))

	var list []search.Candidate
	for range 3 * mostClimbs {
		list = append(list, oval(t, 13, 9, 3.85, 0)) // too high by a twentieth of a millimetre
	}
	require.Nil(t, j.IfNot(ctx, p, nil, nil, list, 0))
	small := oval(t, 8, 6, 2, 0)
	got = j.IfNot(ctx, p, nil, nil, append(list, small), 0)
	require.NotNil(t, got)
	require.Equal(t, small.Solid, got.Solid)
}

// A stone turned over about its length keeps an oval's outline, but not one that is not the
// same on both sides of it.
func TestWhatIsLeftTurnedOver(t *testing.T) {
	j, p := overPocket(t)
	low := oval(t, 14, 10, 3, 0)
	low.Face = planner.Base
	require.NotNil(t, j.IfNot(context.Background(), p, nil, []search.Candidate{low}, nil, 0))
	lopsided, err := outline.Freeform([]geometry.Vec2{{X: 7}, {X: 3, Y: 4}, {X: -6, Y: 3}, {X: -5, Y: -2}, {X: 2, Y: -3}})
	require.NoError(t, err)
	require.False(t, evenAbout(lopsided))
	p.Solid.Outline, low.Solid.Outline = lopsided, lopsided
	require.Nil(t, j.IfNot(context.Background(), p, nil, []search.Candidate{low}, nil, 0))
}

// Of fits with every mark at its most only those count that lie in the place's outline
// whole, both lobes of a heart too: of this one a lobe reaches out by a sixth of a
// millimetre, and all but that lobe lies inside.
func TestWhatIsLeftLiesInTheOutline(t *testing.T) {
	j, p := overPocket(t)
	heart, err := outline.New("heart", 11, 11)
	require.NoError(t, err)
	p.Solid.Outline, err = outline.New("oval", 16, 12)
	require.NoError(t, err)
	p.Pose.Axes = geometry.RotZ(math.Atan2(0.9459, -0.3245))
	f := search.Fit{Candidate: oval(t, 8, 6, 2, 0), Pose: p.Pose}
	f.Carat = 1
	require.NotNil(t, j.IfNot(context.Background(), p, []search.Fit{f}, nil, nil, 0))
	f.Solid.Outline = heart
	f.Pose.Origin = geometry.Vec3{X: 2.344, Y: -2.382, Z: 5}
	f.Pose.Axes = geometry.RotZ(math.Atan2(0.3636, -0.9315))
	require.True(t, insideOf(inPlan(p.Solid, p.Pose), inPlan(f.Solid, f.Pose)))
	require.Nil(t, j.IfNot(context.Background(), p, []search.Fit{f}, nil, nil, 0))
}
