package planner

import (
	"math"
	"testing"

	"cabwright/geometry"
	"cabwright/presets"

	"github.com/stretchr/testify/require"
)

func v2(x, y float64) geometry.Vec2 { return geometry.Vec2{X: x, Y: y} }

func v3(x, y, z float64) geometry.Vec3 { return geometry.Vec3{X: x, Y: y, Z: z} }

// marked is a stone with one mark of each kind on each face.
func marked(t testing.TB) Stone {
	t.Helper()
	s, err := NewStone("Kettle 4", "opal-hydrophane", v3(28, 20, 9), Domed, presets.Builtin())
	require.NoError(t, err)
	square := []geometry.Vec2{v2(-2, -2), v2(2, -2), v2(2, 2), v2(-2, 2)}
	for _, f := range []Face{Top, Base} {
		s, err = AddCrack(s, Crack{Path: []geometry.Vec2{v2(4, -9), v2(5.5, -4), v2(8, 1)}, Face: f, Depth: 6, Lean: 20,
			Toward: 150, RunOn: 1})
		require.NoError(t, err)
		s, err = AddPocket(s, Pocket{Outline: square, Face: f, Depth: 2})
		require.NoError(t, err)
		s, err = AddZone(s, Zone{Outline: square, Face: f, Grade: 3})
		require.NoError(t, err)
	}
	s, err = AddPocket(s, Pocket{Outline: square, Face: Inside, Low: 2, High: 3.5})
	require.NoError(t, err)
	s, err = AddPocket(s, Pocket{Outline: square, Face: Through})
	require.NoError(t, err)
	require.Empty(t, Validate(s, presets.Builtin()))
	return s
}

func TestEditsRefuseWhatIsNotThere(t *testing.T) {
	s := marked(t)
	for _, i := range []int{-1, len(s.Outline), math.MaxInt} {
		_, err := MoveCorner(s, i, v2(0, 0))
		require.ErrorContains(t, err, "does not exist; there ")
		_, err = AddCorner(s, i, v2(0, 0))
		require.ErrorContains(t, err, "does not exist; there ")
		_, err = SplitEdge(s, i)
		require.ErrorContains(t, err, "does not exist; there ")
		_, err = DeleteCorner(s, i)
		require.ErrorContains(t, err, "does not exist; there ")
		_, err = SetReading(s, Top, i, v3(0, 0, 1))
		require.ErrorContains(t, err, "does not exist; there ")
		_, err = DeleteReading(s, Base, i)
		require.ErrorContains(t, err, "does not exist; there ")
	}
	_, err := DeleteMark(s, "C9\x1b")
	require.EqualError(t, err, "marks: there is no mark C9^[")
	_, err = MoveMark(s, "C9", v2(1, 0))
	require.ErrorContains(t, err, "there is no mark C9")
	_, err = ReplaceCrack(s, "P1", Crack{})
	require.ErrorContains(t, err, "there is no mark P1")
}

func TestEditsRefuseNumbersThatAreNone(t *testing.T) {
	s := marked(t)
	for _, bad := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), 1e308, 1000.5} {
		refused := map[string]func() (Stone, error){
			"MoveCorner":     func() (Stone, error) { return MoveCorner(s, 1, v2(bad, 0)) },
			"AddCorner":      func() (Stone, error) { return AddCorner(s, 1, v2(0, bad)) },
			"AddReading":     func() (Stone, error) { return AddReading(s, Top, v3(1, 1, bad)) },
			"SetReading":     func() (Stone, error) { return SetReading(s, Base, 1, v3(bad, 1, 1)) },
			"MoveMark":       func() (Stone, error) { return MoveMark(s, "C1", v2(bad, 0)) },
			"ScaleOutlineTo": func() (Stone, error) { return ScaleOutlineTo(s, bad*3, 10) },
			"SetSG":          func() (Stone, error) { return SetSG(s, bad) },
			"SetAllowances":  func() (Stone, error) { return SetAllowances(s, Allowances{Skin: bad}) },
			"depth":          func() (Stone, error) { return AddPocket(s, Pocket{Outline: s.Outline, Face: Top, Depth: bad}) },
			"lean": func() (Stone, error) {
				return ReplaceCrack(s, "C1", Crack{Path: s.Cracks[0].Path, Face: Top, Lean: bad})
			},
			"grade": func() (Stone, error) { return ReplaceZone(s, "Z1", Zone{Outline: s.Outline, Face: Top, Grade: bad}) },
		}
		for name, edit := range refused {
			got, err := edit()
			require.Error(t, err, "%s(%v)", name, bad)
			require.True(t, got.Equal(s), "%s(%v) changed the stone", name, bad)
		}
	}
	_, err := SetScaleWeight(s, math.NaN())
	require.Error(t, err)
	_, err = SetScaleWeight(s, -1)
	require.Error(t, err)
	_, err = TurnOutline(s, math.Inf(1))
	require.Error(t, err)
	got, err := SetScaleWeight(s, math.Copysign(0, -1))
	require.NoError(t, err)
	require.False(t, math.Signbit(got.ScaleCt), "minus nothing is nothing")
}

