package planner

import (
	"encoding/json"
	"math"
	"math/rand/v2"
	"testing"

	"cabwright/geometry"
	"cabwright/planner/money"

	"github.com/stretchr/testify/require"
)

func TestCutsArePlacedMovedAndTakenAway(t *testing.T) {
	s := marked(t)
	s, err := AddCut(s, Cut{Point: v3(1, 2, 3), Normal: v3(1, 0, 0), Kerf: 0.3})
	require.NoError(t, err)
	require.Equal(t, "K1", s.Cuts[0].ID)
	s.Cuts[0].Unknown = []UnknownKey{{Name: "blade", Value: json.RawMessage("7")}}
	moved, err := ReplaceCut(s, "K1", Cut{Point: v3(2, 2, 3), Normal: v3(0, 1, 0), Kerf: 0.5})
	require.NoError(t, err)
	require.Equal(t, v3(2, 2, 3), moved.Cuts[0].Point)
	require.Equal(t, "blade", moved.Cuts[0].Unknown[0].Name, "what is not known stays with the cut")
	require.Equal(t, v3(1, 2, 3), s.Cuts[0].Point, "the stone before the edit is as it was")
	gone, err := DeleteCut(moved, "K1")
	require.NoError(t, err)
	require.Empty(t, gone.Cuts)
	for _, bad := range []struct {
		do   func() (Stone, error)
		what string
	}{
		{func() (Stone, error) { return AddCut(s, Cut{ID: "C1", Normal: v3(1, 0, 0)}) }, "there is a mark or cut C1 already"},
		{func() (Stone, error) { return AddCut(s, Cut{}) }, "cuts[1].normal: gives no direction"},
		{func() (Stone, error) { return AddCut(s, Cut{Normal: v3(1, 0, 0), Kerf: math.NaN()}) }, "cuts[1].kerf"},
		{func() (Stone, error) { return ReplaceCut(s, "K9", Cut{}) }, "there is no cut K9"},
		{func() (Stone, error) { return DeleteCut(s, "K9") }, "there is no cut K9"},
		{func() (Stone, error) { return AddCrack(s, Crack{ID: "K1"}) }, "there is a mark K1 already"},
	} {
		same, err := bad.do()
		require.ErrorContains(t, err, bad.what)
		require.True(t, same.Equal(s))
	}
}

// A point of the cut's plane that goes with the stone lies in the plane after
// the edit, and what lay on its normal's side still does.
func TestCutsGoWithTheStone(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	any := func() geometry.Vec3 { return v3(r.NormFloat64(), r.NormFloat64(), r.NormFloat64()) }
	for range 200 {
		s := marked(t)
		s, err := AddCut(s, Cut{Point: any().Scale(5), Normal: any(), Kerf: 0.3})
		require.NoError(t, err)
		k := s.Cuts[0]
		// The corners of the outline at some height carry a point along.
		spot := r.IntN(len(s.Outline))
		before := geometry.Vec3{X: s.Outline[spot].X, Y: s.Outline[spot].Y, Z: 5 * r.NormFloat64()}
		side := before.Sub(k.Point).Dot(k.Normal)
		degrees := 720*r.Float64() - 360
		sum := heightSum(s)
		for name, edit := range map[string]func(Stone) (Stone, error){
			"turn":  func(s Stone) (Stone, error) { return TurnOutline(s, degrees) },
			"scale": func(s Stone) (Stone, error) { return ScaleOutlineTo(s, 31, 12) },
			"over":  TurnOver,
		} {
			o, err := edit(s)
			require.NoError(t, err)
			after := geometry.Vec3{X: o.Outline[spot].X, Y: o.Outline[spot].Y, Z: before.Z}
			if name == "over" {
				after.Z = sum - before.Z
			}
			got := after.Sub(o.Cuts[0].Point).Dot(o.Cuts[0].Normal)
			require.InDelta(t, k.Normal.Norm(), o.Cuts[0].Normal.Norm(), 1e-5, name)
			if name == "scale" { // distances change, sides do not
				require.True(t, math.Abs(side) < 1e-3 || math.Signbit(got) == math.Signbit(side), name)
				continue
			}
			require.InDelta(t, side, got, 1e-4, name)
		}
		back, err := TurnOver(s)
		require.NoError(t, err)
		back, err = TurnOver(back)
		require.NoError(t, err)
		require.InDelta(t, 0, back.Cuts[0].Point.Sub(k.Point).Norm(), 1e-5)
		require.InDelta(t, 0, back.Cuts[0].Normal.Sub(k.Normal).Norm(), 1e-5)
	}
}

