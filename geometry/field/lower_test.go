package field

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
)

// No lower bound is above the twin's distance, which is right to a millionth;
// on surfaces like a stone's, those that can matter are close to it.
func TestLowerBoundsHoldAgainstTheTwin(t *testing.T) {
	const tolerance = 2e-6
	near, all := 0, 0
	for seed := uint64(0); seed < 32; seed++ {
		w := draw(t, seed)
		w.f.Prepare(1)
		r := rand.New(rand.NewPCG(seed, 13))
		for range 20 {
			p := w.inside(r)
			d, in := w.w.each(p)
			least, outside := math.Inf(1), false
			for i := range d {
				least, outside = math.Min(least, d[i]), outside || in[i]
			}
			enough := 3 * r.Float64()
			for _, e := range []float64{math.Inf(1), enough} {
				w.f.each(p, e, func(i int, c float64) {
					require.LessOrEqual(
						t, c, d[i]+tolerance, "seed %d, obstacle %d (%d sheets) at %v, enough %g", seed, i, len(w.w.sheets), p, e,
					)
				})
				require.LessOrEqual(t, w.f.Lower(p, e), least+tolerance, "seed %d at %v, enough %g", seed, p, e)
			}
			require.LessOrEqual(t, w.f.AtLeast(p), least+tolerance, "seed %d at %v", seed, p)
			if outside || w.curly || least > 1.5 {
				continue
			}
			all++
			if w.f.Lower(p, math.Inf(1)) > least-0.01 {
				near++
			}
		}
	}
	require.Greater(t, all, 150)
	require.GreaterOrEqual(t, float64(near), 0.98*float64(all))
}

// A small step changes the bound by no more than itself and its own exactness.
func TestLowerIsContinuous(t *testing.T) {
	r := rand.New(rand.NewPCG(31, 0))
	for range 30 {
		s := newSpecimen(r)
		for range 100 {
			p, reach := s.place(r), Reach{Plan: 0.05, Rise: 0.05}
			e := within(r, reach)
			a, b := s.field.Lower(p, math.Inf(1)), s.field.Lower(p.Add(e), math.Inf(1))
			if min(a, b) > 0 && max(a, b) < 1 {
				require.LessOrEqual(t, math.Abs(a-b), e.Norm()+2*exactness, "from %v by %v", p, e)
			}
		}
	}
}
