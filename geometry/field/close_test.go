package field

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"cabwright/geometry"
)

// dented is a plate with readings so close that it dips by a millimetre within half of
// one, cut in a square block 16 mm wide.
func dented(t *testing.T, r *rand.Rand) (Body, patchwork) {
	readings := []geometry.Vec3{{X: -8, Y: -8, Z: 6}, {X: 8, Y: -8, Z: 6.5}, {X: -8, Y: 8, Z: 6}, {X: 8, Y: 8, Z: 5.8}}
	for k := range 5 {
		s, c := math.Sincos(2 * math.Pi * float64(k) / 5)
		p := geometry.Vec3{X: 4.5 * c, Y: 4.5 * s, Z: 6}
		low := p.Add(geometry.Vec3{X: uniform(r, 0.35, 0.6), Y: uniform(r, -0.3, 0.3), Z: -uniform(r, 0.7, 1.2)})
		readings = append(readings, p, low)
	}
	top, err := geometry.FitThinPlate(readings)
	require.NoError(t, err)
	base, err := geometry.FitThinPlate([]geometry.Vec3{{}})
	require.NoError(t, err)
	poly := []geometry.Vec2{{X: -8, Y: -8}, {X: 8, Y: -8}, {X: 8, Y: 8}, {X: -8, Y: 8}}
	wide := []geometry.Vec2{{X: -10, Y: -10}, {X: 10, Y: -10}, {X: 10, Y: 10}, {X: -10, Y: 10}}
	body := Body{Polygon: poly, Top: Uncut(top), Base: Face{base, math.Inf(-1)}, Low: 0, High: 8}
	return body, newPatchwork(wide, top.At)
}

// Beside a dent, too, a row of a point that hardly moves comes down to the clearance
// there, and holds wherever the point goes: without that the smallest box of poses could
// not be ruled out. The distance is measured on the plate by the twin's pattern search.
func TestRowsOfASmallReachComeDownToTheClearance(t *testing.T) {
	r := rand.New(rand.NewPCG(77, 3))
	near := 0
	for range 4 {
		body, top := dented(t, r)
		f := New(body)
		f.Prepare(1)
		for range 60 {
			p := geometry.Vec3{X: uniform(r, -6, 6), Y: uniform(r, -6, 6), Z: uniform(r, 4, 6)}
			if p.Z >= top.height(p.X, p.Y) {
				continue
			}
			distance := func(p geometry.Vec3) float64 {
				return min(top.distance(p), p.Z, 8-max(math.Abs(p.X), math.Abs(p.Y)))
			}
			truth := distance(p)
			reach := Reach{Plan: 0.02, Rise: 0.02}
			least := math.Inf(1)
			for _, row := range f.Rows(p, reach, nil, math.Inf(1), nil) {
				least = min(least, row.Value+row.Slack)
				for range 4 {
					e := within(r, reach)
					if q := p.Add(e); q.Z < top.height(q.X, q.Y) {
						require.GreaterOrEqual(t, row.Value+row.Gradient.Dot(e)+row.Slack, distance(q)-1e-5, "at %v by %v", p, e)
					}
				}
			}
			if truth < 1 {
				near++
				require.LessOrEqual(t, least, truth+0.03, "at %v", p)
			}
		}
	}
	require.Greater(t, near, 60)
}

// So does one of a span below the edge of a pit whose floor is not level. The distance is
// that to the upright lines over points of the polygon a thousandth of a side apart.
func TestRowsBelowAPitComeDownToTheClearance(t *testing.T) {
	r := rand.New(rand.NewPCG(78, 3))
	span := Span{N: 3}
	span.By[0].X, span.By[1].Y, span.By[2].Z = 0.002, 0.002, 0.002
	near := 0
	for range 4 {
		body, top := dented(t, r)
		f := New(body)
		pit := []geometry.Vec2{{X: 3, Y: -2}, {X: 6, Y: -1}, {X: 5.5, Y: 2}, {X: 3.5, Y: 1.5}}
		const depth, allowance = 2, 0.3
		f.AddPit(pit, true, depth, allowance)
		f.Prepare(1)
		for range 60 {
			k := r.IntN(4)
			a, b := pit[k], pit[(k+1)%4]
			along := b.Sub(a).Scale(1 / b.Sub(a).Norm())
			at := a.Add(b.Sub(a).Scale(r.Float64())).Add(geometry.Vec2{X: along.Y, Y: -along.X}.Scale(uniform(r, 0.05, 0.5)))
			p := geometry.Vec3{X: at.X, Y: at.Y, Z: top.height(at.X, at.Y) - depth - uniform(r, 0.2, 0.7)}
			truth := math.Inf(1)
			for i := range 4000 {
				c := pit[i/1000]
				q := c.Add(pit[(i/1000+1)%4].Sub(c).Scale(float64(i%1000) / 1000))
				truth = min(truth, math.Hypot(q.Sub(at).Norm(), max(0, top.height(q.X, q.Y)-depth-p.Z))-allowance)
			}
			if truth < 0.05 {
				continue
			}
			near++
			// What is left out above a limit is nothing that is lower.
			for _, limit := range []float64{math.Inf(1), truth + 0.05} {
				least := math.Inf(1)
				for _, row := range f.Rows(p, Reach{Plan: 0.003, Rise: 0.002}, &span, limit, nil) {
					least = min(least, row.Value+row.Slack)
				}
				require.LessOrEqual(t, least, truth+0.03, "at %v, limit %g", p, limit)
			}
		}
	}
	require.Greater(t, near, 100)
}