func TestACrossingMoveNamesTheEdges(t *testing.T) {
	s, err := SetOutline(Stone{}, []geometry.Vec2{v2(0, 0), v2(10, 0), v2(10, 10), v2(0, 10)})
	require.NoError(t, err)
	got, err := MoveCorner(s, 2, v2(-5, 5))
	var p Problem
	require.ErrorAs(t, err, &p)
	require.Equal(t, &[2]int{1, 3}, p.Edges)
	require.EqualError(t, err,
		"outline: crosses itself: edge outline[1]-[2] meets edge outline[3]-[0]: move or take away one of their corners")
	require.True(t, got.Equal(s))
}

func TestSplittingAndDeletingAnEdgeGivesTheOutlineBack(t *testing.T) {
	s := marked(t)
	split, err := SplitEdge(s, len(s.Outline)-1)
	require.NoError(t, err)
	require.Len(t, split.Outline, len(s.Outline)+1)
	back, err := DeleteCorner(split, len(s.Outline))
	require.NoError(t, err)
	require.True(t, back.Equal(s))
}

func TestAnEditLeavesTheOldStoneAlone(t *testing.T) {
	s := marked(t)
	before := mustTurnOver(t, mustTurnOver(t, s)) // shares nothing with s
	require.True(t, before.Equal(s))
	edits := []func() (Stone, error){
		func() (Stone, error) { return MoveCorner(s, 0, v2(15, 0)) },
		func() (Stone, error) { return DeleteCorner(s, 0) },
		func() (Stone, error) { return SetReading(s, Top, 0, v3(0, 0, 8)) },
		func() (Stone, error) { return DeleteReading(s, Top, 0) },
		func() (Stone, error) { return AddReading(s, Top, v3(1, 1, 8)) },
		func() (Stone, error) { return DeleteMark(s, "C1") },
		func() (Stone, error) { return MoveMark(s, "P1", v2(1, 1)) },
		func() (Stone, error) { return TurnOutline(s, 30) },
		func() (Stone, error) { return TurnOver(s) },
		func() (Stone, error) { return ScaleOutlineTo(s, 30, 22) },
	}
	for i, edit := range edits {
		got, err := edit()
		require.NoError(t, err, "edit %d", i)
		require.False(t, got.Equal(s), "edit %d changed nothing", i)
		require.True(t, before.Equal(s), "edit %d changed the old stone", i)
	}
}

func mustTurnOver(t testing.TB, s Stone) Stone {
	t.Helper()
	out, err := TurnOver(s)
	require.NoError(t, err)
	return out
}

// A crack's point at depth, by the contract's formula, must be the same point of
// the stone after it is turned over.
func TestTurningOverMovesTheSolidAndItsMarksAlike(t *testing.T) {
	s := marked(t)
	o := mustTurnOver(t, s)
	sum := heightSum(s)
	before, err := NewRough(s)
	require.NoError(t, err)
	after, err := NewRough(o)
	require.NoError(t, err)
	require.InDelta(t, before.Volume(), after.Volume(), 1e-6*before.Volume())
	for _, p := range []geometry.Vec2{v2(0, 0), v2(3, 4), v2(-7, 2)} {
		require.InDelta(t, sum-before.Base(p.X, p.Y), after.Top(-p.X, p.Y), 1e-6)
		require.InDelta(t, sum-before.Top(p.X, p.Y), after.Base(-p.X, p.Y), 1e-6)
	}
	for i, k := range s.Cracks {
		for _, depth := range []float64{0, 2.5, 6} {
			a, b := sheetPoint(before, k, depth), sheetPoint(after, o.Cracks[i], depth)
			require.InDelta(t, -a.X, b.X, 1e-5)
			require.InDelta(t, a.Y, b.Y, 1e-5)
			require.InDelta(t, sum-a.Z, b.Z, 1e-5)
		}
	}
	require.Equal(t, Base, o.Pockets[0].Face)
	require.Equal(t, Top, o.Colour[1].Face)
	require.InDelta(t, sum-3.5, o.Pockets[2].Low, 1e-6)
	require.Equal(t, Through, o.Pockets[3].Face)
}

// sheetPoint is the point of a crack's sheet below or above its first point.
func sheetPoint(r *Rough, k Crack, depth float64) geometry.Vec3 {
	p, d, z := k.Path[0], -1.0, r.Top
	if k.Face == Base {
		d, z = 1, r.Base
	}
	lean := math.Tan(k.Lean * math.Pi / 180)
	sin, cos := math.Sincos(k.Toward * math.Pi / 180)
	return v3(p.X, p.Y, z(p.X, p.Y)).Add(v3(lean*cos, lean*sin, d).Scale(depth))
}

