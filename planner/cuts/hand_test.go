package cuts

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"cabwright/geometry"
	"cabwright/planner"
	"cabwright/planner/money"
	"cabwright/planner/search"
	"cabwright/presets"
)

// A layout's cuts, kept in a file and read back, make the same pieces again.
func TestKeptCutsMakeTheSamePieces(t *testing.T) {
	b := body(t, box(40, 20, 8))
	f := placed(t, "oval", 10, 8, 2.4, 20, 10, 2, "")
	own, _ := b.Trims(f, nil, sawing(0.3))
	require.NotEmpty(t, own)
	l, _, err := b.One(f.Fit, sawing(0.3))
	require.NoError(t, err)
	fits, again := ByHand(ToFile(l), []search.Fit{f.Fit})
	back, err := b.Describe(fits, again)
	require.NoError(t, err)
	require.Len(t, back.Steps, len(l.Steps))
	for i := range l.Steps {
		assert.Equal(t, l.Steps[i].Piece, back.Steps[i].Piece)
		assert.InDelta(t, l.Steps[i].Offcut, back.Steps[i].Offcut, 1e-6)
		assert.InDelta(t, l.Steps[i].Spare, back.Steps[i].Spare, 1e-9)
	}
}

// A cut drawn with its normal toward the stone is turned round.
func TestByHandTurnsTowardTheOffcut(t *testing.T) {
	f := placed(t, "oval", 10, 8, 2.4, 10, 10, 2, "").Fit
	kept := []planner.Cut{{ID: "K1", Point: geometry.Vec3{X: 20, Y: 10, Z: 4}, Normal: geometry.Vec3{X: -2}, Kerf: 0.3}}
	fits, made := ByHand(kept, []search.Fit{f})
	assert.Equal(t, geometry.Vec3{X: 1}, made[0].Normal)
	assert.Equal(t, "-", fits[0].Piece)
	_, made = ByHand(append(kept, planner.Cut{}), nil)
	assert.Len(t, made, 1, "a cut without direction is passed over")
}

// What is sawn: areas on both sides and in the kerf are those of the outline,
// and the kept stone is a stone file's.
func TestSawnAddsUp(t *testing.T) {
	s := domed()
	s.ScaleCt = 12
	s.Cracks = []planner.Crack{{ID: "C1", Path: []geometry.Vec2{{X: -9, Y: 0}, {X: 9, Y: 0}}, Face: planner.Top, Depth: 2}}
	whole := geometry.Area(s.Outline)
	rapid.Check(t, func(t *rapid.T) {
		c := upcut(rapid.Float64Range(-6, 6).Draw(t, "x"), rapid.Float64Range(-1, 2).Draw(t, "y"),
			rapid.Float64Range(0, 360).Draw(t, "deg"), 0.3)
		in := geometry.Vec2{X: c.Point.X + 2*c.Normal.X, Y: c.Point.Y + 2*c.Normal.Y}
		kept, other, err := Sawn(s, c, in)
		require.NoError(t, err)
		thin := c
		thin.Kerf = 0
		a, b, err := Sawn(s, thin, in)
		require.NoError(t, err)
		if len(a.Outline)+len(b.Outline) == len(s.Outline)+4 { // neither side fell apart
			require.InDelta(t, whole, geometry.Area(a.Outline)+geometry.Area(b.Outline), 1e-9)
		}
		require.Empty(t, planner.Validate(kept, presets.Builtin()))
		require.Less(t, geometry.Area(kept.Outline)+geometry.Area(other.Outline), whole)
		for _, p := range kept.Outline {
			require.GreaterOrEqual(t, c.Height(geometry.Vec3{X: p.X, Y: p.Y}), 0.15-1e-9)
		}
		for _, k := range kept.Cracks {
			for _, p := range k.Path {
				require.GreaterOrEqual(t, c.Height(geometry.Vec3{X: p.X, Y: p.Y}), 0.15-1e-9)
			}
		}
		require.Zero(t, kept.ScaleCt)
	})
}

func TestSawnRefuses(t *testing.T) {
	s := box(20, 10, 8)
	_, _, err := Sawn(s, leant(upcut(10, 5, 0, 0.3), 10), geometry.Vec2{})
	assert.ErrorIs(t, err, ErrLeaning)
	_, _, err = Sawn(s, upcut(30, 5, 0, 0.3), geometry.Vec2{})
	assert.ErrorContains(t, err, "nothing on one side")
	// A splinter at a corner, as the random events of the workbench came upon.
	s.Outline = []geometry.Vec2{{X: 6, Y: -7}, {X: 6.8, Y: -7.1}, {X: 6.4, Y: -6}}
	_, _, err = Sawn(s, Cut{Plane: Plane{Point: geometry.Vec3{X: 6.7999}, Normal: geometry.Vec3{X: 1}}},
		geometry.Vec2{X: 6.79995, Y: -7.1})
	assert.ErrorContains(t, err, "nothing on one side")
}

// A dented rough falls apart: the largest lump is kept.
func TestSawnKeepsTheLargestLump(t *testing.T) {
	s := box(1, 1, 5)
	s.Outline = []geometry.Vec2{{X: 0, Y: 0}, {X: 30, Y: 0}, {X: 30, Y: 20}, {X: 18, Y: 20}, {X: 18, Y: 10},
		{X: 10, Y: 10}, {X: 10, Y: 20}, {X: 0, Y: 20}}
	kept, other, err := Sawn(s, upcut(0, 12, 90, 0), geometry.Vec2{X: 25, Y: 18})
	require.NoError(t, err)
	assert.InDelta(t, 12*8, geometry.Area(kept.Outline), 1e-9)
	assert.InDelta(t, 30*10+10*2+12*2, geometry.Area(other.Outline), 1e-9)
}

// What was paid stays with the kept piece, a lot's cost is shared by weight; the stone
// that was sawn keeps its own.
func TestSawnSharesTheCost(t *testing.T) {
	sum := func(x float64) *money.Amount { a := money.Of(x); return &a }
	lot := &planner.Lot{Name: "parcel", Paid: sum(84.00)}
	for name, c := range map[string]struct{ cost, other *planner.Cost }{
		"nothing said": {nil, nil},
		"paid":         {&planner.Cost{Currency: "EUR", Paid: sum(70.00), Extra: sum(2.00)}, nil},
		"a lot": {&planner.Cost{Currency: "EUR", Extra: sum(2.00), Lot: lot},
			&planner.Cost{Currency: "EUR", Lot: lot}},
		"a share of one set": {&planner.Cost{Currency: "EUR", Paid: sum(7.00), Lot: lot}, nil},
	} {
		s := box(20, 10, 8)
		s.Cost = c.cost
		kept, other, err := Sawn(s, upcut(10, 5, 0, 0.3), geometry.Vec2{X: 4, Y: 5})
		require.NoError(t, err)
		assert.Equal(t, c.cost, kept.Cost, name)
		assert.Equal(t, c.other, other.Cost, name)
	}
}
