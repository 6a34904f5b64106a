package odds

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"cabwright/geometry"
	"cabwright/planner"
)

// What a glance sees of each kind of mark alone is within three steps of the exact limit
// nearly everywhere, so that none is laid out wrongly behind many that are right.
func TestGlanceAtEachKind(t *testing.T) {
	pit := func(face planner.Face) planner.Stone {
		p := basePocket("P1", 0)
		p.Face, p.DepthRange = face, &planner.Range{Least: 0.5, Most: 6}
		return planner.Stone{Pockets: []planner.Pocket{p}}
	}
	hidden := func(low, high float64, bottom, top *planner.Range) planner.Stone {
		p := basePocket("P1", 0)
		p.Face, p.Depth, p.DepthRange = planner.Inside, 0, nil
		p.Low, p.High, p.BottomRange, p.TopRange = low, high, bottom, top
		return planner.Stone{Pockets: []planner.Pocket{p}}
	}
	crack := func(face planner.Face) planner.Stone {
		return planner.Stone{Cracks: []planner.Crack{{
			ID: "C1", Face: face, Path: []geometry.Vec2{{X: -6, Y: -5}, {X: 1, Y: 1}},
			Depth: 2, DepthRange: &planner.Range{Least: 0.5, Most: 7}, Lean: 15, Toward: 150,
		}}}
	}
	run := planner.Stone{Cracks: []planner.Crack{{
		ID: "C1", Face: planner.Top, Path: []geometry.Vec2{{X: 17, Y: 2}, {X: 13, Y: 1}},
		Depth: 7, RunOn: 1, RunOnRange: &planner.Range{Least: 0, Most: 9},
	}}}
	for name, marks := range map[string]planner.Stone{
		"pit from the top":     pit(planner.Top),
		"pit from the base":    pit(planner.Base),
		"top of a hidden one":  hidden(0.2, 1, nil, &planner.Range{Least: 0.5, Most: 6}),
		"its bottom":           hidden(8, 9, &planner.Range{Least: 3, Most: 8.5}, nil),
		"crack from the top":   crack(planner.Top),
		"crack from the base":  crack(planner.Base),
		"run-on from the side": run,
	} {
		s := uneven()
		s.Cracks, s.Pockets = marks.Cracks, marks.Pockets
		j, err := NewJudge(s)
		require.NoError(t, err, name)
		f, rng := cabochon(t, 3), rand.New(rand.NewPCG(7, 7))
		g, q := j.newGlance(f.Candidate), j.questions[0]
		between, near := 0, 0
		const poses = 15
		for range poses {
			pose := f.Pose
			pose.Origin = geometry.Vec3{X: rng.Float64()*8 - 4, Y: rng.Float64()*6 - 3, Z: 2.5 + rng.Float64()}
			pose.Axes = geometry.RotZ(3 * rng.Float64()).Mul(geometry.RotX(0.1 * rng.Float64()))
			g.lay(pose)
			guess := j.glanced(g, 0)
			exact := j.reaches(0, f.Solid, pose, guess)[0]
			if !exact.all && !exact.none {
				between++
			}
			if d := exact.rung - guess(0); max(d, -d) <= 3 {
				near++
			}
		}
		require.Greater(t, between, poses/3, name)
		require.GreaterOrEqual(t, near, poses-1, "%s: %s %s", name, q.ID, q.What)
	}
}
