package cuts

import (
	"context"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cabwright/geometry"
	"cabwright/planner"
	"cabwright/planner/search"
	"cabwright/presets"
)

// planOfOne is a plan with one round and, where asked for, a freeform that is round too.
func planOfOne(t *testing.T, b *Body, freeform bool) search.Plan {
	t.Helper()
	f := placed(t, "round", 8, 8, 1.6, 10, 8, 1, "").Fit
	f.DomeStyle = "low"
	plan := search.Plan{Stone: b.Stone, Fits: []search.Fit{f}}
	if freeform {
		site, err := search.Open(b.Stone)
		require.NoError(t, err)
		c, pose, ok := site.Freeform(context.Background(), presets.Builtin(), f.Candidate, f.Pose, 0)
		require.True(t, ok)
		plan.Fits = append(plan.Fits, search.Weigh(b.Stone, b.Rough, presets.Builtin(), c, pose))
	}
	return plan
}

// A block of 40 x 16 mm, 7 high, cut in two: two freeforms together have no more room in
// plan than the block less the kerf and what the skin takes; cut across the middle each has
// about a rectangle of 18.9 x 15 mm, of which four tenths is little to ask. Without a
// freeform in the plan none is laid.
func TestFreeformsOnPieces(t *testing.T) {
	b := body(t, box(40, 16, 7))
	for _, freeform := range []bool{false, true} {
		layouts, err := Several(context.Background(), b, presets.Builtin(), planOfOne(t, b, freeform),
			Options{Stones: 2, Bench: sawing(0.3)}, nil)
		require.NoError(t, err)
		most, least := 0, math.Inf(1)
		for _, l := range layouts {
			most = max(most, len(l.Fits))
			for _, f := range l.Fits {
				if !freeform {
					assert.True(t, calibrated(f.Fit))
				}
				if len(l.Fits) < 2 || calibrated(f.Fit) {
					continue
				}
				least = min(least, f.Solid.Outline.Area())
				for _, s := range l.Steps {
					side := signOf(f.Piece[len(s.Piece)])
					assert.GreaterOrEqual(t, s.Room(f.Fit, side, 0.5), -1e-9, "too near to the cut")
				}
				assert.GreaterOrEqual(t, f.Clearance, 0.0)
			}
		}
		require.Equal(t, 2, most)
		if freeform {
			require.False(t, math.IsInf(least, 1), "no freeforms")
			pieces := geometry.Area(b.Stone.Outline) - 16*0.3 - 2*(2*0.5*16)
			assert.Less(t, 2*least, pieces)
			assert.Greater(t, least, 0.4*18.9*15)
		}
	}
}

// What is grown on the tables is about what the exact shapes hold: in a block, where the
// tables are exact but for their steps, to some percent.
func TestGrownOnTablesAsOnTheExactShapes(t *testing.T) {
	b := body(t, box(20, 16, 6))
	plan := planOfOne(t, b, true)
	l := &layer{b: b, skin: 0.5, kinds: kindsOf(plan, presets.Builtin())}
	require.NoError(t, l.open())
	for i := range l.kinds {
		k := &l.kinds[i]
		from := bud{kind: k, at: geometry.Vec3{X: 9, Y: 8.5, Z: 1}, width: 8}
		grown := l.grow.grow(from, nil, 0.8, 0.1)
		c, pose := grown.candidate()
		exact, _, ok := l.whole.Freeform(context.Background(), presets.Builtin(), c, pose, 0)
		if grown.volume == 0 {
			continue
		}
		require.True(t, ok)
		assert.InEpsilon(t, exact.Solid.Volume(), grown.volume, 0.12, "%s dome", k.style.Key)
	}
}

// A parting cut into an open crack is left out where one with none gives 95% of the
// weight, and only there; sealed, the crack is no reason.
func TestPartingCutsIntoOpenCracks(t *testing.T) {
	s := box(40, 16, 7)
	s.Cracks = []planner.Crack{{ID: "C1", Path: []geometry.Vec2{{X: 20, Y: 4}, {X: 20, Y: 12}}, Face: planner.Top,
		Depth: 3}}
	laid := func(x, carat float64) arrangement {
		f := placed(t, "round", 6, 6, 1, 5, 8, 1, "-")
		f.Carat = carat
		return arrangement{fits: []Placed{f}, cuts: []Cut{upcut(x, 8, 0, 0.3)}}
	}
	for _, c := range []struct {
		clean  float64
		sealed bool
		left   int
	}{{0.96, false, 1}, {0.94, false, 2}, {0.96, true, 2}} {
		s.Cracks[0].Sealed = c.sealed
		l := &layer{ctx: context.Background(), b: body(t, s), slots: make(chan struct{}, 2)}
		assert.Len(t, l.withoutOpening([]arrangement{laid(20, 1), laid(30, c.clean)}), c.left, "%+v", c)
	}
}