func TestTurningRoundKeepsTheCaliperMeasures(t *testing.T) {
	s := marked(t)
	want := Extent(s.Outline)
	for _, degrees := range []float64{0, 30, 90, -135, 719} {
		o, err := TurnOutline(s, degrees)
		require.NoError(t, err)
		got := Extent(o.Outline)
		require.InDelta(t, want.Length, got.Length, 1e-5)
		require.InDelta(t, want.Width, got.Width, 1e-5)
		require.InDelta(t, math.Mod(150+degrees+720, 360), o.Cracks[0].Toward, 1e-6)
	}
}

func TestScalingReachesTheCaliperMeasures(t *testing.T) {
	s, err := TurnOutline(marked(t), 37)
	require.NoError(t, err)
	for _, want := range [][2]float64{{31.4, 17.2}, {28, 20}, {12, 8}} {
		o, err := ScaleOutlineTo(s, want[0], want[1])
		require.NoError(t, err)
		got := Extent(o.Outline)
		require.InDelta(t, want[0], got.Length, 1e-4)
		require.InDelta(t, want[1], got.Width, 1e-4)
	}
	_, err = ScaleOutlineTo(Stone{}, 10, 10)
	require.ErrorContains(t, err, "no outline")
	_, err = ScaleOutlineTo(s, 0, 10)
	require.ErrorContains(t, err, "no length")
}

func TestIDsAreFirstFreeAndUnique(t *testing.T) {
	s := marked(t)
	path := []geometry.Vec2{v2(0, 0), v2(1, 1)}
	s, err := DeleteMark(s, "C1")
	require.NoError(t, err)
	s, err = AddCrack(s, Crack{Path: path, Face: Top})
	require.NoError(t, err)
	require.Equal(t, "C1", s.Cracks[len(s.Cracks)-1].ID)
	_, err = AddCrack(s, Crack{ID: "P1", Path: path, Face: Top})
	require.ErrorContains(t, err, "there is a mark P1 already")
}

// The polygon drawn for an oval contains it and stays within the slack.
func TestOvalOutlineHoldsTheOval(t *testing.T) {
	for _, size := range [][2]float64{{0.5, 0.5}, {6, 6}, {12, 3}, {60, 40}} {
		corners := OvalOutline(v2(3, -2), size[0], size[1], 25)
		sin, cos := math.Sincos(25 * math.Pi / 180)
		for i := range 720 {
			t1 := float64(i) * math.Pi / 360
			u, v := 0.9999*size[0]/2*math.Cos(t1), 0.9999*size[1]/2*math.Sin(t1)
			require.True(t, geometry.InPolygon(corners, v2(3+cos*u-sin*v, -2+sin*u+cos*v)), "%v at %d", size, i)
		}
		for _, c := range corners {
			d := c.Sub(v2(3, -2))
			u, v := cos*d.X+sin*d.Y, -sin*d.X+cos*d.Y
			// (1 + slack/r) times the oval bounds how far a corner may stand out.
			grown := 1 + pocketSlack*1.01/(max(size[0], size[1])/2)
			if size[0] < 1 {
				grown = 1 / math.Cos(math.Pi/12) // the fewest corners used
			}
			require.LessOrEqual(t, math.Hypot(u/(size[0]/2), v/(size[1]/2)), grown+1e-5)
		}
	}
}

func TestNewStoneHasTheMeasuresGiven(t *testing.T) {
	set := presets.Builtin()
	for _, form := range Forms() {
		s, err := NewStone("New", set.Defaults.Material, v3(28, 20, 9), form, set)
		require.NoError(t, err)
		e := Extent(s.Outline)
		require.InDelta(t, 28, e.Length, 1e-5)
		require.InDelta(t, 20, e.Width, 1e-5)
		r, err := NewRough(s)
		require.NoError(t, err)
		require.InDelta(t, 9, r.Top(0, 0)-r.Base(0, 0), 1e-9)
		for _, p := range s.Outline {
			require.Greater(t, r.Top(p.X, p.Y)-r.Base(p.X, p.Y), 2.0, "%s at its rim", form)
		}
	}
	for _, bad := range []float64{0, -3, math.NaN(), math.Inf(1), 2000} {
		_, err := NewStone("New", set.Defaults.Material, v3(bad, 20, 9), Domed, set)
		require.ErrorContains(t, err, "length")
	}
	_, err := NewStone("New", "", v3(28, 20, 9), Domed, set)
	require.ErrorContains(t, err, "material")
	_, err = NewStone("New", set.Defaults.Material, v3(28, 20, 9), "round\x1b", set)
	require.EqualError(t, err, `form: "round^[" is none of domed, flat, ridged`)
}
