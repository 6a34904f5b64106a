package cuts

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"cabwright/geometry"
	"cabwright/planner"
	"cabwright/presets"
)

// wallCrack is a crack that stands upright right across the block at x.
func wallCrack(id string, x float64) planner.Crack {
	return planner.Crack{ID: id, Path: []geometry.Vec2{{X: x, Y: -1}, {X: x, Y: 30}}, Face: planner.Top, Through: true}
}

func sawing(kerf float64) Bench {
	b := NewBench(presets.Builtin())
	b.Saw.Kerf = kerf
	return b
}

// A crack that stands exactly skin + kerf from the stone is sawn off; one a
// hair nearer is not, and a thinner blade is named if one would do.
func TestACrackAtSkinAndKerfIsFreed(t *testing.T) {
	const kerf, skin, edge = 0.5, 0.5, 15.0 // of a round 10 mm at x = 10
	for name, c := range map[string]struct {
		x     float64
		frees bool
		thin  string
	}{
		"exactly":       {edge + skin + kerf, true, ""},
		"a hair more":   {edge + skin + kerf + 1e-6, true, ""},
		"a hair nearer": {edge + skin + kerf - 1e-6, false, "opal"},
		"too near":      {edge + skin + 0.2, false, ""},
	} {
		s := box(40, 20, 8)
		s.Cracks = []planner.Crack{wallCrack("C1", c.x)}
		b := body(t, s)
		f := placed(t, "round", 10, 10, 3, 10, 10, 2, "")
		cs, thinner := b.Trims(f, nil, sawing(kerf))
		var freed []string
		for i, k := range cs {
			before := halves(cs[:i], k.Piece)
			freed = append(freed, b.frees(before, append(before, k.side(-1)))...)
			assert.GreaterOrEqual(t, k.Room(f.Fit, -1, skin), -1e-9, name)
		}
		require.Equal(t, c.frees, len(freed) == 1, "%s: %v", name, freed)
		if c.thin != "" {
			require.Len(t, thinner, 1, name)
			assert.Equal(t, c.thin, thinner[0].Saw.Key, name)
		} else {
			assert.Empty(t, thinner, name)
		}
	}
}

// What trims leave: the table's figure as sawn for a trim, the skin for what
// frees, no strip under 2 mm, four cuts at most, frees before trims.
func TestTrimsKeepTheirDistance(t *testing.T) {
	s := domed()
	s.Cracks = []planner.Crack{
		{ID: "C1", Path: []geometry.Vec2{{X: -9, Y: -5}, {X: -8, Y: 5}}, Face: planner.Top, Depth: 4, Lean: 15, Toward: 30},
		{ID: "C2", Path: []geometry.Vec2{{X: 9, Y: 4}, {X: 8, Y: -5}}, Face: planner.Base, Through: true},
	}
	b := body(t, s)
	bench := NewBench(presets.Builtin())
	for _, at := range []geometry.Vec2{{}, {X: -3, Y: 2}, {X: -1, Y: -1}, {X: 2, Y: 1.5}, {X: 3, Y: 0}} {
		f := placed(t, "oval", 8, 6, 1.8, at.X, at.Y, 2, "")
		cs, _ := b.Trims(f, nil, bench)
		require.LessOrEqual(t, len(cs), mostTrims)
		trims := false
		piece := ""
		for _, c := range cs {
			require.Equal(t, piece, c.Piece)
			keep := bench.AsSawn
			if c.Kind == Free {
				require.False(t, trims, "what frees comes first")
				keep = s.Allowances.Skin
			}
			trims = trims || c.Kind == Trim
			require.GreaterOrEqual(t, c.Room(f.Fit, -1, keep), -1e-9)
			before := halves(cs, piece)
			off := append(append([]half(nil), before...), c.side(1))
			require.Greater(t, b.span(off, c.Normal), leastStrip-latticeStep)
			piece += "-"
		}
	}
}

// A cut that runs into an open crack says so once; one that is sealed already,
// or that was sealed for an earlier cut, is not named.
func TestSealFirst(t *testing.T) {
	s := box(40, 20, 8)
	s.Cracks = []planner.Crack{
		{ID: "C1", Path: []geometry.Vec2{{X: 2, Y: 10}, {X: 38, Y: 10}}, Face: planner.Top, Depth: 3},
		{ID: "C2", Path: []geometry.Vec2{{X: 2, Y: 5}, {X: 38, Y: 5}}, Face: planner.Top, Depth: 3, Sealed: true},
		{ID: "C3", Path: []geometry.Vec2{{X: 25, Y: 15}, {X: 38, Y: 15}}, Face: planner.Top, Depth: 3},
	}
	b := body(t, s)
	first, second := upcut(20, 0, 0, 0.3), upcut(30, 0, 0, 0.3)
	second.Piece = "+"
	l, err := b.Describe(nil, []Cut{first, second})
	require.NoError(t, err)
	assert.Equal(t, []string{"C1"}, l.Steps[0].SealFirst)
	assert.Equal(t, []string{"C3"}, l.Steps[1].SealFirst)
	// Level, below the cracks' depth, nothing is met.
	level := Cut{Plane: Plane{Point: geometry.Vec3{Z: 4.8}, Normal: geometry.Vec3{Z: 1}}, Kerf: 0.3}
	l, err = b.Describe(nil, []Cut{level})
	require.NoError(t, err)
	assert.Empty(t, l.Steps[0].SealFirst)
	assert.Empty(t, l.Steps[0].Marks, "a level cut has no trace in plan")
	level.Point.Z = 5.1
	l, err = b.Describe(nil, []Cut{level})
	require.NoError(t, err)
	assert.ElementsMatch(t, []string{"C1", "C3"}, l.Steps[0].SealFirst)
}