func TestUnsureHeightsTurnOverWithThePocket(t *testing.T) {
	s := marked(t)
	i := len(s.Pockets)
	s, err := AddPocket(s, Pocket{Outline: s.Pockets[0].Outline, Face: Inside, Low: 3, High: 4,
		TopRange: &Range{Least: 3.5, Most: 5}, BottomRange: &Range{Least: 2, Most: 3.25}})
	require.NoError(t, err)
	o, err := TurnOver(s)
	require.NoError(t, err)
	sum := heightSum(s)
	require.Equal(t, Range{Least: tidy(sum - 5), Most: tidy(sum - 3.5)}, *o.Pockets[i].BottomRange)
	require.Equal(t, Range{Least: tidy(sum - 3.25), Most: tidy(sum - 2)}, *o.Pockets[i].TopRange)
	require.Equal(t, Range{Least: 3.5, Most: 5}, *s.Pockets[i].TopRange, "the stone before the edit is as it was")
	back, err := TurnOver(o)
	require.NoError(t, err)
	require.True(t, back.Equal(s))
	through, err := ReplacePocket(s, s.Pockets[i].ID, Pocket{Outline: s.Pockets[0].Outline, Face: Through,
		TopRange: s.Pockets[i].TopRange})
	require.NoError(t, err)
	require.Nil(t, through.Pockets[i].TopRange, "a pocket right through has no top to be unsure of")
}

func TestCostAndDiaryAreEditedAndUndone(t *testing.T) {
	h := NewHistory(marked(t))
	paid, err := money.ParseFigures("84.00")
	require.NoError(t, err)
	lot := &Lot{Name: "Kettle Creek", Carat: 135, Paid: &paid}
	require.NoError(t, h.Do("Set cost", func(s Stone) (Stone,
		error) {
		return SetCost(s, &Cost{Currency: "EUR", Lot: lot})
	}))
	lot.Paid = nil // the caller's own: not the stone's
	require.Equal(t, "84.00", h.Stone().Cost.Lot.Paid.Figures())
	less := money.Of(-1.5)
	require.NoError(t, h.Do("Add entry", func(s Stone) (Stone,
		error) {
		return AddEntry(s, Entry{Date: "2026-05-02", Stage: "sawn"})
	}))
	require.ErrorContains(t, h.Do("Add entry", func(s Stone) (Stone,
		error) {
		return AddEntry(s, Entry{Date: "5/2", Stage: "sawn"})
	}),
		`diary[1].date: "5/2" is not a date`)
	require.ErrorContains(t, h.Do("Set cost", func(s Stone) (Stone,
		error) {
		return SetCost(s, &Cost{Currency: "Taler"})
	}), "cost.currency")
	require.ErrorContains(t, h.Do("Set cost", func(s Stone) (Stone,
		error) {
		return SetCost(s, &Cost{Currency: "EUR", Paid: &less})
	}), "cost.paid")
	require.NoError(t, h.Do("Set cost", func(s Stone) (Stone, error) { return SetCost(s, nil) }))
	for range 3 {
		_, err := h.Undo()
		require.NoError(t, err)
	}
	require.True(t, h.Stone().Equal(marked(t)))
}
