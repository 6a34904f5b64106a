package field

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"cabwright/geometry"
)

// plate lays a surface through heights on a grid of n x n readings over +-size.
func plate(t *testing.T, n int, size float64, height func(x, y float64) float64) *geometry.ThinPlate {
	t.Helper()
	var readings []geometry.Vec3
	for i := range n {
		for j := range n {
			x, y := size*(2*float64(i)/float64(n-1)-1), size*(2*float64(j)/float64(n-1)-1)
			readings = append(readings, geometry.Vec3{X: x, Y: y, Z: height(x, y)})
		}
	}
	s, err := geometry.FitThinPlate(readings)
	require.NoError(t, err)
	return s
}

func level(t *testing.T, z float64) *geometry.ThinPlate {
	t.Helper()
	s, err := geometry.FitThinPlate([]geometry.Vec3{{Z: z}})
	require.NoError(t, err)
	return s
}

func square(half float64) []geometry.Vec2 {
	return []geometry.Vec2{{X: -half, Y: -half}, {X: half, Y: -half}, {X: half, Y: half}, {X: -half, Y: half}}
}

// A wide box in a valley: the tangent plane at the valley's side is left through,
// and the point has to be carried up to where the surface has risen over it.
func TestRowsHoldBeyondTheTangentPlane(t *testing.T) {
	top := plate(t, 9, 9, func(x, y float64) float64 { return 12 + x + 0.15*x*x })
	w := &twin{body: Body{Polygon: square(8), Top: Uncut(top), Base: Uncut(level(t, 0)), Low: 0, High: 30}}
	w.top, w.base = newPatchwork(w.body.Polygon, top.At), newPatchwork(w.body.Polygon, w.face(false))
	f := New(w.body)
	r := rand.New(rand.NewPCG(21, 0))
	through := 0
	for range 200 {
		x, y := 6*r.Float64()-3, 4*r.Float64()-2
		p := geometry.Vec3{X: x, Y: y, Z: top.At(x, y) - 1.5*r.Float64()}
		reach := Reach{Plan: 5, Rise: 5}
		tangent, _ := f.top.row(p, 0, reach, 0)
		rows := append(f.Rows(p, reach, nil, math.Inf(1), nil), tangent)
		for range 5 {
			e := within(r, reach)
			q := p.Add(e)
			if d, out := w.skin(q); !out && q.Z > 0 {
				for _, row := range rows {
					if row.Value+row.Gradient.Dot(e) < 0 {
						through++
					}
					require.GreaterOrEqual(
						t, row.Value+row.Gradient.Dot(e)+row.Slack, d-1e-5, "%v from %v by %v, which keeps %g", row, p, e, d,
					)
				}
			}
		}
	}
	require.Greater(t, through, 50)
}

// A pit's floor that bulges into the body between its walls: the floor is nearer
// than the box around the walls.
func TestLowerSeesAFloorBetweenTheWalls(t *testing.T) {
	top := plate(t, 9, 9, func(x, y float64) float64 { return 10 + 0.06*(x*x+y*y) }) // a hollow
	f := New(Body{Polygon: square(8), Top: Uncut(top), Base: Uncut(level(t, 0)), Low: 0, High: 18})
	f.AddPit(square(5), true, 2, 0.25)
	p := geometry.Vec3{Z: top.At(0, 0) - 2 - 0.5} // half a millimetre under the middle
	for _, enough := range []float64{0.1, 0.3, 1, math.Inf(1)} {
		require.LessOrEqual(t, f.Lower(p, enough), 0.25+1e-6, "enough %g", enough)
	}
	require.InDelta(t, 0.25, f.Lower(p, 1), 1e-3)
	// Beside the middle the box, which goes as low as the floor does, says nothing.
	p = geometry.Vec3{X: 2.5, Y: 1, Z: top.At(2.5, 1) - 2.5}
	for _, enough := range []float64{0.1, 0.2, 1} {
		require.LessOrEqual(t, f.Lower(p, enough), 0.25+1e-6, "enough %g", enough)
	}
	f.Prepare(1)
	require.LessOrEqual(t, f.AtLeast(p), 0.25+1e-6)
}

