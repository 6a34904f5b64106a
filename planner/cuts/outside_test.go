package cuts_test

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"cabwright/geometry"
	"cabwright/geometry/outline"
	"cabwright/geometry/solid"
	"cabwright/planner"
	"cabwright/planner/cuts"
	"cabwright/planner/search"
	"cabwright/presets"
)

// These tests read layouts as another program would, from the plan's contract alone:
// points in polygons, clearances by samples and clipped polygons are their own, and
// nothing of this package is asked but for its answer.

// randomStone is a convex slab about 30 x 20 mm with level faces, a crack and a pocket.
func randomStone(rng *rand.Rand, marks bool) planner.Stone {
	s := planner.Stone{
		Name: "random", Material: "opal", SG: 2.1,
		Allowances: planner.Allowances{Skin: 0.5, Crack: 1, SealedCrack: 0.6, Pocket: 0.5},
	}
	n := 6 + rng.IntN(4)
	for k := range n {
		sin, cos := math.Sincos(2 * math.Pi * (float64(k) + 0.4*rng.Float64()) / float64(n))
		s.Outline = append(s.Outline, geometry.Vec2{X: (14 + 2*rng.Float64()) * cos, Y: (9 + 2*rng.Float64()) * sin})
	}
	s.Outline = geometry.ConvexHull(s.Outline)
	s.Top, s.Base = []geometry.Vec3{{Z: 5.5 + 2*rng.Float64()}}, []geometry.Vec3{{Z: 0}}
	if marks {
		x := -8 + 16*rng.Float64()
		s.Cracks = []planner.Crack{{
			ID: "C1", Path: []geometry.Vec2{{X: x, Y: -12}, {X: x + 4*rng.Float64() - 2, Y: 4 * rng.Float64()}},
			Face: planner.Top, Depth: 2 + 4*rng.Float64(), Lean: 20 * rng.Float64(), Toward: 360 * rng.Float64(),
		}}
		x, y := -9+18*rng.Float64(), -5+10*rng.Float64()
		s.Pockets = []planner.Pocket{{
			ID: "P1", Face: planner.Base, Depth: 1 + rng.Float64(),
			Outline: []geometry.Vec2{{X: x, Y: y}, {X: x + 2, Y: y}, {X: x + 1, Y: y + 2}},
		}}
	}
	return s
}

// planOf is a plan of a few sizes, each where it settles in the middle.
func planOf(t *testing.T, s planner.Stone) search.Plan {
	t.Helper()
	rough, err := planner.NewRough(s)
	require.NoError(t, err)
	site, err := search.Open(s)
	require.NoError(t, err)
	plan := search.Plan{Stone: s}
	for _, size := range [][2]float64{{16, 12}, {14, 10}, {12, 10}, {10, 8}, {8, 6}} {
		o, err := outline.New("oval", size[0], size[1])
		require.NoError(t, err)
		c := search.Candidate{
			Solid: solid.Cabochon{Outline: o, Wall: 1.2, WallLeanDeg: 10, Dome: 0.25 * size[1], Sides: 1},
			Face:  planner.Top, DomeStyle: "low", BackStyle: "flat",
		}
		for _, x := range []float64{0, -5, 5} {
			at := search.Pose{Origin: geometry.Vec3{X: x, Z: 0.8}, Axes: geometry.Identity3()}
			pose, r := site.Settle(c, at, 0)
			if r.Clearance >= 0 {
				f := search.Weigh(s, rough, presets.Builtin(), c, pose)
				f.Clearance, f.LimitedBy = r.Clearance, r.LimitedBy
				plan.Fits = append(plan.Fits, f)
				break
			}
		}
	}
	return plan
}

func layoutsOf(t *testing.T, s planner.Stone, trims bool) []cuts.Layout {
	t.Helper()
	b, err := cuts.NewBody(s, presets.Builtin())
	require.NoError(t, err)
	plan := planOf(t, s)
	if len(plan.Fits) == 0 {
		return nil
	}
	out, err := cuts.Several(context.Background(), b, presets.Builtin(), plan,
		cuts.Options{Stones: 2, Bench: cuts.NewBench(presets.Builtin()), Trims: trims}, nil)
	require.NoError(t, err)
	return out
}

