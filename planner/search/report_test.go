package search

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"cabwright/geometry"
	"cabwright/geometry/geomtest"
	"cabwright/geometry/solid"
	"cabwright/planner"
	"cabwright/planner/search/internal/obstacles"
	"cabwright/planner/search/internal/poses"
	"cabwright/planner/search/internal/searchtest"
	"cabwright/presets"
)

// The share of the upper side over colour, in cases that can be said at sight: a
// level slab 10 mm thick, the girdle of the stone at its middle.
func TestColourShare(t *testing.T) {
	everywhere := vertices(1, -90, -90, 90, -90, 90, 90, -90, 90)
	right := vertices(1, 0, -90, 90, -90, 90, 90, 0, 90)
	zone := func(face planner.Face, poly []geometry.Vec2, grade, depth float64) planner.Zone {
		return planner.Zone{Face: face, Outline: poly, Grade: grade, Depth: depth}
	}
	slab := planner.Stone{Outline: everywhere, Top: []geometry.Vec3{{Z: 10}}, Base: []geometry.Vec3{{}}}
	rough, err := planner.NewRough(slab)
	require.NoError(t, err)
	level := Pose{Origin: geometry.Vec3{Z: 5}, Axes: geometry.Identity3()}
	over := Pose{Origin: geometry.Vec3{Z: 5}, Axes: geometry.RotX(math.Pi)}
	share := func(body solid.Cabochon, face planner.Face, zones ...planner.Zone) float64 {
		pose := level
		if face == planner.Base {
			pose = over
		}
		slab.Colour = zones
		return ColourShare(rough, slab, Candidate{Solid: body, Face: face}, pose)
	}
	for name, c := range map[string]struct {
		face  planner.Face
		zones []planner.Zone
		want  float64
		by    float64
	}{
		"no zone":             {planner.Top, nil, 0, 0},
		"all over, brilliant": {planner.Top, []planner.Zone{zone(planner.Top, everywhere, 5, 0)}, 1, 1e-12},
		"all over, potch":     {planner.Top, []planner.Zone{zone(planner.Top, everywhere, 0, 0)}, 0, 1e-12},
		"all over, grade 3":   {planner.Top, []planner.Zone{zone(planner.Top, everywhere, 3, 0)}, 0.6, 1e-12},
		"on the other face":   {planner.Top, []planner.Zone{zone(planner.Base, everywhere, 5, 0)}, 0, 1e-12},
		"out of the base":     {planner.Base, []planner.Zone{zone(planner.Base, everywhere, 5, 0)}, 1, 1e-12},
		"half":                {planner.Top, []planner.Zone{zone(planner.Top, right, 5, 0)}, 0.5, 0.006},
		"the best grade counts": {
			planner.Top, []planner.Zone{zone(planner.Top, everywhere, 2, 0), zone(planner.Top, right, 4, 0)}, 0.6, 0.01,
		},
		"two zones on one spot, one way": {
			planner.Top, []planner.Zone{zone(planner.Top, everywhere, 4, 0), zone(planner.Top, right, 2, 0)}, 0.8, 1e-12,
		},
		// The stone's upper side lies 0.8 to 5 mm below the face.
		"deep enough":                {planner.Top, []planner.Zone{zone(planner.Top, everywhere, 5, 5)}, 1, 1e-12},
		"deep enough, from the base": {planner.Base, []planner.Zone{zone(planner.Base, everywhere, 5, 5)}, 1, 1e-12},
		"shallower than the skin":    {planner.Top, []planner.Zone{zone(planner.Top, everywhere, 5, 0.7)}, 0, 1e-12},
		"on the skin alone": {
			planner.Top, []planner.Zone{{Face: planner.Top, Outline: everywhere, Grade: 5, OnSkin: true}}, 0, 1e-12,
		},
		"bright above, faint beneath": {
			planner.Top, []planner.Zone{zone(planner.Top, everywhere, 5, 0.7), zone(planner.Top, everywhere, 1, 0)}, 0.2,
			1e-12,
		},
	} {
		for _, shape := range []string{"round", "oval", "rectangle"} {
			body := geomtest.Cab(shape, 12, map[string]float64{"round": 12, "oval": 9, "rectangle": 9}[shape], 3, 0)
			require.InDelta(t, 4.2, body.Height(), 1e-9)
			assert.InDelta(t, c.want, share(body, c.face, c.zones...), c.by, "%s, %s", name, shape)
		}
	}
	// A half ball of radius 5 with its girdle 5 mm below the face: the part above a
	// plane goes with its height (Archimedes).
	ball := geomtest.Cab("round", 10, 10, 5, 0)
	ball.Wall, ball.WallLeanDeg = 0, 0
	for _, depth := range []float64{1, 2.5, 4} {
		assert.InDelta(t, depth/5, share(ball, planner.Top, zone(planner.Top, everywhere, 5, depth)), 0.006)
	}
	// An upright wall of 2 mm under a flat top, 8 mm across: 16 pi of the side's
	// 16 pi + 16 pi are wall.
	drum := geomtest.Cab("round", 8, 8, 0, 0)
	drum.Wall, drum.WallLeanDeg = 2, 0
	assert.InDelta(
		t, 0.5, share(drum, planner.Top, zone(planner.Top, everywhere, 5, 3.01)), 0.01, "the top alone is shallow enough",
	)
}

