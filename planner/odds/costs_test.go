package odds

import (
	"context"
	"testing"

	"github.com/stretchr/testify/require"

	"cabwright/planner"
	"cabwright/planner/search"
)

// Half the spare is a choice where some is wanted; what it gains counts the fits that
// have that much, and the search is asked for it.
func TestASmallerSpareIsAChoice(t *testing.T) {
	s := slab(10)
	require.Len(t, Choices(s, 0), 1, "a thinner skin only")
	choices := Choices(s, 0.4)
	v := choices[len(choices)-1]
	require.Equal(t, "0.2 mm to spare, not 0.4", v.Name)
	fit := func(carat, clearance float64) search.Fit { return search.Fit{Carat: carat, Clearance: clearance} }
	fits := []search.Fit{fit(9, 0.1), fit(7, 0.25), fit(5, 0.5)}
	require.Equal(t, 5.0, Heaviest(fits, 0.4))
	asked := -1.0
	find := func(_ context.Context, _ planner.Stone, opt search.Options, _ func(search.Plan)) (search.Plan, error) {
		asked = opt.Spare
		return search.Plan{Fits: fits, Stopped: search.Complete}, nil
	}
	c, err := Gain(context.Background(), find, v, 5, search.Options{Spare: 0.4}, nil)
	require.NoError(t, err)
	require.InDelta(t, 0.2, asked, 1e-12)
	require.Equal(t, Cost{"spare", v.Name, 2, true}, c)
}

// All marks together cost no less than the dearest of them.
func TestAllMarksCostNoLessThanOne(t *testing.T) {
	c1, p1 := Cost{ID: "C1", AtLeast: 0.9}, Cost{ID: "P1", AtLeast: 0.6}
	all, each := together([]Cost{c1, p1, {What: "without any of them", AtLeast: 0.8}})
	require.Equal(t, []Cost{c1, p1}, each)
	require.Equal(t, Cost{What: "without any of them", AtLeast: 0.9}, all)
	all, _ = together([]Cost{c1})
	require.Equal(t, 0.9, all.AtLeast)
	all, each = together(nil)
	require.Zero(t, all)
	require.Empty(t, each)
}
