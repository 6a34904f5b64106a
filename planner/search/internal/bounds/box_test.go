package bounds

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"cabwright/geometry"
	"cabwright/geometry/field"
	"cabwright/geometry/geomtest"
	"cabwright/planner"
	"cabwright/planner/search/internal/certify"
	"cabwright/planner/search/internal/poses"
	"cabwright/planner/search/internal/searchtest"
	"cabwright/planner/search/internal/simplex"
)

// poseIn draws a pose of a box.
func poseIn(r *rand.Rand, c *Box, n int) poses.Coord {
	at := c.At
	for j := range n {
		at[j] += searchtest.Between(r, -1, 1) * c.Half[j]
	}
	return at
}

// randomCell draws a box of poses: wide ones as at the start of a proof, narrow
// ones as at its end, and flat ones as a cut leaves them.
func randomCell(r *rand.Rand, p *Prober) Box {
	d := p.Domain()
	c := Box{At: drawnPose(r, p), Bound: math.Inf(1)}
	width := math.Pow(10, searchtest.Between(r, -2.5, 0))
	for j := 0; j < p.lp.N; j++ {
		c.Half[j] = d.Half[j] * width * searchtest.Between(r, 0, 1)
	}
	return c
}

// goodPose is the best of some drawn at random.
func goodPose(r *rand.Rand, p *Prober) poses.Coord {
	best := drawnPose(r, p)
	for range 60 {
		if at := drawnPose(r, p); p.Value(at, math.Inf(-1)) > p.Value(best, math.Inf(-1)) {
			best = at
		}
	}
	return best
}

// withProbers calls do with probers on random small stones: all solids, both
// faces, level and tilted.
func withProbers(t testing.TB, r *rand.Rand, n int, do func(f *field.Field, p *Prober)) {
	solids := searchtest.Modest()
	for k := range n {
		s := searchtest.SmallStone(r)
		f := searchtest.FieldOf(t, s)
		m := poses.NewModel(solids[k%len(solids)], r.IntN(2) == 0)
		do(f, NewProber(f, m, []float64{0, 0.26}[r.IntN(2)]))
	}
}

// drawnPose draws a pose of the prober's domain within the tilt limit.
func drawnPose(r *rand.Rand, p *Prober) poses.Coord {
	d := p.Domain()
	c := d.At
	for j := 0; j < p.lp.N; j++ {
		c[j] += searchtest.Between(r, -1, 1) * d.Half[j]
	}
	return poses.Within(c, p.TiltMax)
}

// The bound of a box holds for every pose in it, and what shrink cuts off holds
// no pose with the wanted clearance. The clearance that it is held against is
// taken on a net that shares nothing with the search's samples: a net sees more
// clearance than there is, so it may exceed the bound by what lies between its
// points, and by nothing else.
func TestBoundOfABoxHolds(t *testing.T) {
	t.Parallel()
	r := searchtest.Random(11)
	boxes, cutOff, hits := 0, 0, 0
	withProbers(t, r, searchtest.ManyCells, func(f *field.Field, p *Prober) {
		skin := geomtest.Skin(p.Model.Solid, 48)
		for range 4 {
			c := randomCell(r, p)
			if r.IntN(2) == 0 {
				// Where it matters: about a pose that is good.
				c.At = goodPose(r, p)
			}
			want := searchtest.Between(r, -0.2, 0.3)
			whole := c
			bound := p.Shrink(&c, want).Bound
			boxes++
			for range 25 {
				at := poseIn(r, &whole, p.lp.N)
				exact := denseAndSampled(f, p, skin, at)
				if exact >= want {
					hits++
					require.GreaterOrEqual(t, bound, exact-netError, "pose %v in %+v", at, whole)
				}
				gone := false
				for j := 0; j < p.lp.N; j++ {
					gone = gone || math.Abs(at[j]-c.At[j]) > c.Half[j]+1e-9
				}
				if gone && bound >= want {
					cutOff++
					require.Less(t, exact, want+netError, "cut off: pose %v, left %+v", at, c)
				}
			}
		}
	})
	t.Logf("%d boxes, %d poses with the wanted clearance, %d cut off", boxes, hits, cutOff)
	require.Greater(t, hits, boxes/4)
	require.Greater(t, cutOff, boxes/4)
}

// netError is what denseAndSampled may be too high or the bound too low by, mm:
// the bound is over the search's own samples, whose clearance joins the net's,
// so only the field's own error is left: Lower is exact to a few micrometres
// from below, and the rows, as proofs says of finest, are as loose.
const netError = 0.004

// denseAndSampled is the least clearance over a net and the search's samples.
func denseAndSampled(f *field.Field, p *Prober, skin []geometry.Vec3, at poses.Coord) float64 {
	pose := p.Model.Pose(at)
	least := searchtest.DenseClearance(f, skin, pose)
	for _, s := range p.Model.Samples {
		least = min(least, f.Lower(pose.Place(p.Model.Own(s)), least+s.Radius)-s.Radius)
	}
	return least
}