// Each rank puts its own quantity first, and the order is a sort: nothing lost,
// ties by carats, then clearance, then as they came.
func TestSortFits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		few := rapid.SampledFrom([]float64{0, 0.5, 1, 2}) // ties are common
		fits := make([]Fit, rapid.IntRange(0, 12).Draw(t, "n"))
		for i := range fits {
			fits[i] = Fit{
				Carat: few.Draw(t, "ct"), Clearance: few.Draw(t, "mm"), Colour: few.Draw(t, "colour"), Volume: float64(i),
			}
		}
		for rank, key := range map[Rank]func(Fit) []float64{
			ByCarat:     func(f Fit) []float64 { return []float64{-f.Carat, -f.Clearance, f.Volume} },
			ByClearance: func(f Fit) []float64 { return []float64{-f.Clearance, -f.Carat, f.Volume} },
			ByColour:    func(f Fit) []float64 { return []float64{-f.Colour * f.Carat, -f.Carat, -f.Clearance, f.Volume} },
		} {
			got, want := slices.Clone(fits), slices.Clone(fits)
			SortFits(got, rank)
			slices.SortFunc(want, func(a, b Fit) int { return slices.Compare(key(a), key(b)) })
			require.Equal(t, want, got, string(rank))
		}
	})
}

// reportOf is the report of a run about a stone.
func reportOf(t *testing.T, s planner.Stone, rough *planner.Rough) report {
	rep := newReport(s, rough, presets.Builtin())
	rep.field, rep.names = searchtest.FieldOf(t, s), []string{obstacles.SkinName, "C1", "P1", "P2"}
	rep.tolerance = defaultTolerance
	return rep
}

// The band of a fit takes 0.1 mm off and on at every size and the doubt about
// the specific gravity.
func TestWeights(t *testing.T) {
	s := searchtest.Demo(t, "one-crack")
	s.SG, s.ScaleCt = 2.2, 0
	rough, err := planner.NewRough(s)
	require.NoError(t, err)
	body := geomtest.Cab("oval", 14, 10, 3, 0)
	tr := &trial{
		Candidate: Candidate{Solid: body, Face: planner.Top}, volume: body.Volume(), model: poses.NewModel(body, false),
		at: poses.Coord{0, 0, 5},
	}
	fit := reportOf(t, s, rough).fit(tr)
	assert.InDelta(t, body.Volume()*2.2/200, fit.Carat, 1e-12, "mm3 times SG over 200: 1 ct is 0.2 g")
	shrunk := (1 - 0.1/14) * (1 - 0.1/10) * (1 - 0.1/body.Height())
	assert.InDelta(t, body.Volume()*shrunk*2.18/200, fit.CaratLow, 1e-9)
	grown := (1 + 0.1/14) * (1 + 0.1/10) * (1 + 0.1/body.Height())
	assert.InDelta(t, body.Volume()*grown*2.22/200, fit.CaratHigh, 1e-9)
}
