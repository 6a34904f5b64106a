package search

import (
	"context"
	"math/rand/v2"
	"testing"

	"cabwright/geometry/field"
	"cabwright/planner/search/internal/bounds"
	"cabwright/planner/search/internal/obstacles"
	"cabwright/planner/search/internal/poses"
	"cabwright/planner/search/internal/searchtest"
)

// randomPose draws a pose of the prober's domain within the tilt limit.
func randomPose(r *rand.Rand, p *bounds.Prober) poses.Coord {
	d := p.Domain()
	c := d.At
	for j := range p.Vars() {
		c[j] += searchtest.Between(r, -1, 1) * d.Half[j]
	}
	return poses.Within(c, p.TiltMax)
}

// onStones calls do with probers on random small stones: all solids, both
// faces, level and tilted.
func onStones(t testing.TB, r *rand.Rand, n int, do func(f *field.Field, p *bounds.Prober)) {
	solids := searchtest.Modest()
	for k := range n {
		s := searchtest.SmallStone(r)
		f := searchtest.FieldOf(t, s)
		m := poses.NewModel(solids[k%len(solids)], r.IntN(2) == 0)
		do(f, bounds.NewProber(f, m, []float64{0, 0.26}[r.IntN(2)]))
	}
}

// testRun is a run over one field without trials.
func testRun(f *field.Field, tiltMax float64) *run {
	return &run{
		ctx: context.Background(), field: f, tiltMax: tiltMax, opt: Options{Workers: 1, Tolerance: 0.05},
		names: []string{obstacles.SkinName}, budget: budgets{soft: 200000, prove: 40000},
	}
}

// ask decides a solid on a field as the search does: looked for and proved, with
// nothing known before.
func ask(f *field.Field, m *poses.Model, tiltMax float64) (*trial, Verdict) {
	tr := &trial{
		Candidate: Candidate{Solid: m.Solid}, model: m, volume: m.Solid.Volume(), value: unknownValue,
		bound: unknownBound,
	}
	r := testRun(f, tiltMax)
	for k := 1; k < f.Obstacles(); k++ {
		r.names = append(r.names, "mark")
	}
	r.refute(tr, 200000)
	return tr, tr.verdict
}
