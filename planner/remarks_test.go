package planner_test

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"cabwright/geometry"
	"cabwright/planner"
	"cabwright/presets"
)

// dome is a stone 20 x 16 x 8 mm whose readings go together: on a paraboloid over
// a level base, in the middle and on two rings.
func dome() planner.Stone {
	s := planner.Stone{Material: "agate", Base: []geometry.Vec3{{}}}
	for i := range 24 {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / 24)
		s.Outline = append(s.Outline, geometry.Vec2{X: 10 * cos, Y: 8 * sin})
	}
	height := func(x, y float64) float64 { return 8 - 4*(x*x/100+y*y/64) }
	s.Top = append(s.Top, geometry.Vec3{Z: 8})
	for _, r := range []float64{0.5, 0.9} {
		for i := range 8 {
			sin, cos := math.Sincos(2 * math.Pi * float64(i) / 8)
			x, y := 10*r*cos, 8*r*sin
			s.Top = append(s.Top, geometry.Vec3{X: x, Y: y, Z: height(x, y)})
		}
	}
	return s
}

func remarks(t *testing.T, s planner.Stone) map[string]string {
	t.Helper()
	require.Empty(t, planner.Validate(s, presets.Builtin()), "a remark is about a good stone")
	r, err := planner.NewRough(s)
	require.NoError(t, err)
	out := map[string]string{}
	for _, w := range planner.Remarks(s, r, presets.Builtin()) {
		out[w.Place] += w.What + "; "
		if strings.HasPrefix(w.Place, "top[") {
			require.NotNil(t, w.At)
		}
	}
	return out
}

func TestReadingsThatGoTogetherAreNotRemarkedOn(t *testing.T) {
	require.Empty(t, remarks(t, dome()))
	for _, form := range planner.Forms() {
		s, err := planner.NewStone("New", "agate", geometry.Vec3{X: 28, Y: 20, Z: 9}, form, presets.Builtin())
		require.NoError(t, err)
		require.Empty(t, remarks(t, s), form)
	}
}

// The contract's remarks, one slip at a time.
func TestSlipsAreRemarkedOn(t *testing.T) {
	slip := func(i int, to geometry.Vec3) planner.Stone {
		s := dome()
		s.Top[i] = to
		return s
	}
	at := dome().Top
	inner, rim := at[3], at[12] // half way out, and 0.9 of it
	for name, c := range map[string]struct {
		stone planner.Stone
		place string
		says  string
	}{
		// 7 mm half way out; a third of 8 mm is 2.7.
		"a digit slipped, inside": {slip(3, geometry.Vec3{X: inner.X, Y: inner.Y, Z: inner.Z - 3.5}), "top[3]",
			"lower than the other readings say there"},
		"too high, inside": {slip(3, geometry.Vec3{X: inner.X, Y: inner.Y, Z: 13}), "top[3]",
			"higher than the other readings say there"},
		"too high, at the rim": {slip(12, geometry.Vec3{X: rim.X, Y: rim.Y, Z: 40}), "top[12]", "higher"},
		"too low, at the rim":  {slip(12, geometry.Vec3{X: rim.X, Y: rim.Y, Z: 0.5}), "top[12]", "lower"},
		"an x of 70 instead of 7": {slip(9, geometry.Vec3{X: 90, Y: at[9].Y, Z: at[9].Z}), "top[9]",
			"was read 80.0 mm outside the outline"},
		"beside another, steep": {slip(12, geometry.Vec3{X: at[11].X + 0.5, Y: at[11].Y, Z: at[11].Z + 0.9}), "top[12]",
			"changes by 0.9 mm within 0.5 mm of top[11]"},
	} {
		got := remarks(t, c.stone)
		require.Contains(t, got[c.place], c.says, "%s: %v", name, got)
	}
	// A millimetre off is a natural stone; so is a reading just outside.
	require.Empty(t, remarks(t, slip(3, geometry.Vec3{X: inner.X, Y: inner.Y, Z: inner.Z - 2})))
	require.Empty(t, remarks(t, slip(9, geometry.Vec3{X: 11.5, Y: at[9].Y, Z: at[9].Z})))
	// 0.86 mm in 0.5 mm is 60 degrees.
	require.Empty(t, remarks(t, slip(12, geometry.Vec3{X: at[11].X + 0.5, Y: at[11].Y, Z: at[11].Z + 0.86})))
	// Weights more than 10% apart.
	s := dome()
	s.ScaleCt = 30
	require.Contains(t, remarks(t, s)[planner.OnScale], "on the scale")
	// The base is looked at as well, upside down.
	over, err := planner.TurnOver(slip(3, geometry.Vec3{X: inner.X, Y: inner.Y, Z: inner.Z - 3.5}))
	require.NoError(t, err)
	require.Contains(t, remarks(t, over)["base[3]"], "higher than the other readings say there")
}

func TestFacesOnTheWrongSideNameTheReading(t *testing.T) {
	s := dome()
	s.Base = []geometry.Vec3{{}, {X: 5, Z: 0.2}, {Y: 5, Z: 0.1}, {X: -5, Z: 12}}
	problems := planner.Validate(s, presets.Builtin())
	require.NotEmpty(t, problems)
	require.Equal(t, "base[3]", problems[0].Place)
	require.Contains(t, problems[0].What, "12 mm lies at or above the top, which is at 7.00 mm there",
		"with both heights: on the paraboloid 5 mm out")
	// A stone that ends before its outline begins.
	s = dome()
	s.Top = []geometry.Vec3{{Z: 1}}
	s.Base = []geometry.Vec3{{}, {X: 1, Z: 0.5}, {Y: 1}}
	s.Outline = []geometry.Vec2{{X: 10}, {X: 11}, {X: 11, Y: 2}}
	problems = planner.Validate(s, presets.Builtin())
	require.Equal(t, "top", problems[0].Place)
	require.Contains(t, problems[0].What, "no solid left")
	s = dome()
	s.Top[3].Z = 0
	problems = planner.Validate(s, presets.Builtin())
	require.Equal(t, "top[3]", problems[0].Place)
	require.Contains(t, problems[0].What, "0 mm lies at or below the base, which is at 0.00 mm there")
}
