package field

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"cabwright/geometry"
)

// The slopes' least value is the estimate, the estimate is near the truth, and a
// step along any direction changes each by its gradient.
func TestSlopesAgainstTheDistances(t *testing.T) {
	r := rand.New(rand.NewPCG(41, 1))
	const step = 1e-4
	off, turned, all, differ := 0, 0, 0, 0
	for range 60 {
		s := newSpecimen(r)
		for range 60 {
			p := s.place(r)
			truth := s.field.Lower(p, math.Inf(1))
			if truth < -0.3 || truth > 1.5 {
				continue // climbing happens near contacts
			}
			rows := s.field.Slopes(p, math.Inf(1), nil)
			least := math.Inf(1)
			for _, row := range rows {
				least = min(least, row.Value)
			}
			estimate := s.field.Estimate(p, math.Inf(1))
			all++
			if math.Abs(estimate-truth) > 0.03 {
				off++
			}
			if estimate > 0 && math.Abs(least-estimate) > 1e-3 {
				differ++
			}
			e := geometry.Vec3{X: r.NormFloat64(), Y: r.NormFloat64(), Z: r.NormFloat64()}
			e = e.Scale(step / e.Norm())
			next := s.field.Slopes(p.Add(e), math.Inf(1), nil)
			if len(next) != len(rows) {
				continue
			}
			for k, row := range rows {
				if math.Abs(next[k].Value-row.Value-row.Gradient.Dot(e)) > 0.1*step {
					turned++ // another node, another edge: the tables have steps
				}
			}
			limit := truth + 0.5
			for _, row := range s.field.Slopes(p, limit, nil) {
				require.Less(t, row.Value, limit)
			}
		}
	}
	require.Greater(t, all, 500)
	require.Less(t, off, all/50, "of %d", all)
	require.Zero(t, differ, "of %d", all)
	require.Less(t, turned, all/10, "of %d", all)
}
