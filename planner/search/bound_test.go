package search

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"cabwright/geometry"
	"cabwright/geometry/field"
	"cabwright/geometry/solid"
	"cabwright/planner"
)

// modest are solids that come near to filling a small stone.
func modest(t testing.TB) []solid.Cabochon {
	return []solid.Cabochon{
		cab(t, "oval", 8, 6, 1.8, 0), cab(t, "round", 6, 6, 1.2, 0.8), cab(t, "square", 5, 5, 1, 0),
		cab(t, "marquise", 10, 5, 1, 1), cab(t, "heart", 7, 7, 2, 0), cab(t, "pear", 8, 6, 2.4, 0), cab(t, "triangle", 6, 6, 1.2, 0.6),
	}
}

// poseIn draws a pose of a box.
func poseIn(r *rand.Rand, c *cell, n int) coord {
	at := c.at
	for j := range n {
		at[j] += between(r, -1, 1) * c.half[j]
	}
	return at
}

// randomCell draws a box of poses: wide ones as at the start of a proof, narrow
// ones as at its end, and flat ones as a cut leaves them.
func randomCell(r *rand.Rand, p *prober) cell {
	d := p.domain()
	c := cell{at: randomPose(r, p), bound: math.Inf(1)}
	width := math.Pow(10, between(r, -2.5, 0))
	for j := 0; j < p.lp.n; j++ {
		c.half[j] = d.half[j] * width * between(r, 0, 1)
	}
	return c
}

// onStones calls do with probers on random small stones: all solids, both
// faces, level and tilted.
func onStones(t testing.TB, r *rand.Rand, n int, do func(f *field.Field, p *prober)) {
	solids := modest(t)
	for k := range n {
		s := smallStone(r)
		f := fieldOf(t, s)
		m := newModel(solids[k%len(solids)], r.IntN(2) == 0)
		do(f, newProber(f, m, []float64{0, 0.26}[r.IntN(2)]))
	}
}