// Just under a pit's floor that rises over its tangent planes, the floor is what
// is near, not the walls.
func TestLowerJustUnderAFloor(t *testing.T) {
	top := plate(t, 11, 9, func(x, y float64) float64 { return 10 + 0.2*x*x })
	f := New(Body{Polygon: square(8), Top: Uncut(top), Base: Uncut(level(t, 0)), Low: 0, High: 28})
	f.AddPit(square(4), true, 3, 0.25)
	r := rand.New(rand.NewPCG(22, 0))
	for range 2000 {
		x, y := 4*r.Float64()-2, 4*r.Float64()-2
		under := math.Pow(10, 4*r.Float64()-6)
		p := geometry.Vec3{X: x, Y: y, Z: top.At(x, y) - 3 - under}
		require.LessOrEqual(t, f.Lower(p, math.Inf(1)), under-0.25+1e-9, "%g under the floor at (%g, %g)", under, x, y)
	}
}

// Above the surface a point is outside, whatever the tangent planes say.
func TestLowerIsNeverPositiveOutside(t *testing.T) {
	r := rand.New(rand.NewPCG(23, 0))
	for _, bow := range []float64{-0.3, 0.3} {
		top := plate(t, 11, 9, func(x, y float64) float64 { return 20 + bow*(x*x+y*y) })
		f := New(Body{Polygon: square(8), Top: Uncut(top), Base: Uncut(level(t, -30)), Low: -30, High: 40})
		for range 2000 {
			x, y := 14*r.Float64()-7, 14*r.Float64()-7
			above := math.Pow(10, 4*r.Float64()-4)
			p := geometry.Vec3{X: x, Y: y, Z: top.At(x, y) + above}
			require.Less(t, f.Lower(p, math.Inf(1)), 0.0, "%g above the top at (%g, %g)", above, x, y)
			// Below it the bound is not negative.
			p.Z = top.At(x, y) - above
			require.GreaterOrEqual(t, f.Lower(p, math.Inf(1)), 0.0, "%g under the top at (%g, %g)", above, x, y)
		}
	}
}

// rowsHold checks the rows at p, by displacements within reach, against the twin.
func rowsHold(t *testing.T, f *Field, w *twin, r *rand.Rand, p geometry.Vec3, reach Reach) {
	t.Helper()
	rows := f.Rows(p, reach, nil, math.Inf(1), nil)
	for range 5 {
		e := within(r, reach)
		d, in := w.each(p.Add(e))
		if slices.Contains(in, true) {
			continue
		}
		for _, row := range rows {
			require.GreaterOrEqual(
				t, row.Value+row.Gradient.Dot(e)+row.Slack, slices.Min(d)-1e-6, "%+v at %v by %v, clearances %v", row, p, e, d,
			)
		}
	}
}

// A crack with a wide allowance under a steep top: beside it the points straight
// across lie outside, where only the skin's smaller allowance counts. And one that
// leans so far over that, carried on upwards, it would come back into the body.
func TestSheetsDoNotGoOnAboveASteepTop(t *testing.T) {
	for _, c := range []struct {
		slope, skin, allowance float64
		into                   geometry.Vec3
	}{
		{math.Sqrt(3), 0.5, 1, geometry.Vec3{Z: -1}},
		{1, 0.5, 0.5, geometry.Vec3{X: -2.7, Z: -1}},
	} {
		top := plate(t, 3, 9, func(x, y float64) float64 { return 20 + c.slope*x })
		w := &twin{body: Body{Polygon: square(8), Top: Uncut(top), Base: Uncut(level(t, 0)), Low: 0, High: 35, Skin: c.skin}}
		w.top, w.base = newPatchwork(w.body.Polygon, top.At), newPatchwork(w.body.Polygon, w.face(false))
		s := Sheet{Path: []geometry.Vec2{{Y: -6}, {Y: 6}}, FromTop: true, Into: c.into, Depth: 4, Allowance: c.allowance}
		w.sheets = []Sheet{s}
		f := New(w.body)
		f.AddSheet(s)
		r := rand.New(rand.NewPCG(24, 0))
		for range 300 {
			x := 4 * r.Float64()
			p := geometry.Vec3{X: x, Y: 2*r.Float64() - 1, Z: 20 + c.slope*x - 0.5 - 2*r.Float64()}
			rowsHold(t, f, w, r, p, Reach{Plan: 0.3 * r.Float64(), Rise: 0.3 * r.Float64()})
		}
	}
}

