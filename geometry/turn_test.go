package geometry_test

import (
	"math"
	"math/big"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"cabwright/geometry"
)

func v2(x, y float64) pt { return pt{X: x, Y: y} }

// ratTurn is Turn in rational numbers.
func ratTurn(a, b, c pt) int {
	rat := func(v float64) *big.Rat { return new(big.Rat).SetFloat64(v) }
	sub := func(v, w float64) *big.Rat { return new(big.Rat).Sub(rat(v), rat(w)) }
	left := new(big.Rat).Mul(sub(b.X, a.X), sub(c.Y, a.Y))
	right := new(big.Rat).Mul(sub(b.Y, a.Y), sub(c.X, a.X))
	return left.Cmp(right)
}

// Turn must be exact where the plain determinant is not: points a few last
// digits off a line.
func TestTurnIsExact(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.Map(rapid.IntRange(-1e6, 1e6), func(n int) float64 { return float64(n) / 1000 })
		a, d := v2(v.Draw(t, "ax"), v.Draw(t, "ay")), v2(v.Draw(t, "dx"), v.Draw(t, "dy"))
		nudge := func(x float64, steps int) float64 {
			for ; steps > 0; steps-- {
				x = math.Nextafter(x, math.Inf(1))
			}
			return x
		}
		b, c := a.Add(d), a.Add(d.Scale(rapid.SampledFrom([]float64{0.5, 1.0 / 3, 2, 1e-3, -1}).Draw(t, "k")))
		if c.X == 0 {
			c.X = 1e-20 // nudged, nought would be less than Turn is made for
		}
		c.X = nudge(c.X, rapid.IntRange(0, 3).Draw(t, "steps"))
		if got, want := geometry.Turn(a, b, c), ratTurn(a, b, c); got != want {
			t.Fatalf("Turn(%v, %v, %v) = %d, exactly it is %d", a, b, c, got, want)
		}
	})
}

// The hull turns left at each of its corners, which are some of the points, and
// has every point to its left or on it.
func TestConvexHull(t *testing.T) {
	require.Empty(t, geometry.ConvexHull(nil))
	require.Len(t, geometry.ConvexHull([]pt{{X: 1}, {X: 1}}), 1)
	require.Len(t, geometry.ConvexHull([]pt{{}, {X: 1}, {X: 2}, {X: 3}}), 2)
	require.Equal(t, []pt{{}, {X: 2}, {X: 2, Y: 1}, {X: 1, Y: 2}, {Y: 2}}, geometry.ConvexHull(ell))
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.Map(rapid.IntRange(-6, 6), func(n int) float64 { return float64(n) / 3 })
		points := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) pt { return v2(v.Draw(t, "x"), v.Draw(t, "y")) }), 3,
			40).Draw(t, "points")
		hull := geometry.ConvexHull(points)
		require.Subset(t, points, hull)
		if len(hull) < 3 {
			return // all on a line
		}
		for i, a := range hull {
			b, c := hull[(i+1)%len(hull)], hull[(i+2)%len(hull)]
			require.Equal(t, 1, geometry.Turn(a, b, c), "%v %v %v", a, b, c)
			for _, p := range points {
				require.GreaterOrEqual(t, geometry.Turn(a, b, p), 0)
			}
		}
	})
}
