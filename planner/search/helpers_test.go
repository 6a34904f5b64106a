package search

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"cabwright/geometry"
	"cabwright/geometry/field"
	"cabwright/geometry/outline"
	"cabwright/geometry/solid"
	"cabwright/planner"
	"cabwright/planner/stonefile"
	"cabwright/presets"
)

// demo reads one of the demo stones.
func demo(t testing.TB, name string) planner.Stone {
	doc, err := stonefile.Read("../../testdata/stones/"+name+".stone", presets.Builtin())
	require.NoError(t, err)
	return doc.Stone
}

// slab is a level slab over an outline, with nothing in it.
func slab(poly []geometry.Vec2, low, high, skin float64) planner.Stone {
	return planner.Stone{
		Name: "slab", Material: "opal", Outline: poly,
		Top: []geometry.Vec3{{Z: high}}, Base: []geometry.Vec3{{Z: low}},
		Allowances: planner.Allowances{Skin: skin, Crack: 1, SealedCrack: 0.6, Pocket: 0.5},
	}
}

// fieldOf is the field of a stone, ready to be asked.
func fieldOf(t require.TestingT, s planner.Stone) *field.Field {
	rough, err := planner.NewRough(s)
	require.NoError(t, err)
	f, _ := buildField(s, rough, nil)
	f.Prepare(1)
	return f
}

// cab is a cabochon with a wall of 1.2 mm that leans in 10 degrees.
func cab(t require.TestingT, shape string, length, width, dome, back float64) solid.Cabochon {
	o, err := outline.New(shape, length, width)
	require.NoError(t, err)
	c := solid.Cabochon{Outline: o, Wall: 1.2, WallLeanDeg: 10, Dome: dome, Back: back, Sides: 1}
	if back > 0 {
		c.Sides = 2
	}
	return c
}

// denseSkin is a net of points on a solid's skin, in its own axes, taken from
// the contract's formulas and not from the search's own samples: n directions
// and the outline's corners, n/4 gauges each.
func denseSkin(c solid.Cabochon, n int) []geometry.Vec3 {
	var out []geometry.Vec3
	r, m := c.RimRatio(), max(3, n/4)
	for _, p := range c.Outline.Points(n) {
		put := func(rho, w float64) { out = append(out, geometry.Vec3{X: rho * p.X, Y: rho * p.Y, Z: w}) }
		for k := 0; k <= m; k++ {
			rho := math.Sin(float64(k) / float64(m) * math.Pi / 2)
			put(r*rho, c.Upper(r*rho))
			put(rho, c.Lower(rho))
			put(1-(1-r)*float64(k)/float64(m), c.Wall*float64(k)/float64(m))
		}
	}
	return out
}

// denseClearance is the least clearance over points of the solid, by the field's
// exact answer: it is never below the solid's true clearance by more than the
// few micrometres that field.Lower may be.
func denseClearance(f *field.Field, skin []geometry.Vec3, p Pose) float64 {
	least := math.Inf(1)
	for _, q := range skin {
		least = min(least, f.Lower(p.Place(q), least))
	}
	return least
}

// estimated is denseClearance on the field's tables, right to a hundredth.
func estimated(f *field.Field, skin []geometry.Vec3, p Pose) float64 {
	least := math.Inf(1)
	for _, q := range skin {
		least = min(least, f.Estimate(p.Place(q), least))
	}
	return least
}

// random draws are the same in every run.
func random(seed uint64) *rand.Rand { return rand.New(rand.NewPCG(seed, 7)) }

func between(r *rand.Rand, low, high float64) float64 { return low + (high-low)*r.Float64() }

// smallStone is a random stone of about 14 x 11 x 6 mm with a crack and a pocket.
func smallStone(r *rand.Rand) planner.Stone {
	a, b, h := between(r, 5.5, 8.5), between(r, 4.5, 7), between(r, 4.5, 6.5)
	s := slab(nil, 0, h, 0.3)
	n := 6 + r.IntN(5)
	for i := range n {
		sin, cos := math.Sincos(2 * math.Pi * (float64(i) + between(r, -0.25, 0.25)) / float64(n))
		k := between(r, 0.85, 1.1)
		s.Outline = append(s.Outline, geometry.Vec2{X: a * k * cos, Y: b * k * sin})
	}
	s.Top, s.Base = nil, nil
	for _, at := range [][2]float64{{0, 0}, {0.7, 0.1}, {-0.7, -0.1}, {0.1, 0.7}, {-0.1, -0.7}, {0.5, 0.55}} {
		fall := 1.4 * (at[0]*at[0] + at[1]*at[1])
		s.Top = append(s.Top, geometry.Vec3{X: at[0] * a, Y: at[1] * b, Z: h - fall + between(r, -0.3, 0.3)})
		s.Base = append(s.Base, geometry.Vec3{X: at[1] * a, Y: at[0] * b, Z: fall/2 + between(r, -0.2, 0.2)})
	}
	x, y := between(r, 0.2, 0.6)*a, between(r, -0.3, 0.3)*b
	s.Cracks = []planner.Crack{{
		ID: "C1", Path: []geometry.Vec2{{X: x, Y: -1.2 * b}, {X: x + 0.5, Y: y}, {X: x + between(r, 0, 2), Y: b}},
		Face: planner.Top, Through: r.IntN(2) == 0, Depth: between(r, 1, 5), Lean: between(r, 0, 35), Toward: between(r, 0, 360), RunOn: 0.5,
	}}
	x, y = between(r, -0.9, -0.5)*a, between(r, -0.6, 0.3)*b
	s.Pockets = []planner.Pocket{{
		ID: "P1", Outline: []geometry.Vec2{{X: x, Y: y}, {X: x + 1.6, Y: y - 0.2}, {X: x + 1.9, Y: y + 1.5}, {X: x + 0.2, Y: y + 1.7}},
		Face: []planner.Face{planner.Top, planner.Base, planner.Through}[r.IntN(3)], Depth: between(r, 1, 3),
	}}
	s.Allowances.Crack, s.Allowances.Pocket = 0.5, 0.3
	return s
}

// randomPose draws a pose of the prober's domain within the tilt limit.
func randomPose(r *rand.Rand, p *prober) coord {
	d := p.domain()
	c := d.at
	for j := 0; j < p.lp.n; j++ {
		c[j] += between(r, -1, 1) * d.half[j]
	}
	return within(c, p.tiltMax)
}

// testRun is a run over one field without trials.
func testRun(f *field.Field, tiltMax float64) *run {
	return &run{
		ctx: context.Background(), field: f, tiltMax: tiltMax, opt: Options{Workers: 1, Tolerance: 0.05},
		names: []string{skinName}, budget: budgets{soft: 200000, prove: 40000},
	}
}

// ask decides a solid on a field as the search does: looked for and proved, with
// nothing known before.
func ask(f *field.Field, m *model, tiltMax float64) (*trial, Verdict) {
	tr := &trial{Candidate: Candidate{Solid: m.solid}, model: m, volume: m.solid.Volume(), value: unknownValue, bound: unknownBound}
	r := testRun(f, tiltMax)
	for k := 1; k < f.Obstacles(); k++ {
		r.names = append(r.names, "mark")
	}
	r.refute(tr, 200000)
	return tr, tr.verdict
}
