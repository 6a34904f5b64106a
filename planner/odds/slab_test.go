package odds

import (
	"testing"

	"github.com/stretchr/testify/require"

	"cabwright/geometry"
	"cabwright/geometry/outline"
	"cabwright/geometry/solid"
	"cabwright/planner"
	"cabwright/planner/search"
)

// slab is a level slab from 0 to the given thickness, 40 mm square, with an
// allowance of 0.5 mm for the skin and for pockets.
func slab(thickness float64) planner.Stone {
	return planner.Stone{
		Name: "slab", Material: "agate", SG: 2.6,
		Outline:    []geometry.Vec2{{X: -20, Y: -20}, {X: 20, Y: -20}, {X: 20, Y: 20}, {X: -20, Y: 20}},
		Top:        []geometry.Vec3{{Z: thickness}},
		Base:       []geometry.Vec3{{Z: 0}},
		Allowances: planner.Allowances{Skin: 0.5, Crack: 1, SealedCrack: 0.6, Pocket: 0.5},
	}
}

// basePocket is a pocket 6 mm square in the middle of the base, 1 to 4 mm deep, likely 2.
func basePocket(id string, x float64) planner.Pocket {
	return planner.Pocket{
		ID: id, Face: planner.Base, Depth: 2, DepthRange: &planner.Range{Least: 1, Most: 4},
		Outline: []geometry.Vec2{{X: x - 3, Y: -3}, {X: x + 3, Y: -3}, {X: x + 3, Y: 3}, {X: x - 3, Y: 3}},
	}
}

// cabochon is single-sided, 14x10 mm and 4.2 mm high, dome up and level, with its
// flat at z.
func cabochon(t *testing.T, z float64) search.Fit {
	t.Helper()
	o, err := outline.New("oval", 14, 10)
	require.NoError(t, err)
	c := solid.Cabochon{Outline: o, Wall: 1.2, WallLeanDeg: 10, Dome: 3, Sides: 1}
	return search.Fit{
		Candidate: search.Candidate{Solid: c, Face: planner.Top, DomeStyle: "medium", BackStyle: "flat"},
		Pose:      search.Pose{Origin: geometry.Vec3{Z: z}, Axes: geometry.Identity3()},
		Volume:    c.Volume(), Carat: planner.Carat(c.Volume(), 2.6),
	}
}

// On a slab from 0 to 10 the flat at 3.0 keeps 0.5 from a pocket in the base up to
// a depth of 2.5, which 5 in 8 of (1, 2, 4) are no deeper than; two such marks both
// hold with (5/8)^2, or 5/8 when they are deep together.
func TestLimitsOnASlab(t *testing.T) {
	s := slab(10)
	s.Pockets = []planner.Pocket{basePocket("P1", 0)}
	j, err := NewJudge(s)
	require.NoError(t, err)
	p, ok := j.Place(cabochon(t, 3))
	require.True(t, ok)
	require.Len(t, p.Limits, 1)
	require.InDelta(t, 2.5, p.Limits[0].UpTo, 1e-9)
	require.InDelta(t, 0.625, p.Odds, 1e-9)

	s.Pockets = []planner.Pocket{basePocket("P1", -3.1), basePocket("P2", 3.1)}
	j, err = NewJudge(s)
	require.NoError(t, err)
	p, ok = j.Place(cabochon(t, 3))
	require.True(t, ok)
	require.InDelta(t, 0.390625, p.Odds, 1e-9)
	require.InDelta(t, 0.625, p.Linked, 1e-9)

	_, ok = j.Place(cabochon(t, 0.4))
	require.False(t, ok, "it breaks the skin")
}

// The same with each kind of mark, by hand on the slab: from what depth or height
// on the cabochon with its flat at 3.0, top at 7.2, is too near.
func TestLimitsOfEachKind(t *testing.T) {
	pocket := basePocket("P1", 0)
	pocket.DepthRange = nil
	inside := pocket
	inside.Face, inside.Low, inside.High = planner.Inside, 1, 2
	inside.TopRange = &planner.Range{Least: 1.5, Most: 4}
	above := inside
	above.Low, above.High, above.TopRange = 8, 9, nil
	above.BottomRange = &planner.Range{Least: 6, Most: 8.5}
	// A crack straight up from the base along the long axis, its end 1 mm below the flat.
	crack := planner.Crack{
		ID: "C1", Face: planner.Base, Path: []geometry.Vec2{{X: -2}, {X: 2}}, Depth: 1,
		DepthRange: &planner.Range{Least: 0.5, Most: 3},
	}
	// One that comes from the right, right through: x = 7 + 1 is as far as it may run.
	run := planner.Crack{
		ID: "C1", Face: planner.Top, Through: true, Path: []geometry.Vec2{{X: 15}, {X: 12}}, RunOn: 1,
		RunOnRange: &planner.Range{Least: 0, Most: 6},
	}
	half := 0.5
	maybe := basePocket("P1", 0)
	maybe.Depth, maybe.DepthRange, maybe.Chance = 3, nil, &half
	far := maybe
	far.Depth = 1
	open := basePocket("P1", 0)
	open.DepthRange = &planner.Range{Least: 1, Open: true}
	for _, c := range []struct {
		name   string
		cracks []planner.Crack
		pocket []planner.Pocket
		upTo   float64
		always bool
		factor float64
	}{
		{"inside, its top", nil, []planner.Pocket{inside}, 2.5, false, Triangular{1.5, 2, 4}.Below(2.5)},
		{"inside, its bottom", nil, []planner.Pocket{above}, 7.7, false, 1 - Triangular{6, 8, 8.5}.Below(7.7)},
		{"crack from the base", []planner.Crack{crack}, nil, 2, false, Triangular{0.5, 1, 3}.Below(2)},
		{"run-on of a crack", []planner.Crack{run}, nil, 4, false, Triangular{0, 1, 6}.Below(4)},
		{"perhaps there, in the way", nil, []planner.Pocket{maybe}, 0, false, 0.5},
		{"perhaps there, out of the way", nil, []planner.Pocket{far}, 0, true, 1},
		{"as deep as the slab is thick", nil, []planner.Pocket{open}, 2.5, false, Triangular{1, 2, 10}.Below(2.5)},
	} {
		s := slab(10)
		s.Cracks, s.Pockets = c.cracks, c.pocket
		j, err := NewJudge(s)
		require.NoError(t, err)
		p, ok := j.Place(cabochon(t, 3))
		require.True(t, ok, c.name)
		require.Len(t, p.Limits, 1, c.name)
		require.Equal(t, c.always, p.Limits[0].Always, c.name)
		if j.unsure[0].What != There {
			require.InDelta(t, c.upTo, p.Limits[0].UpTo, 1e-9, c.name)
		}
		require.InDelta(t, c.factor, p.Odds, 1e-9, c.name)
	}
}