// outside is a layout read by its own means.
type outside struct {
	stone planner.Stone
	steps []cuts.Step
}

// edge is a side of a cut: it keeps what n . p is at least from.
type edge struct {
	n    geometry.Vec3
	from float64
}

// edges are the sides of the cuts that made a piece.
func (o outside) edges(piece string) []edge {
	var out []edge
	for k := range piece {
		for _, s := range o.steps {
			if s.Piece == piece[:k] {
				sign := map[byte]float64{'+': 1, '-': -1}[piece[k]]
				n := s.Normal.Scale(sign)
				out = append(out, edge{n, n.Dot(s.Point) + s.Kerf/2})
			}
		}
	}
	return out
}

// clipped is the area of a convex outline within upright sides (Sutherland and Hodgman
// 1974).
func clipped(poly []geometry.Vec2, sides []edge) float64 {
	for _, e := range sides {
		var out []geometry.Vec2
		for i, p := range poly {
			q := poly[(i+1)%len(poly)]
			a, b := e.n.X*p.X+e.n.Y*p.Y-e.from, e.n.X*q.X+e.n.Y*q.Y-e.from
			if a >= 0 {
				out = append(out, p)
			}
			if a*b < 0 {
				out = append(out, geometry.Vec2{X: p.X + (q.X-p.X)*a/(a-b), Y: p.Y + (q.Y-p.Y)*a/(a-b)})
			}
		}
		poly = out
	}
	sum := 0.0
	for i, p := range poly {
		q := poly[(i+1)%len(poly)]
		sum += p.X*q.Y - q.X*p.Y
	}
	return math.Abs(sum) / 2
}

// skinOf are points all over a finished oval, by the contract's formulas.
func skinOf(f search.Fit) []geometry.Vec3 {
	c := f.Solid
	r := 1 - 2*c.Wall*math.Tan(c.WallLeanDeg*math.Pi/180)/c.Outline.Width
	var out []geometry.Vec3
	for i := range 360 {
		sin, cos := math.Sincos(float64(i) * math.Pi / 180)
		place := func(rho, w float64) {
			u, v, p := rho*c.Outline.Length/2*cos, rho*c.Outline.Width/2*sin, f.Pose
			out = append(out, geometry.Vec3{
				X: p.Origin.X + u*p.Axes.U.X + v*p.Axes.V.X + w*p.Axes.W.X,
				Y: p.Origin.Y + u*p.Axes.U.Y + v*p.Axes.V.Y + w*p.Axes.W.Y,
				Z: p.Origin.Z + u*p.Axes.U.Z + v*p.Axes.V.Z + w*p.Axes.W.Z,
			})
		}
		// The dome by even angles, as it is upright at its foot; rho/r is their sine.
		for k := 0; k <= 30; k++ {
			up, in := math.Sincos(float64(k) / 30 * math.Pi / 2)
			place(r*in, c.Wall+c.Dome*up)
		}
		for k := 0; k <= 10; k++ {
			place(float64(k)/10, 0)
			place(r+(1-r)*float64(k)/10, c.Wall*(1-float64(k)/10))
		}
	}
	return out
}

// crackPoints are points of a crack's sheet inside the rough, 0.1 mm apart.
func crackPoints(s planner.Stone) []geometry.Vec3 {
	var out []geometry.Vec3
	top := s.Top[0].Z
	for _, k := range s.Cracks {
		lean, toward := k.Lean*math.Pi/180, k.Toward*math.Pi/180
		p, q := k.Path[0], k.Path[1]
		for i := 0.0; i <= 200; i++ {
			for d := 0.0; d <= k.Depth; d += 0.1 {
				at := geometry.Vec3{
					X: p.X + (q.X-p.X)*i/200 + d*math.Tan(lean)*math.Cos(toward),
					Y: p.Y + (q.Y-p.Y)*i/200 + d*math.Tan(lean)*math.Sin(toward), Z: top - d,
				}
				if within(s.Outline, at) && at.Z >= 0 {
					out = append(out, at)
				}
			}
		}
	}
	return out
}

// within casts a ray to the right and counts the sides it crosses.
func within(poly []geometry.Vec2, at geometry.Vec3) bool {
	in := false
	for i, p := range poly {
		q := poly[(i+1)%len(poly)]
		if (p.Y > at.Y) != (q.Y > at.Y) && at.X < p.X+(at.Y-p.Y)/(q.Y-p.Y)*(q.X-p.X) {
			in = !in
		}
	}
	return in
}

