package field

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"cabwright/geometry"
)

// exactness is what Lower promises below enough, with the 2 micrometres of the
// meshes counted twice, mm.
const exactness = 0.008

// slip is the step of the slow twin; at a distance d from a smooth obstacle it
// over-estimates by about slip^2/(8 d), and by slip at an edge.
const slip = 0.06

// Each row is above the true clearance everywhere within its reach, or the
// point has run into the obstacle. The truth is dense sampling, which is never
// below the true distance.
func TestRowsAreUpperBounds(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 25 {
		s := newSpecimen(r)
		allow := s.allowances()
		for range 12 {
			p := s.place(r)
			reach := Reach{Plan: uniform(r, 0, 3) * r.Float64(), Rise: uniform(r, 0, 3) * r.Float64()}
			rows := s.field.Rows(p, reach, nil, math.Inf(1), nil)
			for range 3 {
				a := uniform(r, 0, 2*math.Pi)
				q := reach.Plan * math.Sqrt(r.Float64())
				e := geometry.Vec3{X: q * math.Cos(a), Y: q * math.Sin(a), Z: uniform(r, -1, 1) * reach.Rise}
				at := p.Add(e)
				// Lower is never above the truth, so a row below it is wrong for sure; the
				// twin finds what both would have in common.
				truth := s.unsigned(at, 0.15)
				if truth[0] == 0 {
					continue // outside
				}
				lower := map[int]float64{}
				s.field.each(at, math.Inf(1), func(k int, d float64) { lower[k] = d })
				for _, row := range rows {
					k := row.Obstacle
					if lower[k] <= -allow[k]+exactness || truth[k] == 0 {
						continue // in the obstacle: any bound from minus the allowance up is right
					}
					got := row.Value + row.Gradient.Dot(e) + row.Slack
					// A sheet may be carried on above the body, where it stands for the skin.
					require.GreaterOrEqual(
						t, got, min(lower[k], lower[Skin])-1e-9, "obstacle %d at %v, e %v, reach %v, row %+v", k, p, e, reach, row,
					)
				}
			}
		}
	}
}

// Lower is never above the distance that dense sampling finds, and where it is
// small it is close to it.
func TestLowerAgainstDenseSampling(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for range 25 {
		s := newSpecimen(r)
		allow := s.allowances()
		for range 8 {
			p := s.place(r)
			truth := s.unsigned(p, slip)
			s.field.each(p, math.Inf(1), func(k int, got float64) {
				d := got + allow[k]
				if truth[k] == 0 {
					require.LessOrEqual(t, d, 1e-9, "obstacle %d at %v lies in it", k, p)
					return
				}
				require.LessOrEqual(t, d, truth[k]+1e-9, "obstacle %d at %v", k, p)
				if k > 0 && truth[k] < 1.5 {
					require.GreaterOrEqual(t, d, truth[k]-slip-exactness, "obstacle %d at %v", k, p)
				}
				if k == 0 && truth[k] < 1.5 {
					require.GreaterOrEqual(t, d, truth[k]-slip-exactness, "the skin at %v", p)
				}
			})
		}
	}
}

// Stopping early is only allowed at a bound that is enough.
func TestLowerStopsEarlyOnlyAtEnough(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	for range 20 {
		s := newSpecimen(r)
		for range 60 {
			p := s.place(r)
			enough := uniform(r, -0.5, 2)
			full, short := s.field.Lower(p, math.Inf(1)), s.field.Lower(p, enough)
			if short < enough {
				require.InDelta(t, full, short, exactness, "at %v, enough %g", p, enough)
			}
			require.GreaterOrEqual(t, full+exactness, min(short, enough), "at %v", p)
		}
	}
}

func TestAtLeastIsBelowLower(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	for range 20 {
		s := newSpecimen(r)
		for range 200 {
			p := s.place(r)
			truth := math.Inf(1)
			s.field.each(p, math.Inf(1), func(_ int, d float64) { truth = min(truth, d) })
			require.LessOrEqual(t, s.field.AtLeast(p), truth+exactness, "at %v", p)
		}
	}
}

// over bounds a patch from its corners, and gives the least clearance at these.
func over(f *Field, corners []geometry.Vec3, radius, sag float64) (lower, least float64) {
	v := f.Around(corners[0], 2*radius+sag, math.Inf(1))
	var all []*Corner
	least = math.Inf(1)
	for _, p := range corners {
		c := v.Corner(p, math.Inf(1))
		all, least = append(all, &c), min(least, v.Least(&c))
	}
	return v.Over(all, radius, sag), least
}

// What a vicinity leaves out has at least the limit as its clearance all over
// the ball.
func TestVicinityLeavesOutOnlyWhatCannotMatter(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 12))
	left := 0
	for range 30 {
		s := newSpecimen(r)
		for range 20 {
			c, size, limit := s.place(r), uniform(r, 0, 4), uniform(r, -0.5, 3)
			v := s.field.Around(c, size, limit)
			if len(v.parts) < len(s.field.parts) {
				left++
			}
			e := geometry.Vec3{X: uniform(r, -1, 1), Y: uniform(r, -1, 1), Z: uniform(r, -1, 1)}
			p := c.Add(e.Scale(size / math.Sqrt(3)))
			at := v.Corner(p, math.Inf(1))
			require.InDelta(
				t, min(limit, s.field.Lower(p, math.Inf(1))), min(limit, v.Least(&at)), exactness,
				"at %v, ball of %g, limit %g", p, size, limit,
			)
		}
	}
	require.Greater(t, left, 50)
}