// The bound of a box holds for every pose in it, and what shrink cuts off holds
// no pose with the wanted clearance. The clearance that it is held against is
// taken on a net that shares nothing with the search's samples: a net sees more
// clearance than there is, so it may exceed the bound by what lies between its
// points, and by nothing else.
func TestBoundOfABoxHolds(t *testing.T) {
	t.Parallel()
	r := random(11)
	boxes, cutOff, hits := 0, 0, 0
	onStones(t, r, manyCells, func(f *field.Field, p *prober) {
		skin := denseSkin(p.model.solid, 48)
		for range 4 {
			c := randomCell(r, p)
			if r.IntN(2) == 0 {
				// Where it matters: about a pose that is good.
				c.at, _ = climb(p, c.at, 8, closeTrust)
			}
			want := between(r, -0.2, 0.3)
			whole := c
			bound := p.shrink(&c, want).bound
			boxes++
			for range 25 {
				at := poseIn(r, &whole, p.lp.n)
				exact := denseAndSampled(f, p, skin, at)
				if exact >= want {
					hits++
					require.GreaterOrEqual(t, bound, exact-netError, "pose %v in %+v", at, whole)
				}
				gone := false
				for j := 0; j < p.lp.n; j++ {
					gone = gone || math.Abs(at[j]-c.at[j]) > c.half[j]+1e-9
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
// from below, and the rows, as prove.go says of finest, are as loose.
const netError = 0.004

// denseAndSampled is the least clearance over a net and the search's samples.
func denseAndSampled(f *field.Field, p *prober, skin []geometry.Vec3, at coord) float64 {
	pose := p.model.pose(at)
	least := denseClearance(f, skin, pose)
	for _, s := range p.model.samples {
		least = min(least, f.Lower(pose.Place(p.model.own(s)), least+s.radius)-s.radius)
	}
	return least
}

// Every row of a sample bounds that sample's own clearance over the whole box, at
// its corners as well: the rows' slack is what a wide turn or tilt, or a curved
// obstacle, can add.
func TestRowsHoldForTheirSample(t *testing.T) {
	r := random(15)
	rows, tight := 0, 0
	onStones(t, r, 2*manyCells, func(f *field.Field, p *prober) {
		for range 4 {
			c := randomCell(r, p)
			if r.IntN(2) == 0 {
				c.half[turn] = between(r, 0, 0.7)
			}
			fr := newFrame(c.at, p.level)
			for range 8 {
				i := r.IntN(len(p.model.samples))
				s := p.model.samples[i]
				p.begin(math.Inf(1))
				p.sampleRows(&c, &fr, i, fr.r.Apply(s.at).Add(geometry.Vec3{X: c.at[0], Y: c.at[1], Z: c.at[2]}))
				for k := range 40 {
					var y [dims]float64
					at := c.at
					for j := range p.lp.n {
						y[j] = between(r, -1, 1)
						if k%2 == 0 {
							y[j] = math.Copysign(1, y[j]) // a corner
						}
						at[j] += y[j] * c.half[j]
					}
					clear := f.Lower(p.model.pose(at).Place(p.model.own(s)), math.Inf(1)) - s.radius
					if clear < 0 {
						continue // in an obstacle a row need not hold: see field.Row
					}
					require.GreaterOrEqual(t, p.ceiling, clear-netError)
					for _, row := range p.lp.rows {
						v := row.b
						for j := range p.lp.n {
							v += row.a[j] * y[j]
						}
						rows++
						if v < clear+0.05 {
							tight++
						}
						require.GreaterOrEqual(t, v, clear-netError, "sample %+v at %v in %+v, obstacle %d", s, at, c, row.obstacle)
						require.LessOrEqual(t, row.low, v+1e-12)
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
	r := random(16)
	kept, cut := 0, 0
	for range manyProgrammes {
		p := &prober{lp: lp{n: []int{dims, lean}[r.IntN(2)]}}
		p.lp.rows = randomProgramme(r, p.lp.n, 1+r.IntN(20))
		bound := p.lp.solve(math.Inf(-1))
		want := bound - between(r, 0, 1)
		best := p.lp.point()
		lo, hi, left := p.tighten(bound, want)
		require.Greater(t, left, 0.0)
		for range 200 {
			y, least, out := best, math.Inf(1), false
			share := between(r, 0, 1) // from the optimum towards anywhere
			for j := range p.lp.n {
				y[j] += share * (between(r, -1, 1) - y[j])
				out = out || y[j] < lo[j]-1e-9 || y[j] > hi[j]+1e-9
			}
			for _, row := range p.lp.rows {
				v := row.b
				for j := range p.lp.n {
					v += row.a[j] * y[j]
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
	require.Greater(t, kept, manyProgrammes)
	require.Greater(t, cut, manyProgrammes)
}

// value is what the climbs go by: near the exact clearance of its samples, from
// either side. Mostly to a hundredth; beside a crack's bends the tables are
// coarser (0.13 mm is the most that was seen), which the exact check makes up for.
func TestValueNearExact(t *testing.T) {
	r := random(12)
	seen, close := 0, 0
	onStones(t, r, manySolids/2, func(f *field.Field, p *prober) {
		for range 10 {
			at, v := climb(p, randomPose(r, p), 12, closeTrust)
			pose, exact := p.model.pose(at), math.Inf(1)
			for _, s := range p.model.samples {
				exact = min(exact, f.Lower(pose.Place(p.model.own(s)), exact+s.radius)-s.radius)
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
	require.Greater(t, seen, 5*manySolids/4)
	require.Greater(t, float64(close), 0.8*float64(seen))
}

// A climb never ends lower than it began, nor beyond the tilt limit.
func TestClimbGoesUp(t *testing.T) {
	r := random(13)
	gained := 0
	onStones(t, r, manySolids/2, func(_ *field.Field, p *prober) {
		for range 10 {
			from := randomPose(r, p)
			before := p.value(from, math.Inf(-1))
			at, v := climb(p, from, 20, closeTrust)
			require.GreaterOrEqual(t, v, before)
			require.InDelta(t, p.value(at, math.Inf(-1)), v, 1e-12)
			require.LessOrEqual(t, at.tilt(), p.tiltMax+1e-9)
			if v > before+0.1 {
				gained++
			}
		}
	})
	require.Greater(t, gained, 5*manySolids/4)
}

// What accept takes keeps every allowance on a dense net, and the certified
// clearance is below the net's but not by more than the resolution and what the
// net cannot see.
func TestCertifiedAgainstDenseSampling(t *testing.T) {
	t.Parallel()
	r := random(14)
	fits, near := 0, 0
	onStones(t, r, 2*manySolids, func(f *field.Field, p *prober) {
		best, at := math.Inf(-1), coord{}
		for range 8 {
			if c, v := climb(p, randomPose(r, p), 20, closeTrust); v > best {
				best, at = v, c
			}
		}
		tr := &trial{Candidate: Candidate{Solid: p.model.solid}, model: p.model, value: -1e9}
		if fits, _ := accept(p, tr, at, 30); !fits {
			return
		}
		fits++
		require.Equal(t, Fits, tr.verdict)
		full := certifyAt(p, tr.at, math.Inf(1), resolution)
		skin := denseSkin(p.model.solid, 160)
		dense := denseClearance(f, skin, p.model.pose(tr.at))
		require.GreaterOrEqual(t, full.lower, 0.0)
		require.GreaterOrEqual(t, full.least, full.lower)
		// Far from every obstacle field.Lower gives away some tenths, which would tell
		// on the net; near one it is exact.
		if full.least < 0.4 && dense < 0.4 {
			near++
			require.LessOrEqual(t, full.lower, dense+1e-6, "%v at %v", p.model.solid, tr.at)
			require.GreaterOrEqual(t, full.lower, dense-resolution-0.01, "%v at %v", p.model.solid, tr.at)
		}
		require.InDelta(t, full.least, f.Lower(p.model.pose(tr.at).Place(full.worst), math.Inf(1)), 0.02, "the worst point is where it says")
		require.LessOrEqual(t, outside(p.model.solid, geometry.Vec3{X: full.worst.X * (1 - 1e-9), Y: full.worst.Y * (1 - 1e-9), Z: full.worst.Z}), 1e-6)
	})
	require.Greater(t, fits, manySolids/4)
	require.Greater(t, near, manySolids/8)
}

// A defect wholly inside a solid touches none of its skin: only a point of the
// defect tells.
func TestCertifySeesWhatTheSkinCannot(t *testing.T) {
	s := slab([]geometry.Vec2{{X: -20, Y: -20}, {X: 20, Y: -20}, {X: 20, Y: 20}, {X: -20, Y: 20}}, 0, 30, 0.5)
	round := cab(t, "round", 20, 20, 8, 8)
	s.Pockets = []planner.Pocket{{ID: "P1", Face: planner.Inside, Low: 14.9, High: 15.1,
		Outline: []geometry.Vec2{{X: -0.2, Y: -0.2}, {X: 0.2, Y: -0.2}, {X: 0.2, Y: 0.2}, {X: -0.2, Y: 0.2}}}}
	f := fieldOf(t, s)
	m := newModel(round, false)
	p := newProber(f, m, 0)
	at := coord{0, 0, 15}
	require.Less(t, certifyAt(p, at, math.Inf(1), resolution).lower, 0.0)
	top := geometry.Vec3{Z: round.Wall + round.Dome}
	require.Less(t, certify(f, round, m.pose(at), top, math.Inf(1), resolution).lower, 0.0, "from the skin alone")
	require.Less(t, p.value(at, math.Inf(-1)), 0.0, "a ball sees it as well")
	at[0] = 11
	require.Less(t, certifyAt(p, at, math.Inf(1), resolution).lower, 0.0, "too near the edge of the slab")
	s.Pockets = nil
	p = newProber(fieldOf(t, s), m, 0)
	// The skin is 10 + 0.5 mm from the sides, 30/2 - 8.6 - 0.5 from the faces.
	require.InDelta(t, 15-8.6-0.5, certifyAt(p, coord{0, 0, 15}, math.Inf(1), resolution).lower, resolution)
}