// Marks measured back, rounded as they are printed, give the plane within
// 0.05 mm at the rim: each lies on its edge at the measure given, and the
// check measure agrees.
func TestMarksMeasuredBack(t *testing.T) {
	b := body(t, domed())
	rapid.Check(t, func(t *rapid.T) {
		c := upcut(rapid.Float64Range(-6, 6).Draw(t, "x"), rapid.Float64Range(-2, 3).Draw(t, "y"),
			rapid.Float64Range(0, 360).Draw(t, "deg"), 0.3)
		l, err := b.Describe(nil, []Cut{c})
		require.NoError(t, err)
		marks := l.Steps[0].Marks
		require.Len(t, marks, 2, "an upright cut through the rough goes in and out")
		for _, m := range marks {
			outline := b.Stone.Outline
			other := m.From + m.To - m.Corner
			p, q := outline[m.Corner-1], outline[other-1]
			along := math.Round(m.Along*10) / 10 // as printed
			at := p.Add(q.Sub(p).Scale(along / q.Sub(p).Norm()))
			require.LessOrEqual(t, math.Abs(c.Height(geometry.Vec3{X: at.X, Y: at.Y})), 0.05)
			require.InDelta(t, m.Check, outline[m.CheckCorner-1].Sub(at).Norm(), 0.05+1e-9)
			require.LessOrEqual(t, along, q.Sub(p).Norm()/2+0.05, "measured from the nearer corner")
		}
	})
}

// A cut on the right prong of a rough like a U is scribed there, although its line runs
// across both.
func TestMarksStandOnThePiece(t *testing.T) {
	s := box(1, 1, 5)
	s.Outline = []geometry.Vec2{
		{X: 0, Y: 0}, {X: 30, Y: 0}, {X: 30, Y: 20}, {X: 20, Y: 20}, {X: 20, Y: 10}, {X: 10, Y: 10},
		{X: 10, Y: 20}, {X: 0, Y: 20},
	}
	part, across := upcut(15, 5, 0, 0.3), upcut(25, 15, 90, 0.3)
	for piece, want := range map[string][2]float64{"+": {20, 30}, "-": {0, 10}} {
		across.Piece = piece
		l, err := body(t, s).Describe(nil, []Cut{part, across})
		require.NoError(t, err)
		marks := l.Steps[1].Marks
		require.Len(t, marks, 2)
		assert.InDelta(t, want[0], min(marks[0].At.X, marks[1].At.X), 1e-9, piece)
		assert.InDelta(t, want[1], max(marks[0].At.X, marks[1].At.X), 1e-9, piece)
	}
}

func TestMarkString(t *testing.T) {
	assert.Equal(t, "0.2 mm past corner 6 toward 7, 13.6 from corner 8",
		Mark{From: 6, To: 7, Corner: 6, Along: 0.2, CheckCorner: 8, Check: 13.6}.String())
	assert.Equal(t, "1.5 mm past corner 1 toward 7, 4.0 from corner 3",
		Mark{From: 7, To: 1, Corner: 1, Along: 1.5, CheckCorner: 3, Check: 4}.String())
	assert.Equal(t, "at corner 6, 13.6 from corner 8", Mark{From: 6, To: 7, Corner: 6, Along: 0.01, CheckCorner: 8,
		Check: 13.6}.String())
}

// A blade of 4 inches reaches 25 mm (from memory); a deeper cut says so, a
// small piece that it is not held by hand.
func TestWarnings(t *testing.T) {
	saw, ok := presets.Builtin().Saw("opal")
	require.True(t, ok)
	step := Step{Deep: 30, Held: 20, Spare: 1}
	require.Len(t, step.Warnings(BladeOf(saw)), 1)
	assert.Contains(t, step.Warnings(BladeOf(saw))[0], "30 mm deep, the blade reaches 25")
	step = Step{Deep: 8, Held: 10, Spare: 1, SealFirst: []string{"C1", "C2"}}
	said := step.Warnings(BladeOf(saw))
	require.Len(t, said, 2)
	assert.Contains(t, said[0], "seal C1 and C2 first")
	assert.Contains(t, said[1], "clamp or dop it")
	assert.Empty(t, Step{Deep: 8, Held: 20, Spare: 1}.Warnings(Blade{}))
	for spare, want := range map[float64]string{
		0.2: "only 0.2 mm to spare", -0.001: "only 0.0 mm to spare", -0.29: "0.29 mm too near to a stone",
	} {
		said := Step{Deep: 8, Held: 20, Spare: spare}.Warnings(Blade{})
		require.Len(t, said, 1)
		assert.Contains(t, said[0], want)
	}
}
