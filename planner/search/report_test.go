package search

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"cabwright/geometry"
	"cabwright/planner"
	"cabwright/presets"
)

// The share of the dome over colour, in cases that can be said at sight.
func TestColourShare(t *testing.T) {
	everywhere := vertices(1, -90, -90, 90, -90, 90, 90, -90, 90)
	right := vertices(1, 0, -90, 90, -90, 90, 90, 0, 90)
	zone := func(face planner.Face, poly []geometry.Vec2, grade float64) planner.Zone {
		return planner.Zone{Face: face, Outline: poly, Grade: grade}
	}
	level := Pose{Axes: geometry.Identity3()}
	for name, c := range map[string]struct {
		zones []planner.Zone
		want  float64
		by    float64
	}{
		"no zone":                        {nil, 0, 0},
		"all over, brilliant":            {[]planner.Zone{zone(planner.Top, everywhere, 5)}, 1, 1e-12},
		"all over, potch":                {[]planner.Zone{zone(planner.Top, everywhere, 0)}, 0, 1e-12},
		"all over, grade 3":              {[]planner.Zone{zone(planner.Top, everywhere, 3)}, 0.6, 1e-12},
		"on the other face":              {[]planner.Zone{zone(planner.Base, everywhere, 5)}, 0, 1e-12},
		"half":                           {[]planner.Zone{zone(planner.Top, right, 5)}, 0.5, 0.02},
		"the best grade counts":          {[]planner.Zone{zone(planner.Top, everywhere, 2), zone(planner.Top, right, 4)}, 0.6, 0.01},
		"two zones on one spot, one way": {[]planner.Zone{zone(planner.Top, everywhere, 4), zone(planner.Top, right, 2)}, 0.8, 1e-12},
	} {
		for _, shape := range []string{"round", "oval", "rectangle"} {
			body := cab(t, shape, 12, map[string]float64{"round": 12, "oval": 9, "rectangle": 9}[shape], 3, 0)
			rep := reporter{zones: c.zones}
			assert.InDelta(t, c.want, rep.colour(Candidate{Solid: body, Face: planner.Top}, level), c.by, "%s, %s", name, shape)
		}
	}
	// A spherical cap's area goes with its height (Archimedes): the colour within
	// the circle under the upper half of a half ball's height is half of it.
	ball := cab(t, "round", 12, 12, 6, 0)
	ball.Wall, ball.WallLeanDeg = 1e-9, 0
	var disc []geometry.Vec2
	for k := range 360 {
		s, c := math.Sincos(2 * math.Pi * float64(k) / 360)
		disc = append(disc, geometry.Vec2{X: 6 * math.Sqrt(0.75) * c, Y: 6 * math.Sqrt(0.75) * s})
	}
	rep := reporter{zones: []planner.Zone{zone(planner.Top, disc, 5)}}
	assert.InDelta(t, 0.5, rep.colour(Candidate{Solid: ball, Face: planner.Top}, level), 0.08)
}

// Each rank puts its own quantity first, and the order is a sort: nothing lost,
// ties by carats, then clearance, then as they came.
func TestSortFits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		few := rapid.SampledFrom([]float64{0, 0.5, 1, 2}) // ties are common
		fits := make([]Fit, rapid.IntRange(0, 12).Draw(t, "n"))
		for i := range fits {
			fits[i] = Fit{Carat: few.Draw(t, "ct"), Clearance: few.Draw(t, "mm"), Colour: few.Draw(t, "colour"), Volume: float64(i)}
		}
		for rank, key := range map[Rank]func(Fit) []float64{
			ByCarat:     func(f Fit) []float64 { return []float64{-f.Carat, -f.Clearance, f.Volume} },
			ByClearance: func(f Fit) []float64 { return []float64{-f.Clearance, -f.Carat, f.Volume} },
			ByColour:    func(f Fit) []float64 { return []float64{-f.Colour, -f.Carat, -f.Clearance, f.Volume} },
		} {
			got, want := slices.Clone(fits), slices.Clone(fits)
			SortFits(got, rank)
			slices.SortFunc(want, func(a, b Fit) int { return slices.Compare(key(a), key(b)) })
			require.Equal(t, want, got, string(rank))
		}
	})
}

// Weights come from the stone's own gravity, else the material's, else the
// default's; the band lies around the likely weight and holds both ends.
func TestWeights(t *testing.T) {
	set := presets.Builtin()
	s := demo(t, "one-crack")
	assert.Equal(t, 1.83, SpecificGravity(s, set), "the stone's own")
	s.SG = 0
	assert.Equal(t, 1.83, SpecificGravity(s, set), "hydrophane's: GIA, Rondeau et al.")
	s.Material = "nephrite"
	assert.Equal(t, 2.95, SpecificGravity(s, set), "gemmological handbooks")
	s.Material = "no such stone"
	assert.Equal(t, 2.1, SpecificGravity(s, set), "opal, the default: GIA Gem Reference Guide 1995")

	s.Material, s.SG = "opal-hydrophane", 2.2 // above the material's range: believed
	r := &run{stone: s, set: set, opt: Options{}.filled()}
	rep := r.reporter(nil)
	body := cab(t, "oval", 14, 10, 3, 0)
	f, names := fieldOf(t, s), []string{skinName, "C1", "P1", "P2"}
	tr := &trial{Candidate: Candidate{Solid: body, Face: planner.Top}, volume: body.Volume(), model: newModel(body, false), at: coord{0, 0, 5}}
	fit := rep.fit(&job{field: f, names: names}, tr)
	assert.InDelta(t, body.Volume()*2.2/200, fit.Carat, 1e-12, "mm3 times SG over 200: 1 ct is 0.2 g")
	assert.Less(t, fit.CaratLow, fit.Carat)
	assert.Less(t, fit.Carat, fit.CaratHigh)
	shrunk := (1 - 0.1/14) * (1 - 0.1/10) * (1 - 0.1/body.Height())
	assert.InDelta(t, body.Volume()*shrunk*1.74/200, fit.CaratLow, 1e-9)
	grown := (1 + 0.1/14) * (1 + 0.1/10) * (1 + 0.1/body.Height())
	assert.InDelta(t, body.Volume()*grown*2.2/200, fit.CaratHigh, 1e-9)
	r.stone.SG = 0
	fit = r.reporter(nil).fit(&job{field: f, names: names}, tr)
	assert.InDelta(t, body.Volume()*grown*1.93/200, fit.CaratHigh, 1e-9, "GIA Lab Notes, Spring 2016")
	assert.InDelta(t, body.Volume()*shrunk*1.74/200, fit.CaratLow, 1e-9)
}
