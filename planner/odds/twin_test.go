package odds

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"cabwright/geometry"
	"cabwright/planner"
	"cabwright/planner/search"
)

// uneven is a slab with a domed top, a pocket from either face and a crack, none of
// them sure.
func uneven() planner.Stone {
	s := slab(10)
	s.Top = []geometry.Vec3{{Z: 10}, {X: 18, Z: 9}, {X: -18, Z: 9.2}, {Y: 18, Z: 8.8}, {Y: -18, Z: 9}}
	half := 0.5
	left := basePocket("P1", -4)
	right := planner.Pocket{
		ID: "P2", Face: planner.Top, Depth: 2, DepthRange: &planner.Range{Least: 1, Most: 5},
		Outline: basePocket("", 6).Outline, Chance: &half,
	}
	crack := planner.Crack{ID: "C1", Face: planner.Top, Path: []geometry.Vec2{{X: 3, Y: -12}, {X: 6, Y: -4}}, Depth: 4,
		Lean: 15, Toward: 150,
		DepthRange: &planner.Range{Least: 1, Most: 9}, RunOn: 1}
	s.Pockets, s.Cracks = []planner.Pocket{left, right}, []planner.Crack{crack}
	return s
}

// Two hundred scenarios are drawn and each asked whole: with every mark at the value
// drawn, does the placed stone keep all allowances? It does exactly where each mark
// is within its limit, but for values within two steps of the grid of one.
func TestLimitsAgainstScenarios(t *testing.T) {
	s := uneven()
	j, err := NewJudge(s)
	require.NoError(t, err)
	var places []Place
	for _, at := range []geometry.Vec3{{X: 1, Y: 1, Z: 3}, {X: -3, Y: 2, Z: 2.6}, {X: 2, Y: -3, Z: 3.4}} {
		f := cabochon(t, at.Z)
		f.Pose.Origin = at
		p, ok := j.Place(f)
		require.True(t, ok)
		places = append(places, p)
	}
	rng := rand.New(rand.NewPCG(12, 12))
	holds, fails := 0, 0
	for range 200 {
		drawn, values := s, map[string]float64{}
		drawn.Cracks, drawn.Pockets = nil, nil
		for _, u := range j.unsure {
			if rng.Float64() >= u.Chance {
				continue // it is not there
			}
			values[u.ID] = u.Range.Quantile(rng.Float64())
			one, left := alone(s, u, values[u.ID], math.NaN())
			require.True(t, left)
			drawn.Cracks, drawn.Pockets = append(drawn.Cracks, one.Cracks...), append(drawn.Pockets, one.Pockets...)
		}
		site := j.sure.With(drawn)
		for n, p := range places {
			want, near := true, false
			for k, l := range p.Limits {
				v, there := values[l.ID]
				r := l.reaches[0]
				if !there || r.all {
					continue
				}
				want = want && !r.none && v <= r.upTo
				near = near || math.Abs(v-r.upTo) < 2*Grid
				require.Equal(t, l.ID, j.questions[k].ID)
			}
			if near {
				continue
			}
			require.Equal(t, want, site.KeepsMarks(p.Solid, p.Pose, fine), "place %d with %v; limits %+v", n, values, p.Limits)
			if want {
				holds++
			} else {
				fails++
			}
		}
	}
	require.Greater(t, holds, 50)
	require.Greater(t, fails, 50)
}

// On the slab 8.2 thick the cabochon is 4.2 high and keeps 0.5 from the top, so its flat
// lies at 3.5 at most: there the limit is 3.0, of which (1, 2, 4) is short with
// 1 - (4 - 3)^2/(3 2) = 5/6, the best that any place over the pocket has. The slab is
// 0.01 mm thicker here, since what keeps the skin by less than 0.005 may be refused.
func TestHighestPlaceOnASlab(t *testing.T) {
	s := slab(8.21)
	s.Pockets = []planner.Pocket{basePocket("P1", 0)}
	j, err := NewJudge(s)
	require.NoError(t, err)
	p, ok := j.Place(cabochon(t, 3.5))
	require.True(t, ok)
	require.InDelta(t, 3, p.Limits[0].UpTo, 1e-9)
	require.InDelta(t, 5./6, p.Odds, 1e-9)
	_, ok = j.Place(cabochon(t, 3.52))
	require.False(t, ok, "it breaks the skin")
}

// The best place has odds within 0.05 of the best that climbs from 20 random starts
// find.
func TestBestPlaceAgainstRandomStarts(t *testing.T) {
	s := uneven()
	// There is 3 mm to move along and 2 across, and nowhere to evade all three.
	s.Outline = []geometry.Vec2{{X: -9, Y: -6.5}, {X: 9, Y: -6.5}, {X: 9, Y: 6.5}, {X: -9, Y: 6.5}}
	s.Cracks[0].Path = []geometry.Vec2{{X: 3, Y: -6}, {X: 6, Y: 1}}
	j, err := NewJudge(s)
	require.NoError(t, err)
	f := cabochon(t, 3)
	own, ok := j.Best(context.Background(), f, []search.Pose{f.Pose}, 0)
	require.True(t, ok)
	rng := rand.New(rand.NewPCG(5, 5))
	best := 0.0
	for n := range 20 {
		pose := f.Pose
		pose.Origin = pose.Origin.Add(geometry.Vec3{X: rng.Float64()*3 - 1.5, Y: rng.Float64()*2 - 1, Z: rng.Float64() - 0.5})
		pose.Axes = geometry.RotZ(math.Pi*float64(n%2) + rng.Float64()*0.2 - 0.1)
		c := j.newClimber(f, 0)
		c.rng = rand.New(rand.NewPCG(uint64(n), 9))
		settled, _ := j.levelSite(0.5).Improve(f.Candidate, pose, 0)
		if from := c.into(c.judgeAt(settled, math.Inf(-1))); from.score > 0 {
			best = max(best, c.walk(context.Background(), from, 60, broadStep).odds)
		}
	}
	t.Logf("own %.4f, best of 20 starts %.4f", own.Odds, best)
	require.Greater(t, best, 0.0)
	require.Less(t, own.Odds, 1.0, "the case decides something")
	require.GreaterOrEqual(t, own.Odds, best-0.05)
}
