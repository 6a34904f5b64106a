package odds

import (
	"context"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"cabwright/geometry"
	"cabwright/geometry/outline"
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
	var asked search.Options
	find := func(_ context.Context, _ planner.Stone, opt search.Options, _ func(search.Plan)) (search.Plan, error) {
		asked = opt
		return search.Plan{Fits: fits, Stopped: search.Complete}, nil
	}
	plan := search.Plan{Stone: s, Fits: fits}
	c, err := Gain(context.Background(), find, v, plan, search.Options{Spare: 0.4}, nil)
	require.NoError(t, err)
	require.InDelta(t, 0.2, asked.Spare, 1e-12)
	require.Equal(t, &plan, asked.After, "what still holds is not found again")
	require.Equal(t, Cost{"spare", v.Name, 2, true}, c)
}

// slabWithPocket is 10 mm thick, with a sure pocket in its base.
func slabWithPocket() planner.Stone {
	s := slab(10)
	s.Pockets = []planner.Pocket{basePocket("P1", 0)}
	s.Pockets[0].DepthRange = nil
	return s
}

// A freeform that a search without a mark finds, and that has room with the mark there too,
// is nothing that the mark costs: the plan's own freeform was never known to be the best.
func TestAFreeformWithRoomAnywayIsNoCost(t *testing.T) {
	s := slabWithPocket()
	freeformAt := func(z, carat float64) search.Fit {
		f := cabochon(t, z)
		polygon := make([]geometry.Vec2, 12)
		for i := range polygon {
			sin, cos := math.Sincos(2 * math.Pi * float64(i) / 12)
			polygon[i] = geometry.Vec2{X: 4 * cos, Y: 3 * sin}
		}
		var err error
		f.Solid.Outline, err = outline.Freeform(polygon)
		require.NoError(t, err)
		f.Carat = carat
		return f
	}
	v := Without(s)[0]
	gain := func(found ...search.Fit) float64 {
		find := func(context.Context, planner.Stone, search.Options, func(search.Plan)) (search.Plan, error) {
			return search.Plan{Fits: found, Stopped: search.Complete}, nil
		}
		plan := search.Plan{Stone: s, Fits: []search.Fit{{Carat: 5}}}
		c, err := Gain(context.Background(), find, v, plan, search.Options{}, nil)
		require.NoError(t, err)
		return c.AtLeast
	}
	// The pocket goes 2 mm deep and keeps 0.5: a flat at 3 has room, one at 2 has not.
	require.Equal(t, 0.0, gain(freeformAt(3, 6)))
	require.Equal(t, 1.0, gain(freeformAt(2, 6)))
	require.Equal(t, 2.0, gain(freeformAt(3, 6), freeformAt(2, 8)))
}

// A cost is known for good only where nothing heavier was left undecided.
func TestACostIsDecidedWhenNothingHeavierIsOpen(t *testing.T) {
	v := Without(slabWithPocket())[0]
	for open, decided := range map[float64]bool{0: true, 5.5: true, 7: false} {
		find := func(_ context.Context, _ planner.Stone, _ search.Options, emit func(search.Plan)) (search.Plan, error) {
			p := search.Plan{Fits: []search.Fit{{Carat: 6}}, Settled: true, HeaviestOpen: open}
			emit(p)
			return p, nil
		}
		plan := search.Plan{Stone: slabWithPocket(), Fits: []search.Fit{{Carat: 5}}}
		c, err := Gain(context.Background(), find, v, plan, search.Options{}, nil)
		require.NoError(t, err)
		require.Equal(t, Cost{"P1", v.Name, 1, decided}, c, "%g ct open", open)
	}
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
