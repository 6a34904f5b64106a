package field

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"cabwright/geometry"
)

// Every row bounds the clearance from above wherever its displacement may go,
// unless that leads into an obstacle.
func TestRowsHoldAgainstTheTwin(t *testing.T) {
	const tolerance = 1e-6 // the twin's pattern search ends well below that
	checked := 0
	for seed := uint64(0); seed < 32; seed++ {
		w := draw(t, seed)
		r := rand.New(rand.NewPCG(seed, 12))
		for range 12 {
			p := w.inside(r)
			reach := Reach{Plan: 4 * math.Pow(r.Float64(), 2), Rise: 4 * math.Pow(r.Float64(), 2)}
			rows := w.f.Rows(p, reach, nil, math.Inf(1), nil)
			for range 6 {
				e := within(r, reach)
				d, in := w.w.each(p.Add(e))
				if slices.Contains(in, true) {
					continue
				}
				for _, row := range rows {
					checked++
					bound := row.Value + row.Gradient.Dot(e) + row.Slack
					require.GreaterOrEqual(
						t, bound, slices.Min(d)-tolerance, "seed %d: %+v at %v by %v, clearances %v", seed, row, p, e, d,
					)
				}
			}
		}
	}
	require.Greater(t, checked, 15000)
}

// within draws a displacement, often one at the edge of the reach.
func within(r *rand.Rand, by Reach) geometry.Vec3 {
	s, c := math.Sincos(2 * math.Pi * r.Float64())
	plan, rise := by.Plan*math.Sqrt(r.Float64()), by.Rise*(2*r.Float64()-1)
	if r.IntN(2) == 0 {
		plan = by.Plan
	}
	return geometry.Vec3{X: plan * c, Y: plan * s, Z: rise}
}
