package search

import (
	"context"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"cabwright/planner"
	"cabwright/planner/search/internal/searchtest"
	"cabwright/presets"
)

// An oval lies within the cushion of its size and touches its four sides: the cushion
// waits for the oval's verdict, and a refusal of the oval is one of the cushion, though
// the bound on how far the oval sticks out of it is not quite zero.
func TestCushionWaitsForTheOvalInIt(t *testing.T) {
	stone := searchtest.Demo(t, "one-crack")
	rough, err := planner.NewRough(stone)
	require.NoError(t, err)
	r := newRun(context.Background(), stone, rough, presets.Builtin(), Options{Level: true}.filled())
	find := func(shape, dome, back string, face planner.Face) *trial {
		k := slices.IndexFunc(r.trials, func(t *trial) bool {
			o := t.Solid.Outline
			sized := o.Shape == shape && o.Length == 18 && o.Width == 13
			return sized && t.Face == face && t.DomeStyle == dome && t.BackStyle == back
		})
		require.GreaterOrEqual(t, k, 0)
		return r.trials[k]
	}
	oval, cushion := find("oval", "low", "flat", planner.Top), find("cushion", "low", "flat", planner.Top)
	higher, turned := find("oval", "high", "flat", planner.Top), find("cushion", "low", "flat", planner.Base)
	lightestFirst := []*trial{oval, cushion, higher}

	require.True(t, r.waits(cushion, lightestFirst))
	require.True(t, r.waits(higher, lightestFirst), "a higher dome on the same outline")
	require.False(t, r.waits(oval, lightestFirst), "nothing lighter")
	require.False(t, r.waits(turned, lightestFirst), "the other face")
	require.False(t, r.waits(cushion, []*trial{cushion}), "the oval is not asked about")

	oval.bound = r.want
	r.ruleOut(oval)
	require.Equal(t, CannotFit, cushion.verdict)
	require.Same(t, oval, cushion.from)
	require.Less(t, cushion.bound, 0.0)
	require.Equal(t, CannotFit, higher.verdict)
	require.Equal(t, Undecided, turned.verdict)
	require.False(t, r.waits(cushion, lightestFirst), "the oval is decided")
}

// A refusal goes below zero by what touching solids need, but never below what an
// allowance makes sure of: in an obstacle the clearance is minus that.
func TestRefusalsGoNoLowerThanAnAllowance(t *testing.T) {
	stone := searchtest.Demo(t, "one-crack")
	for _, skin := range []float64{0, 0.0004, 0.5} {
		stone.Allowances.Skin = skin
		rough, err := planner.NewRough(stone)
		require.NoError(t, err)
		r := newRun(context.Background(), stone, rough, presets.Builtin(), Options{Level: true}.filled())
		require.InDelta(t, -min(skin, touching), r.want, 1e-15)
	}
}