// Under the middle of a wide pit in a domed top, between the levels of its floor
// at the walls and in the middle, there is stone.
func TestRowsKnowTheStoneUnderADomedFloor(t *testing.T) {
	top := plate(t, 9, 9, func(x, y float64) float64 { return 12 - 0.05*(x*x+y*y) })
	w := &twin{body: Body{Polygon: square(8), Top: Uncut(top), Base: Uncut(level(t, 0)), Low: 0, High: 12}}
	w.top, w.base = newPatchwork(w.body.Polygon, top.At), newPatchwork(w.body.Polygon, w.face(false))
	w.prisms = []twinPrism{{Prism: Prism{Polygon: square(5), Allowance: 0.25}, pit: true, fromTop: true, depth: 2}}
	w.prisms[0].floor = newPatchwork(square(5), func(x, y float64) float64 { return top.At(x, y) - 2 })
	f := New(w.body)
	f.AddPit(square(5), true, 2, 0.25)
	for _, wall := range f.prisms()[0].facets {
		require.InDelta(t, 1.25, wall.back, 0.25, "the floor rises by 0.05 times 5 squared behind a wall's middle")
	}
	r := rand.New(rand.NewPCG(25, 0))
	for range 150 {
		x, y := 8*r.Float64()-4, 8*r.Float64()-4
		p := geometry.Vec3{X: x, Y: y, Z: top.At(x, y) - 2 - 0.8*r.Float64()}
		rowsHold(t, f, w, r, p, Reach{Plan: r.Float64(), Rise: r.Float64()})
	}
}

// A crack drawn across a domed top: its edges are bent and its sheet is no plane.
func TestRowsOfABentSheet(t *testing.T) {
	top := plate(t, 9, 9, func(x, y float64) float64 { return 12 - 0.08*(x*x+y*y) })
	for _, into := range []geometry.Vec3{{Z: -1}, {X: 1.5, Z: -1}} {
		w := &twin{body: Body{Polygon: square(8), Top: Uncut(top), Base: Uncut(level(t, -20)), Low: -20, High: 12}}
		w.top, w.base = newPatchwork(w.body.Polygon, top.At), newPatchwork(w.body.Polygon, w.face(false))
		s := Sheet{Path: []geometry.Vec2{{Y: -6}, {Y: 6}}, FromTop: true, Into: into, Depth: 4}
		w.sheets = []Sheet{s}
		f := New(w.body)
		f.AddSheet(s)
		r := rand.New(rand.NewPCG(26, 0))
		at := func(y, depth float64) geometry.Vec3 {
			return geometry.Vec3{Y: y, Z: top.At(0, y)}.Add(into.Scale(depth))
		}
		for range 150 {
			y := 8*r.Float64() - 4
			// Beside the lower edge by hundredths of a millimetre, with hardly a move.
			p := at(y, 4+0.02*r.Float64()-0.015).Add(geometry.Vec3{X: 0.02 * (r.Float64() - 0.5)})
			rowsHold(t, f, w, r, p, Reach{Plan: 1e-4, Rise: 1e-4})
			if y > -2 {
				continue // the long facets are the same all along, and the twin is slow
			}
			// Off the middle, far enough for the long facets.
			p = at(y, 2).Add(geometry.Vec3{X: 1.5 * (r.Float64() - 0.5)})
			rowsHold(t, f, w, r, p, Reach{Plan: 0.01, Rise: 1})
		}
	}
}

