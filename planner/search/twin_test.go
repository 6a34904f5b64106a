package search

import (
	"context"
	"math"
	"math/rand/v2"
	"sort"
	"testing"

	"github.com/stretchr/testify/require"

	"cabwright/geometry/field"
	"cabwright/geometry/geomtest"
	"cabwright/planner"
	"cabwright/planner/search/internal/bounds"
	"cabwright/planner/search/internal/poses"
	"cabwright/planner/search/internal/searchtest"
)

// bruteForce looks for the best pose of a solid the slow way: many random poses
// by the field's tables on a coarse net, the best of them shaken ever more
// gently, and what comes out measured on a dense net with the exact field. It
// shares the field with the search and nothing else.
func bruteForce(r *rand.Rand, f *field.Field, m *poses.Model, tiltMax float64, tries int) (Pose, float64) {
	p := bounds.NewProber(f, m, tiltMax) // for its domain only
	coarse := geomtest.Skin(m.Solid, 12)
	type seen struct {
		at poses.Coord
		v  float64
	}
	var all []seen
	for range tries {
		at := randomPose(r, p)
		all = append(all, seen{at, searchtest.Estimated(f, coarse, m.Pose(at))})
	}
	sort.Slice(all, func(i, k int) bool { return all[i].v > all[k].v })
	fine := geomtest.Skin(m.Solid, 28)
	best, where := math.Inf(-1), Pose{}
	for _, s := range all[:4] {
		at, v := s.at, searchtest.Estimated(f, fine, m.Pose(s.at))
		fails := 0
		for step := 1.0; step > 0.004; {
			next := at
			for j := range p.Vars() {
				width := step
				if j >= poses.Turn {
					width /= m.Solid.Outline.Length / 2
				}
				next[j] += width * r.NormFloat64() / 2
			}
			next = poses.Within(next, tiltMax)
			if u := searchtest.Estimated(f, fine, m.Pose(next)); u > v {
				at, v, fails = next, u, 0
			} else if fails++; fails > 25 {
				step, fails = step*0.6, 0
			}
		}
		if u := searchtest.DenseClearance(f, geomtest.Skin(m.Solid, 96), m.Pose(at)); u > best {
			best, where = u, m.Pose(at)
		}
	}
	return where, best
}

// netError is what a dense net may be off by, mm: as much as field.Lower is below the
// distance, some micrometres.
const netError = 0.004

// On random small stones no pose that brute force finds beats a proved clearance
// by more than the tolerance, or keeps the allowances where it is proved that
// none does, or beats the bound given.
func TestBruteForceTwin(t *testing.T) {
	t.Parallel()
	r := searchtest.Random(21)
	tries, fits, refused := 400, 3, 2
	if searchtest.Long {
		tries, fits, refused = 1500, 6, 6
	}
	asked := map[Verdict]int{}
	proved := 0
	shapes := [][]string{{"oval", Freeform}, {"round", "marquise"}, {"square", Freeform}, {"pear"}, {"heart", "triangle"}}
	for k := range searchtest.ManyTwins {
		s := searchtest.SmallStone(r)
		opt := Options{
			Shapes: shapes[k%len(shapes)], Faces: [][]planner.Face{{planner.Top}, {planner.Base}}[k%2],
			Sides: []int{1 + k/2%2}, Level: k%3 != 2, TiltMaxDeg: 6,
		}
		plan, err := Run(context.Background(), s, opt, nil)
		require.NoError(t, err)
		f := searchtest.FieldOf(t, s)
		tilt := plan.TiltMaxDeg * math.Pi / 180
		for i, fit := range plan.Fits {
			if i >= fits {
				break
			}
			m := poses.NewModel(fit.Solid, fit.Face == planner.Base)
			asked[Fits]++
			if dense := searchtest.DenseClearance(f, geomtest.Skin(fit.Solid, 120), fit.Pose); dense < 0.4 {
				// Further from all obstacles field.Lower gives away more than that.
				require.GreaterOrEqual(t, dense, fit.Clearance-1e-6)
			}
			if fit.Proved {
				proved++
				_, best := bruteForce(r, f, m, tilt, tries)
				require.LessOrEqual(t, best, fit.Clearance+plan.Tolerance+netError, "stone %d: %+v", k, fit.Candidate)
			}
		}
		// The refused ones nearest to fitting are the likeliest to be wrong.
		for i, out := range plan.RuledOut {
			if i >= refused {
				break
			}
			asked[out.Verdict]++
			m := poses.NewModel(out.Solid, out.Face == planner.Base)
			pose, best := bruteForce(r, f, m, tilt, tries)
			if out.Verdict == CannotFit {
				require.Less(t, out.Bound, 0.0)
				require.Less(t, best, netError, "stone %d: %+v fits at %+v", k, out.Candidate, pose)
			}
			require.LessOrEqual(t, best, out.Bound+netError+0.02, "stone %d: %+v at %+v", k, out.Candidate, pose)
		}
	}
	t.Logf("%d fits, %d of them proved, %d refused, %d undecided", asked[Fits], proved, asked[CannotFit], asked[Undecided])
	require.GreaterOrEqual(t, proved, searchtest.ManyTwins/3)
	require.GreaterOrEqual(t, asked[CannotFit], searchtest.ManyTwins/2)
}