// A point within sag of the corners' hull keeps at least what Over says.
func TestOverIsBelowEveryPointOfThePatch(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 10))
	for range 30 {
		s := newSpecimen(r)
		for range 20 {
			c, size := s.place(r), math.Pow(10, uniform(r, -2, 0))
			var corners []geometry.Vec3
			for range 4 {
				corners = append(
					corners,
					c.Add(geometry.Vec3{X: uniform(r, -1, 1), Y: uniform(r, -1, 1), Z: uniform(r, -1, 1)}.Scale(size/math.Sqrt(3))),
				)
			}
			sag := size / 8
			bound, least := over(s.field, corners, size, sag)
			require.LessOrEqual(t, bound, least+1e-12)
			for range 6 {
				w := [4]float64{r.Float64(), r.Float64(), r.Float64(), r.Float64()}
				var q geometry.Vec3
				for k, v := range corners {
					q = q.Add(v.Scale(w[k] / (w[0] + w[1] + w[2] + w[3])))
				}
				q = q.Add(geometry.Vec3{X: uniform(r, -1, 1), Y: uniform(r, -1, 1), Z: uniform(r, -1, 1)}.Scale(sag / math.Sqrt(3)))
				truth := s.unsigned(q, 0.15)
				for k, a := range s.allowances() {
					if truth[k] > 0 {
						require.LessOrEqual(t, bound, truth[k]-a+exactness, "obstacle %d, patch about %v of size %g", k, c, size)
					}
				}
			}
		}
	}
}

// Closed forms: a slab 4 mm thick over a 20 x 10 mm rectangle.
func TestSlabByHand(t *testing.T) {
	level := func(z float64) *geometry.ThinPlate {
		p, err := geometry.FitThinPlate([]geometry.Vec3{{Z: z}})
		require.NoError(t, err)
		return p
	}
	f := New(Body{
		Polygon: []geometry.Vec2{{X: -10, Y: -5}, {X: 10, Y: -5}, {X: 10, Y: 5}, {X: -10, Y: 5}}, Top: Uncut(level(4)),
		Base: Uncut(level(0)), Low: 0, High: 4, Skin: 0.5,
	})
	f.AddSheet(Sheet{
		Path: []geometry.Vec2{{X: 0, Y: -9}, {X: 0, Y: 0}}, FromTop: true, Into: geometry.Vec3{Z: -1}, Depth: 2,
		Allowance: 1,
	})
	f.AddPrism(Prism{
		Polygon: []geometry.Vec2{{X: 4, Y: -1}, {X: 6, Y: -1}, {X: 6, Y: 1}, {X: 4, Y: 1}}, Low: 1, High: 2,
		Allowance: 0.25,
	})
	f.Prepare(2)
	for _, c := range []struct {
		at   geometry.Vec3
		want float64
		by   int
	}{
		{geometry.Vec3{X: -8, Y: 3, Z: 2}, 1.5, 0},                             // 2 from three walls
		{geometry.Vec3{X: -9, Y: 0, Z: 2}, 0.5, 0},                             // 1 from the end
		{geometry.Vec3{X: -1.2, Y: -3, Z: 3}, 0.2, 1},                          // square to the sheet
		{geometry.Vec3{X: -0.6, Y: -3, Z: 1.2}, 0, 1},                          // 0.6, 0.8 below its edge
		{geometry.Vec3{X: 0.3, Y: 0.4, Z: 3.2}, 0.5 - 1, 1},                    // 0.5 from its end
		{geometry.Vec3{X: 6.6, Y: 1.4, Z: 1.5}, math.Hypot(0.6, 0.4) - .25, 2}, // off an upright edge
		{geometry.Vec3{X: 5, Y: 0, Z: 2.3}, 0.05, 2},                           // over its end
		{geometry.Vec3{X: 5, Y: 0, Z: 1.4}, -0.4 - 0.25, 2},                    // inside it
		{geometry.Vec3{X: 11, Y: 0, Z: 2}, -1.5, 0},                            // outside
	} {
		got, by := f.Nearest(c.at, math.Inf(1))
		require.InDelta(t, c.want, got, exactness, "%v", c.at)
		require.Equal(t, c.by, by, "%v", c.at)
		require.InDelta(t, c.want, f.Estimate(c.at, math.Inf(1)), 0.02, "%v", c.at)
	}
}

// Largest circles that keep inside a polygon, exact: 2 - sqrt 2 in an L of three
// unit squares, and area over half the perimeter in a triangle.
func TestInscribedCircles(t *testing.T) {
	for _, c := range []struct {
		name string
		poly []geometry.Vec2
		want float64
	}{
		{
			"L of three unit squares", []geometry.Vec2{{}, {X: 2}, {X: 2, Y: 1}, {X: 1, Y: 1}, {X: 1, Y: 2}, {Y: 2}},
			2 - math.Sqrt2,
		},
		{"3-4-5 triangle", []geometry.Vec2{{}, {X: 4}, {Y: 3}}, 1},
	} {
		lo, hi := geometry.Bounds(c.poly)
		ring := newRing(c.poly, lo, hi, 0.25)
		best, at, size := 0.0, lo.Add(hi).Scale(0.5), hi.Sub(lo).Norm()
		for step := size / 2; step > size*1e-7; step /= 1.5 {
			from := at
			for i := -6; i <= 6; i++ {
				for j := -6; j <= 6; j++ {
					q := from.Add(geometry.Vec2{X: float64(i) * step / 6, Y: float64(j) * step / 6})
					if d := ring.signed(q); d > best {
						best, at = d, q
					}
				}
			}
		}
		require.InDelta(t, c.want, best, 1e-4*size, c.name)
	}
}

func BenchmarkRows(b *testing.B) {
	r := rand.New(rand.NewPCG(11, 12))
	s := newSpecimen(r)
	var rows []Row
	for b.Loop() {
		rows = s.field.Rows(s.place(r), Reach{0.3, 0.2}, nil, 1, rows[:0])
	}
}