// Every row of a sample bounds that sample's own clearance over the whole box, at
// its corners as well: the rows' slack is what a wide turn or tilt, or a curved
// obstacle, can add.
func TestRowsHoldForTheirSample(t *testing.T) {
	r := searchtest.Random(15)
	rows, tight := 0, 0
	withProbers(t, r, 2*searchtest.ManyCells, func(f *field.Field, p *Prober) {
		for range 4 {
			c := randomCell(r, p)
			if r.IntN(2) == 0 {
				c.Half[poses.Turn] = searchtest.Between(r, 0, 0.7)
			}
			fr := poses.NewFrame(c.At, p.Level)
			for range 8 {
				i := r.IntN(len(p.Model.Samples))
				s := p.Model.Samples[i]
				p.begin(math.Inf(1))
				p.sampleRows(&c, &fr, i, fr.R.Apply(s.At).Add(geometry.Vec3{X: c.At[0], Y: c.At[1], Z: c.At[2]}))
				for k := range 40 {
					var y [poses.Dims]float64
					at := c.At
					for j := range p.lp.N {
						y[j] = searchtest.Between(r, -1, 1)
						if k%2 == 0 {
							y[j] = math.Copysign(1, y[j]) // a corner
						}
						at[j] += y[j] * c.Half[j]
					}
					clear := f.Lower(p.Model.Pose(at).Place(p.Model.Own(s)), math.Inf(1)) - s.Radius
					if clear < 0 {
						continue // in an obstacle a row need not hold: see field.Row
					}
					require.GreaterOrEqual(t, p.ceiling, clear-netError)
					for _, row := range p.lp.Rows {
						v := row.B
						for j := range p.lp.N {
							v += row.A[j] * y[j]
						}
						rows++
						if v < clear+0.05 {
							tight++
						}
						require.GreaterOrEqual(t, v, clear-netError, "sample %+v at %v in %+v, obstacle %d", s, at, c, row.Obstacle)
						require.LessOrEqual(t, row.Low, v+1e-12)
					}
				}
			}
		}
	})
	require.Greater(t, tight, rows/50)
}

// What is cut off a box lies below the wanted clearance for one row or for the
// weighted sum of all.
func TestTightenCutsNothingWanted(t *testing.T) {
	r := searchtest.Random(16)
	kept, cut := 0, 0
	for range searchtest.ManyProgrammes {
		p := &Prober{lp: simplex.Solver{N: []int{poses.Dims, poses.Lean}[r.IntN(2)]}}
		p.lp.Rows = randomProgramme(r, p.lp.N, 1+r.IntN(20))
		bound := p.lp.Solve(math.Inf(-1))
		want := bound - searchtest.Between(r, 0, 1)
		best := p.lp.Point()
		lo, hi, left := p.tighten(bound, want)
		require.Greater(t, left, 0.0)
		for range 200 {
			y, least, out := best, math.Inf(1), false
			share := searchtest.Between(r, 0, 1) // from the optimum towards anywhere
			for j := range p.lp.N {
				y[j] += share * (searchtest.Between(r, -1, 1) - y[j])
				out = out || y[j] < lo[j]-1e-9 || y[j] > hi[j]+1e-9
			}
			for _, row := range p.lp.Rows {
				v := row.B
				for j := range p.lp.N {
					v += row.A[j] * y[j]
				}
				least = min(least, v)
			}
			if least >= want+1e-6 {
				kept++
				require.False(t, out, "%v is worth %g, wanted %g; kept %v to %v", y, least, want, lo, hi)
			} else if out {
				cut++
			}
		}
	}
	require.Greater(t, kept, searchtest.ManyProgrammes)
	require.Greater(t, cut, searchtest.ManyProgrammes)
}

// A defect wholly inside a solid touches none of its skin: only a point of the
// defect tells.
func TestCertifySeesWhatTheSkinCannot(t *testing.T) {
	s := searchtest.Slab([]geometry.Vec2{{X: -20, Y: -20}, {X: 20, Y: -20}, {X: 20, Y: 20}, {X: -20, Y: 20}}, 0, 30, 0.5)
	round := geomtest.Cab("round", 20, 20, 8, 8)
	s.Pockets = []planner.Pocket{{ID: "P1", Face: planner.Inside, Low: 14.9, High: 15.1,
		Outline: []geometry.Vec2{{X: -0.2, Y: -0.2}, {X: 0.2, Y: -0.2}, {X: 0.2, Y: 0.2}, {X: -0.2, Y: 0.2}}}}
	f := searchtest.FieldOf(t, s)
	m := poses.NewModel(round, false)
	p := NewProber(f, m, 0)
	at := poses.Coord{0, 0, 15}
	require.Less(t, p.Certify(at, math.Inf(1), certify.Resolution).Lower, 0.0)
	top := geometry.Vec3{Z: round.Wall + round.Dome}
	require.Less(
		t, certify.Whole(f, round, m.Pose(at), top, math.Inf(1), certify.Resolution).Lower, 0.0, "from the skin alone",
	)
	require.Less(t, p.Value(at, math.Inf(-1)), 0.0, "a ball sees it as well")
	at[0] = 11
	require.Less(t, p.Certify(at, math.Inf(1), certify.Resolution).Lower, 0.0, "too near the edge of the slab")
	s.Pockets = nil
	p = NewProber(searchtest.FieldOf(t, s), m, 0)
	// The skin is 10 + 0.5 mm from the sides, 30/2 - 8.6 - 0.5 from the faces.
	require.InDelta(
		t, 15-8.6-0.5, p.Certify(poses.Coord{0, 0, 15}, math.Inf(1), certify.Resolution).Lower, certify.Resolution,
	)
}

func randomProgramme(r *rand.Rand, n, rows int) []simplex.Row {
	out := make([]simplex.Row, rows)
	for i := range out {
		out[i].B = searchtest.Between(r, -1, 1)
		for j := range n {
			// Many gradients have level or upright parts: zeros must not upset it.
			if r.IntN(3) > 0 {
				out[i].A[j] = searchtest.Between(r, -1, 1) * math.Pow(10, searchtest.Between(r, -2, 0.5))
			}
		}
	}
	return out
}
