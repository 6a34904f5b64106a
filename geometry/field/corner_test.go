package field

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"cabwright/geometry"
)

// drawSpan draws a span, some of whose variables move nothing, and the reach
// that holds it.
func drawSpan(r *rand.Rand) (Span, Reach) {
	vec := func(most float64) geometry.Vec3 {
		return geometry.Vec3{X: uniform(r, -most, most), Y: uniform(r, -most, most), Z: uniform(r, -most, most)}
	}
	s := Span{N: r.IntN(Moves + 1), Bow: 0.1 * r.Float64() * r.Float64()}
	s.Shift = vec(0.1 * r.Float64())
	reach := Reach{Plan: s.Shift.XY().Norm() + s.Bow, Rise: math.Abs(s.Shift.Z) + s.Bow}
	size := math.Pow(r.Float64(), 2)
	for j := range s.N {
		if r.IntN(5) == 0 {
			continue
		}
		s.By[j] = vec(size)
		reach.Plan += s.By[j].XY().Norm()
		reach.Rise += math.Abs(s.By[j].Z)
	}
	return s, reach
}

// Every row made for a span bounds the clearance from above all over it, at its
// corners above all.
func TestBentRowsHoldAgainstTheTwin(t *testing.T) {
	const tolerance = 1e-6 // the twin's pattern search ends well below that
	bent, tight := 0, 0
	for seed := uint64(0); seed < 32; seed++ {
		w := draw(t, seed)
		r := rand.New(rand.NewPCG(seed, 13))
		for range 40 {
			p := w.inside(r)
			span, reach := drawSpan(r)
			rows := w.f.Rows(p, reach, &span, math.Inf(1), nil)
			for k := range 6 {
				e, y := span.Shift, [Moves]float64{}
				for j := range span.N {
					y[j] = uniform(r, -1, 1)
					if k%2 == 0 {
						y[j] = math.Copysign(1, y[j])
					}
					e = e.Add(span.By[j].Scale(y[j]))
				}
				away := geometry.Vec3{X: r.NormFloat64(), Y: r.NormFloat64(), Z: r.NormFloat64()}
				e = e.Add(away.Scale(span.Bow / away.Norm()))
				d, in := w.w.each(p.Add(e))
				if slices.Contains(in, true) {
					continue
				}
				for _, row := range rows {
					if !row.Bent {
						continue
					}
					bent++
					bound := row.Value + row.Slack
					for j := range span.N {
						bound += row.Coef[j] * y[j]
					}
					if bound < d[row.Obstacle]+0.02 {
						tight++
					}
					require.GreaterOrEqual(
						t, bound, min(d[row.Obstacle], d[Skin])-tolerance, "seed %d: %+v at %v, span %+v, y %v, clearances %v", seed,
						row, p, span, y, d,
					)
				}
			}
		}
	}
	require.Greater(t, bent, 800)
	require.Greater(t, tight, bent/20, "rows this loose would prove nothing")
}
