package climbing

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"cabwright/geometry/field"
	"cabwright/planner/search/internal/bounds"
	"cabwright/planner/search/internal/poses"
	"cabwright/planner/search/internal/searchtest"
)

// value is what the climbs go by: near the exact clearance of its samples, from
// either side. Mostly to a hundredth; beside a crack's bends the tables are
// coarser (0.13 mm is the most that was seen), which the exact check makes up for.
func TestValueNearExact(t *testing.T) {
	r := searchtest.Random(12)
	seen, close := 0, 0
	climbers(t, r, searchtest.ManySolids/2, func(f *field.Field, p *bounds.Prober) {
		for range 10 {
			at, v := Climb(p, anyPose(r, p), 12, CloseTrust)
			pose, exact := p.Model.Pose(at), math.Inf(1)
			for _, s := range p.Model.Samples {
				exact = min(exact, f.Lower(pose.Place(p.Model.Own(s)), exact+s.Radius)-s.Radius)
			}
			if exact > -0.2 && exact < 0.5 {
				seen++
				require.InDelta(t, exact, v, 0.25, "at %v", at)
				if math.Abs(exact-v) < 0.02 {
					close++
				}
			}
		}
	})
	require.Greater(t, seen, 5*searchtest.ManySolids/4)
	require.Greater(t, float64(close), 0.8*float64(seen))
}

// A climb never ends lower than it began, nor beyond the tilt limit.
func TestClimbGoesUp(t *testing.T) {
	r := searchtest.Random(13)
	gained := 0
	climbers(t, r, searchtest.ManySolids/2, func(_ *field.Field, p *bounds.Prober) {
		for range 10 {
			from := anyPose(r, p)
			before := p.Value(from, math.Inf(-1))
			at, v := Climb(p, from, 20, CloseTrust)
			require.GreaterOrEqual(t, v, before)
			require.InDelta(t, p.Value(at, math.Inf(-1)), v, 1e-12)
			require.LessOrEqual(t, at.Tilt(), p.TiltMax+1e-9)
			if v > before+0.1 {
				gained++
			}
		}
	})
	require.Greater(t, gained, 5*searchtest.ManySolids/4)
}

// climbers calls do with probers on random small stones: all solids, both
// faces, level and tilted.
func climbers(t testing.TB, r *rand.Rand, n int, do func(f *field.Field, p *bounds.Prober)) {
	solids := searchtest.Modest()
	for k := range n {
		s := searchtest.SmallStone(r)
		f := searchtest.FieldOf(t, s)
		m := poses.NewModel(solids[k%len(solids)], r.IntN(2) == 0)
		do(f, bounds.NewProber(f, m, []float64{0, 0.26}[r.IntN(2)]))
	}
}

// anyPose draws a pose of the prober's domain within the tilt limit.
func anyPose(r *rand.Rand, p *bounds.Prober) poses.Coord {
	d := p.Domain()
	c := d.At
	for j := range p.Vars() {
		c[j] += searchtest.Between(r, -1, 1) * d.Half[j]
	}
	return poses.Within(c, p.TiltMax)
}