// holds tells whether a point lies within all sides, by a margin.
func holds(sides []edge, at geometry.Vec3, margin float64) bool {
	for _, e := range sides {
		if e.n.X*at.X+e.n.Y*at.Y+e.n.Z*at.Z-e.from < margin {
			return false
		}
	}
	return true
}

func TestLayoutsOfRandomStonesByAnotherReading(t *testing.T) {
	laid := 0
	for seed := range readStones {
		t.Run(fmt.Sprintf("stone %d", seed), func(t *testing.T) {
			s := randomStone(rand.New(rand.NewPCG(11, uint64(seed))), true)
			for _, l := range layoutsOf(t, s, true) {
				o := outside{s, l.Steps}
				o.checkPieces(t, l)
				for _, f := range l.Fits {
					o.checkStone(t, f)
				}
				for _, step := range l.Steps {
					o.checkStep(t, l, step)
				}
				laid++
			}
		})
	}
	require.GreaterOrEqual(t, laid, readStones, "most stones give one and two")
}

// checkPieces adds up the pieces and the kerfs.
func (o outside) checkPieces(t *testing.T, l cuts.Layout) {
	thick := o.stone.Top[0].Z
	sum := 0.0
	flat := true
	for _, step := range l.Steps {
		flat = flat && math.Abs(step.Normal.Z) < 1e-9
		sum += step.KerfLost
	}
	for _, p := range l.Pieces {
		sum += p.Volume
		if flat {
			require.InDelta(t, thick*clipped(o.stone.Outline, o.edges(p.Name)), p.Volume, 1e-3)
		}
	}
	require.InDelta(t, thick*clipped(o.stone.Outline, nil), sum, 0.01*sum)
}

// checkStone holds every allowance of a stone against samples.
func (o outside) checkStone(t *testing.T, f cuts.Placed) {
	const rounding = 1e-6
	a := o.stone.Allowances
	sides := o.edges(f.Piece)
	crack := crackPoints(o.stone)
	skin := skinOf(f.Fit)
	cut, face, side, mark := math.Inf(1), math.Inf(1), math.Inf(1), math.Inf(1)
	outline := o.stone.Outline
	for i, at := range skin {
		for _, e := range sides {
			cut = math.Min(cut, e.n.Dot(at)-e.from)
		}
		face = math.Min(face, math.Min(at.Z, o.stone.Top[0].Z-at.Z))
		if !within(outline, at) {
			side = math.Inf(-1)
		}
		for k, p := range outline {
			q := outline[(k+1)%len(outline)]
			far := (at.X-p.X)*(q.Y-p.Y) + (at.Y-p.Y)*(p.X-q.X)
			side = math.Min(side, math.Abs(far)/math.Hypot(q.X-p.X, q.Y-p.Y))
		}
		if i%7 != 0 {
			continue
		}
		for _, c := range crack {
			d := (at.X-c.X)*(at.X-c.X) + (at.Y-c.Y)*(at.Y-c.Y) + (at.Z-c.Z)*(at.Z-c.Z)
			mark = math.Min(mark, d)
		}
	}
	require.GreaterOrEqual(t, cut, a.Skin-rounding, "too near to a cut")
	require.GreaterOrEqual(t, face, a.Skin-rounding, "too near to a face")
	require.GreaterOrEqual(t, side, a.Skin-rounding, "too near to a side")
	require.GreaterOrEqual(t, math.Sqrt(mark), a.Crack-rounding, "too near to C1")
}

