package proofs

import (
	"context"
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
