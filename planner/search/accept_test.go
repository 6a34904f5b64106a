package search

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"cabwright/geometry"
	"cabwright/geometry/field"
	"cabwright/geometry/geomtest"
	"cabwright/planner/search/internal/bounds"
	"cabwright/planner/search/internal/certify"
	"cabwright/planner/search/internal/climbing"
	"cabwright/planner/search/internal/poses"
	"cabwright/planner/search/internal/searchtest"
)

// What accept takes keeps every allowance on a dense net, and the certified
// clearance is below the net's but not by more than the resolution and what the
// net cannot see.
func TestCertifiedAgainstDenseSampling(t *testing.T) {
	t.Parallel()
	r := searchtest.Random(14)
	fits, near := 0, 0
	onStones(t, r, 2*searchtest.ManySolids, func(f *field.Field, p *bounds.Prober) {
		best, at := math.Inf(-1), poses.Coord{}
		for range 8 {
			if c, v := climbing.Climb(p, randomPose(r, p), 20, climbing.CloseTrust); v > best {
				best, at = v, c
			}
		}
		tr := &trial{Candidate: Candidate{Solid: p.Model.Solid}, model: p.Model, value: -1e9}
		if fits, _ := accept(p, tr, at, 30); !fits {
			return
		}
		fits++
		require.Equal(t, Fits, tr.verdict)
		full := p.Certify(tr.at, math.Inf(1), certify.Resolution)
		skin := geomtest.Skin(p.Model.Solid, 160)
		dense := searchtest.DenseClearance(f, skin, p.Model.Pose(tr.at))
		require.GreaterOrEqual(t, full.Lower, 0.0)
		require.GreaterOrEqual(t, full.Least, full.Lower)
		// Far from every obstacle field.Lower gives away some tenths, which would tell
		// on the net; near one it is exact.
		if full.Least < 0.4 && dense < 0.4 {
			near++
			require.LessOrEqual(t, full.Lower, dense+1e-6, "%v at %v", p.Model.Solid, tr.at)
			require.GreaterOrEqual(t, full.Lower, dense-certify.Resolution-0.01, "%v at %v", p.Model.Solid, tr.at)
		}
		require.InDelta(
			t, full.Least, f.Lower(p.Model.Pose(tr.at).Place(full.Worst), math.Inf(1)), 0.02,
			"the worst point is where it says",
		)
		pulled := geometry.Vec3{X: full.Worst.X * (1 - 1e-9), Y: full.Worst.Y * (1 - 1e-9), Z: full.Worst.Z}
		require.LessOrEqual(t, geomtest.Outside(p.Model.Solid, pulled), 1e-6)
	})
	require.Greater(t, fits, searchtest.ManySolids/4)
	require.Greater(t, near, searchtest.ManySolids/8)
}