// checkStep holds what is said of a cut against samples and the outline.
func (o outside) checkStep(t *testing.T, l cuts.Layout, step cuts.Step) {
	before := o.edges(step.Piece)
	spare, stones := math.Inf(1), 0
	for _, f := range l.Fits {
		if len(f.Piece) <= len(step.Piece) || f.Piece[:len(step.Piece)] != step.Piece {
			continue
		}
		stones++
		for _, p := range skinOf(f.Fit) {
			d := math.Abs(step.Normal.Dot(p) - step.Normal.Dot(step.Point))
			spare = math.Min(spare, d-step.Kerf/2-o.stone.Allowances.Skin)
		}
	}
	require.Positive(t, stones)
	require.InDelta(t, spare, step.Spare, 0.01)
	meets := 0
	for _, p := range crackPoints(o.stone) {
		if holds(before, p, 0.05) && math.Abs(step.Normal.Dot(p)-step.Normal.Dot(step.Point)) < step.Kerf/2-0.02 {
			meets++
		}
	}
	if meets > 3 {
		sealedBy := 0
		for _, s := range o.steps {
			if len(s.SealFirst) > 0 {
				sealedBy++
			}
		}
		require.Equal(t, 1, sealedBy, "it runs into C1, which is sealed once")
	}
	for _, m := range step.Marks {
		n := len(o.stone.Outline)
		require.Equal(t, m.To, m.From%n+1, "an edge's corners follow each other")
		from, to := o.stone.Outline[m.Corner-1], o.stone.Outline[m.From+m.To-m.Corner-1]
		far := math.Hypot(to.X-from.X, to.Y-from.Y)
		at := geometry.Vec3{X: from.X + (to.X-from.X)*m.Along/far, Y: from.Y + (to.Y-from.Y)*m.Along/far, Z: step.Point.Z}
		if math.Abs(step.Normal.Z) < 1e-9 {
			require.InDelta(t, 0, step.Normal.Dot(at)-step.Normal.Dot(step.Point), 1e-6)
		}
		c := o.stone.Outline[m.CheckCorner-1]
		require.InDelta(t, m.Check, math.Hypot(at.X-c.X, at.Y-c.Y), 1e-6)
	}
}

// Against a raster of upright cuts, 7.5 degrees and 0.5 mm apart, with the heaviest
// oval of the list on either side at any place of a millimetre's raster and any turn of
// 15 degrees: not lighter by more than 3%.
func TestTwoStonesAgainstARasterOfCuts(t *testing.T) {
	for seed := range rasterStones {
		t.Run(fmt.Sprintf("stone %d", seed), func(t *testing.T) {
			s := randomStone(rand.New(rand.NewPCG(12, uint64(seed))), false)
			best := 0.0
			for _, l := range layoutsOf(t, s, false) {
				if len(l.Fits) == 2 {
					best = math.Max(best, l.Carat())
				}
			}
			plan := planOf(t, s)
			raster := 0.0
			for k := range 24 {
				sin, cos := math.Sincos(2 * math.Pi * float64(k) / 48)
				for at := -16.0; at <= 16; at += 0.5 {
					n := geometry.Vec3{X: cos, Y: sin}
					one := heaviestBeside(s, plan, edge{n, at + 0.15})
					if one > 0 {
						if two := heaviestBeside(s, plan, edge{n.Scale(-1), -at + 0.15}); two > 0 {
							raster = math.Max(raster, one+two)
						}
					}
				}
			}
			t.Logf("%.2f ct against %.2f ct of the raster", best, raster)
			require.GreaterOrEqual(t, best, 0.97*raster)
		})
	}
}

// heaviestBeside is the heaviest oval of a plan that goes into a convex slab on one
// side of a cut; 0 for none.
func heaviestBeside(s planner.Stone, plan search.Plan, e edge) float64 {
	type line struct{ x, y, most float64 }
	lines := []line{{-e.n.X, -e.n.Y, -e.from}}
	for i, p := range s.Outline {
		q := s.Outline[(i+1)%len(s.Outline)]
		x, y := q.Y-p.Y, p.X-q.X
		d := math.Hypot(x, y)
		lines = append(lines, line{x / d, y / d, (x*p.X + y*p.Y) / d})
	}
	for _, f := range plan.Fits {
		a, b := f.Solid.Outline.Length/2, f.Solid.Outline.Width/2
		for turn := range 12 {
			sin, cos := math.Sincos(float64(turn) * math.Pi / 12)
			for x := -15.0; x <= 15; x++ {
			places:
				for y := -11.0; y <= 11; y++ {
					for _, l := range lines {
						reach := math.Hypot(a*(l.x*cos+l.y*sin), b*(l.y*cos-l.x*sin))
						if l.x*x+l.y*y+reach > l.most-s.Allowances.Skin {
							continue places
						}
					}
					return f.Carat
				}
			}
		}
	}
	return 0
}
