package field

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"cabwright/geometry"
)

// above is the distance from p, above the surface, to it: the least over a fine net of
// its places, so never too small.
func above(height func(x, y float64) float64, p geometry.Vec3) float64 {
	reach := p.Z - height(p.X, p.Y)
	best := reach
	const n = 120
	for i := range n + 1 {
		for j := range n + 1 {
			x, y := p.X+reach*(2*float64(i)/n-1), p.Y+reach*(2*float64(j)/n-1)
			best = min(best, p.Sub(geometry.Vec3{X: x, Y: y, Z: height(x, y)}).Norm())
		}
	}
	return best
}

// How far a point in a dent is above the surface is never told too high, and near enough
// to be of use.
func TestGapIsBelowTheDistance(t *testing.T) {
	r := rand.New(rand.NewPCG(81, 4))
	seen, short := 0, 0.0
	for range 3 {
		body, top := dented(t, r)
		f := New(body)
		for range 60 {
			p := geometry.Vec3{X: uniform(r, -6, 6), Y: uniform(r, -6, 6)}
			z := top.height(p.X, p.Y)
			p.Z = z + uniform(r, 0.01, 1)
			truth := above(top.height, p)
			gap := f.top.gap(p, math.Inf(1))
			require.LessOrEqual(t, gap, truth+1e-9, "at %v", p)
			require.Greater(t, gap, 0.0)
			require.GreaterOrEqual(t, f.top.gap(p, truth/3), min(gap, truth/3)-1e-9, "enough is enough")
			seen++
			short += truth - gap
			p.Z = z - uniform(r, 0.001, 1)
			require.LessOrEqual(t, f.top.gap(p, math.Inf(1)), 0.0, "a point below")
		}
		for _, p := range []geometry.Vec3{{X: 40, Z: 9}, {Y: -40, Z: 9}} {
			require.LessOrEqual(t, f.top.gap(p, 1), 0.0, "beside the table")
		}
	}
	require.Less(t, short/float64(seen), 0.06)
}

// A point that pokes into a dent from below by more than it can move within the allowance
// rules out the box of its poses: some row says that it keeps less than nothing.
func TestRowsInADentAreBelowZero(t *testing.T) {
	r := rand.New(rand.NewPCG(82, 4))
	for range 3 {
		body, top := dented(t, r)
		body.Skin = 0.5
		f := New(body)
		f.Prepare(1)
		for range 80 {
			p := geometry.Vec3{X: uniform(r, -6, 6), Y: uniform(r, -6, 6)}
			p.Z = top.height(p.X, p.Y) + uniform(r, 0.01, 0.8)
			for _, reach := range []Reach{{Plan: 0.3, Rise: 0.3}, {Plan: 0.2, Rise: 0.1}, {}} {
				least := math.Inf(1)
				for _, row := range f.Rows(p, reach, nil, math.Inf(1), nil) {
					least = min(least, row.Value+row.Gradient.Norm()*reach.Full()+row.Slack)
				}
				require.Less(t, least, 0.0, "at %v, reach %v", p, reach)
			}
		}
	}
}

// A point that moves by more than its distance to one of an obstacle is bounded by that
// distance and the move, which is less than the parabola has.
func TestBallOfAPointThatMovesFar(t *testing.T) {
	k := geometry.Vec3{X: 1, Y: 2, Z: 3}
	for _, d := range []float64{0, 1e-9, 0.1, 0.3, 2} {
		p := k.Add(geometry.Vec3{Z: d})
		for _, full := range []float64{0, 0.05, 0.4, 3} {
			b := ball(p, k, Reach{Rise: full}, 0.5)
			most := b.Value + b.Gradient.Norm()*full + b.Slack
			require.GreaterOrEqual(t, most, d+full-0.5-1e-12, "%g by %g", d, full)
			require.LessOrEqual(t, b.Value+b.Slack, d+full-0.5+1e-12, "%g by %g", d, full)
		}
	}
}
