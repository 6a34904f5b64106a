package planner

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"cabwright/geometry"
)

func discOf(n int, r float64) []geometry.Vec2 {
	var out []geometry.Vec2
	for i := range n {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		out = append(out, geometry.Vec2{X: r * cos, Y: r * sin})
	}
	return out
}

func TestWhatIsNoThickness(t *testing.T) {
	s := Stone{Outline: discOf(12, 10)}
	for _, v := range []float64{0, -1, math.NaN(), math.Inf(1), 2000} {
		_, err := ReadThickness(s, geometry.Vec2{}, v, Top)
		require.Error(t, err, v)
		_, err = SetThicknesses(s, v, 2, FlatBase)
		require.Error(t, err, v)
		_, err = ScaleThickness(s, v)
		require.Error(t, err, v)
	}
	_, err := SetThicknesses(Stone{}, 5, 2, FlatBase)
	require.ErrorContains(t, err, "no outline")
	_, err = RimThickness(Stone{}, 2, Top)
	require.ErrorContains(t, err, "no outline")
	_, err = SetThicknesses(s, 5, 6, FlatBase)
	require.ErrorContains(t, err, "thicker than the greatest")
	s.Base = []geometry.Vec3{{}, {X: 1}}
	_, err = ReadThickness(s, geometry.Vec2{X: 5}, 3, Top)
	require.ErrorContains(t, err, "base: ", "two readings make no surface to measure from")
}

// A thickness that was read is there, whichever face moves, and the other face
// stays as it was.
func TestAThicknessReadIsThere(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := Stone{Outline: discOf(12, 10)}
		moves, still := Top, Base
		if rapid.Bool().Draw(t, "base moves") {
			moves, still = Base, Top
		}
		for range rapid.IntRange(0, 1).Draw(t, "level") {
			s = s.withReadings(still, []geometry.Vec3{{Z: 1}})
		}
		if rapid.Bool().Draw(t, "bent") {
			s = s.withReadings(still, []geometry.Vec3{{Z: 1}, {X: 5, Z: 1.5}, {Y: 5, Z: 0.5}})
		}
		before := s.Readings(still)
		spots := rapid.SliceOfNDistinct(rapid.IntRange(0, 80), 3, 6, rapid.ID[int]).Draw(t, "spots")
		thick := map[geometry.Vec2]float64{}
		for _, k := range spots {
			p := geometry.Vec2{X: float64(k%9) - 4 + 0.1*float64(k/9%2), Y: float64(k/9) - 4}
			v := rapid.Float64Range(3, 9).Draw(t, "thick")
			var err error
			if s, err = ReadThickness(s, p, v, moves); err != nil {
				t.Fatal(err)
			}
			thick[p] = v
		}
		if len(before) > 0 && len(s.Readings(still)) != len(before) {
			t.Fatalf("the %s changed", still)
		}
		top, errTop := geometry.FitThinPlate(s.Top)
		base, errBase := geometry.FitThinPlate(s.Base)
		if errTop != nil || errBase != nil {
			return // the spots lie on one line
		}
		rough := Rough{TopSheet: top, BaseSheet: base, TopLevel: levelOf(s.Top, math.Max),
			BaseLevel: levelOf(s.Base, math.Min)}
		for p, v := range thick {
			if d := math.Abs(rough.Top(p.X, p.Y) - rough.Base(p.X, p.Y) - v); d > 0.002 { // heights are kept to a micrometre
				t.Fatalf("%v mm thick at %v, read %v", v+d, p, v)
			}
		}
	})
}

func levelOf(readings []geometry.Vec3, more func(a, b float64) float64) float64 {
	z := readings[0].Z
	for _, r := range readings {
		z = more(z, r.Z)
	}
	return z
}

func TestThicknessesInTheMiddleAndRound(t *testing.T) {
	for _, n := range []int{3, 8, 24, 300} {
		s := Stone{Outline: discOf(n, 10), Top: []geometry.Vec3{{Z: 40}}}
		for _, round := range []Rounding{FlatBase, BothRound} {
			out, err := SetThicknesses(s, 9, 3, round)
			require.NoError(t, err)
			require.LessOrEqual(t, len(out.Top), 25)
			rough, err := NewRough(out)
			require.NoError(t, err)
			most, at := rough.Thickness()
			require.InDelta(t, 9, most, 0.005)
			if n >= 8 { // a plate through the corners of a triangle is level at the top for some way
				require.InDelta(t, 0, at.Norm(), 0.5)
			}
			for _, p := range rimSpots(s.Outline) {
				require.InDelta(t, 3, rough.Top(p.X, p.Y)-rough.Base(p.X, p.Y), 0.002)
			}
			low, high := rough.Heights()
			require.InDelta(t, 9, high-low, 0.01)
		}
	}
	s, err := SetThicknesses(Stone{Outline: discOf(12, 10)}, 9, 9, FlatBase)
	require.NoError(t, err)
	rough, err := NewRough(s)
	require.NoError(t, err)
	require.InDelta(t, 9*geometry.Area(s.Outline), rough.Volume(), 0.01, "a slab")
	s, err = RimThickness(s, 4, Top)
	require.NoError(t, err)
	rough, err = NewRough(s)
	require.NoError(t, err)
	require.InDelta(t, 4, rough.Top(10, 0)-rough.Base(10, 0), 0.002)
	require.InDelta(t, 9, rough.Top(0, 0)-rough.Base(0, 0), 0.002, "the middle stays")
	require.Len(t, s.Top, 25, "no reading is made twice")
}

func TestScaleThickness(t *testing.T) {
	s, err := SetThicknesses(Stone{Outline: discOf(12, 10)}, 9, 3, BothRound)
	require.NoError(t, err)
	tri := []geometry.Vec2{{X: 0}, {X: 3}, {X: 3, Y: 3}}
	s.Pockets = []Pocket{{ID: "P1", Outline: tri, Face: Inside, Low: 3, High: 6, TopRange: &Range{Least: 4.5, Most: 9}},
		{ID: "P2", Outline: tri, Face: Top, Depth: 2}}
	s.Cuts = []Cut{{ID: "K1", Point: geometry.Vec3{Z: 3}, Normal: geometry.Vec3{X: 1, Z: 1}, Kerf: 0.3}}
	out, err := ScaleThickness(s, 12)
	require.NoError(t, err)
	rough, err := NewRough(out)
	require.NoError(t, err)
	most, _ := rough.Thickness()
	require.InDelta(t, 12, most, 0.005)
	require.InDelta(t, 4, rough.Top(10, 0)-rough.Base(10, 0), 0.005)
	require.Equal(t, 4.0, out.Pockets[0].Low)
	require.Equal(t, 8.0, out.Pockets[0].High)
	require.Equal(t, &Range{Least: 6, Most: 12}, out.Pockets[0].TopRange)
	require.Equal(t, 2.0, out.Pockets[1].Depth, "what was measured stays")
	// The plane x + z = 3 becomes x + 3z/4 = 3: through (0, 0, 4) and (3, 0, 0).
	k := out.Cuts[0]
	d := k.Normal.Dot(k.Point)
	require.InDelta(t, d, k.Normal.Dot(geometry.Vec3{X: 3}), 0.005)
	require.InDelta(t, s.Cuts[0].Normal.Norm(), k.Normal.Norm(), 0.002)
	_, err = ScaleThickness(Stone{}, 4)
	require.Error(t, err)
}
