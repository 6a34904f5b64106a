package field

import (
	"math"
	"math/rand/v2"
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
	w := &twin{body: Body{Polygon: square(8), Top: top, Base: level(t, 0), Low: 0, High: 30}}
	w.top, w.base = newPatchwork(w.body.Polygon, top.At), newPatchwork(w.body.Polygon, w.body.Base.At)
	f := New(w.body)
	r := rand.New(rand.NewPCG(21, 0))
	through := 0
	for range 400 {
		x, y := 6*r.Float64()-3, 4*r.Float64()-2
		p := geometry.Vec3{X: x, Y: y, Z: top.At(x, y) - 1.5*r.Float64()}
		reach := Reach{Plan: 5, Rise: 5}
		rows := f.Rows(p, reach, math.Inf(1), nil)
		for range 5 {
			e := within(r, reach)
			q := p.Add(e)
			if d, out := w.skin(q); !out && q.Z > 0 {
				for _, row := range rows {
					if row.Value+row.Gradient.Dot(e) < 0 {
						through++
					}
					require.GreaterOrEqual(t, row.Value+row.Gradient.Dot(e)+row.Slack, d-1e-5, "%v from %v by %v, which keeps %g", row, p, e, d)
				}
			}
		}
	}
	require.Greater(t, through, 100)
}

// A pit's floor that bulges into the body between its walls: the floor is nearer
// than the box around the walls.
func TestLowerSeesAFloorBetweenTheWalls(t *testing.T) {
	top := plate(t, 9, 9, func(x, y float64) float64 { return 10 + 0.06*(x*x+y*y) }) // a hollow
	f := New(Body{Polygon: square(8), Top: top, Base: level(t, 0), Low: 0, High: 18})
	f.AddPit(square(5), true, 2, 0.25)
	p := geometry.Vec3{Z: top.At(0, 0) - 2 - 0.5} // half a millimetre under the middle
	for _, enough := range []float64{0.1, 0.3, 1, math.Inf(1)} {
		require.LessOrEqual(t, f.Lower(p, enough), 0.25+1e-6, "enough %g", enough)
	}
	require.InDelta(t, 0.25, f.Lower(p, 1), 1e-3)
	f.Prepare(1)
	require.LessOrEqual(t, f.AtLeast(p), 0.25+1e-6)
}

// Just under a pit's floor that rises over its tangent planes, the floor is what
// is near, not the walls.
func TestLowerJustUnderAFloor(t *testing.T) {
	top := plate(t, 11, 9, func(x, y float64) float64 { return 10 + 0.2*x*x })
	f := New(Body{Polygon: square(8), Top: top, Base: level(t, 0), Low: 0, High: 28})
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
		f := New(Body{Polygon: square(8), Top: top, Base: level(t, -30), Low: -30, High: 40})
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
