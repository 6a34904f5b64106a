package proofs

import (
	"context"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"cabwright/geometry/geomtest"
	"cabwright/planner/search/internal/bounds"
	"cabwright/planner/search/internal/poses"
	"cabwright/planner/search/internal/searchtest"
)

// A proof looks at the context every few boxes, and can be taken up again.
func TestProofStops(t *testing.T) {
	f := searchtest.FieldOf(t, searchtest.Demo(t, "one-crack"))
	p := bounds.NewProber(f, poses.NewModel(geomtest.Cab("oval", 18, 13, 5, 0), false), 0.2)
	whole := Prove(context.Background(), p, New(p), Goal{Budget: 500, Soft: 500})
	require.Equal(t, 500, whole.Boxes, "a proof that takes long")
	ctx, cancel := context.WithCancel(context.Background())
	h := New(p)
	first := Prove(ctx, p, h, Goal{Budget: 100, Soft: 500})
	require.Equal(t, 100, first.Boxes)
	cancel()
	stopped := Prove(ctx, p, h, Goal{Budget: 500, Soft: 500})
	require.Less(t, stopped.Boxes, 64)
	require.False(t, stopped.Done)
	rest := Prove(context.Background(), p, h, Goal{Budget: 500, Soft: 500})
	require.Equal(t, whole.Bound, rest.Bound, "no box is lost on the way")
}

// A proof that is left with a box too narrow to divide goes on as long as others may hold
// more than being undecided will do for, and no longer.
func TestNarrowBoxesEndAProofOnlyNearTheGoal(t *testing.T) {
	goal := Goal{Want: 0, Close: 0.05, Soft: 100, Budget: 1000}
	state := func(left float64, waiting ...float64) *State {
		h := &State{left: left, pruned: math.Inf(-1), boxes: 10}
		for _, b := range waiting {
			h.queue = append(h.queue, bounds.Box{Bound: b})
		}
		return h
	}
	none := math.Inf(-1)
	for _, c := range []struct {
		what  string
		h     *State
		stops bool
	}{
		{"nothing near yet", state(none, 0.4, 0.2), false},
		{"a narrow one, and others above the goal", state(0.01, 0.07, 0.02), false},
		{"a narrow one, and the others near", state(0.01, 0.04, 0.02), true},
		{"a narrow one that never comes near", state(0.06, 0.4), true},
		{"near, but not for long", state(none, 0.04), false},
	} {
		require.Equal(t, c.stops, c.h.stops(context.Background(), goal), c.what)
	}
	h := state(none, 0.04)
	require.False(t, h.stops(context.Background(), goal))
	h.boxes += h.boxes/4 + goal.Soft
	require.True(t, h.stops(context.Background(), goal), "near, and for long")
}