// A pit that goes on beside the body, with a floor that hangs down out there.
func TestLowerKnowsAPitBesideTheBody(t *testing.T) {
	top := plate(t, 11, 20, func(x, y float64) float64 { return 10 + 0.06*((x-13)*(x-13)+y*y) })
	f := New(Body{Polygon: square(8), Top: Uncut(top), Base: Uncut(level(t, 0)), Low: 0, High: 40})
	pit := []geometry.Vec2{{X: 7, Y: -5}, {X: 19, Y: -5}, {X: 19, Y: 5}, {X: 7, Y: 5}}
	f.AddPit(pit, true, 2, 0)
	w := &twin{body: Body{Top: Uncut(top)}}
	q := twinPrism{Prism: Prism{Polygon: pit}, pit: true, fromTop: true, depth: 2}
	q.floor = newPatchwork(pit, func(x, y float64) float64 { return top.At(x, y) - 2 })
	r := rand.New(rand.NewPCG(27, 0))
	for range 300 {
		x, y := 6+14*r.Float64(), 10*r.Float64()-5
		p := geometry.Vec3{X: x, Y: y, Z: top.At(x, y) - 2 - 2*r.Float64()}
		d, _ := w.prism(&q, p)
		for _, enough := range []float64{0.1, 0.5, 1, 9} {
			f.each(p, enough, func(k int, c float64) {
				if k == 1 {
					require.LessOrEqual(t, c, d+1e-6, "at %v, enough %g", p, enough)
				}
			})
		}
	}
}

// Half way between two corners, and sag further on, the clearance may be less than
// at both: by an edge that points at the middle, a reflex corner or a hollow.
func TestOverAllowsForWhatIsBetweenItsCorners(t *testing.T) {
	hollow := plate(t, 9, 9, func(x, y float64) float64 { return 10 + 0.2*(x*x+y*y) })
	notched := []geometry.Vec2{{X: -8, Y: -8}, {X: 8, Y: -8}, {X: 8, Y: 8}, {X: 0, Y: 1}, {X: -8, Y: 8}}
	for _, c := range []struct {
		name      string
		top       *geometry.ThinPlate
		polygon   []geometry.Vec2
		sheet     bool
		mid, away geometry.Vec3
	}{
		{"under the edge of a sheet", level(t, 10), square(8), true, geometry.Vec3{Z: 5.4}, geometry.Vec3{Z: 1}},
		{"before a reflex corner", level(t, 30), notched, false, geometry.Vec3{Y: 0.4, Z: 15}, geometry.Vec3{Y: 1}},
		{"under a hollow", hollow, square(8), false, geometry.Vec3{Z: 9.4}, geometry.Vec3{Z: 1}},
	} {
		f := New(Body{Polygon: c.polygon, Top: Uncut(c.top), Base: Uncut(level(t, 0)), Low: 0, High: 40})
		if c.sheet {
			f.AddSheet(Sheet{Path: []geometry.Vec2{{Y: -6}, {Y: 6}}, FromTop: true, Into: geometry.Vec3{Z: -1}, Depth: 4})
		}
		const radius, sag = 0.3, 0.02
		v := geometry.Vec3{X: radius}
		lower, least := over(f, []geometry.Vec3{c.mid.Add(v), c.mid.Sub(v)}, radius, sag)
		require.Greater(t, least, 0.6, c.name)
		require.LessOrEqual(t, lower, 0.6-sag+0.001, "%s: %v is 0.6 from it", c.name, c.mid)
		require.Greater(t, lower, 0.3, c.name)
		require.Less(t, f.Lower(c.mid.Add(c.away.Scale(sag)), 9), 0.6-sag+0.001, c.name)
	}
}
