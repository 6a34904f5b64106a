package geometry

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func constant(v float64) func(Vec2, bool) (float64, int) {
	return func(Vec2, bool) (float64, int) { return v, 0 }
}

// star has n points of radius r and n notches of radius s between them; its
// area is n r s sin(pi/n), that of 2n triangles at the centre.
func star(n int, r, s float64) (corners []Vec2, area float64) {
	for i := range 2 * n {
		sin, cos := math.Sincos(math.Pi * float64(i) / float64(n))
		d := r
		if i%2 == 1 {
			d = s
		}
		corners = append(corners, Vec2{d * cos, d * sin})
	}
	return corners, float64(n) * r * s * math.Sin(math.Pi/float64(n))
}

// comb has n teeth of width 1 and gaps of width 1, of a length, on a bar of height 1.
func comb(n int, long float64) (corners []Vec2, area float64) {
	corners = []Vec2{{0, 0}, {float64(2*n - 1), 0}}
	for i := n - 1; i >= 0; i-- {
		x := float64(2 * i)
		corners = append(corners, Vec2{x + 1, 1 + long}, Vec2{x, 1 + long})
		if i > 0 {
			corners = append(corners, Vec2{x, 1}, Vec2{x - 1, 1})
		}
	}
	return corners, float64(2*n-1) + float64(n)*long
}

func TestIntegralOfOneIsTheArea(t *testing.T) {
	require.Zero(t, Integral(nil, 1, constant(1)))
	require.Zero(t, Integral([]Vec2{{0, 0}, {1, 1}}, 1, constant(1)))
	for _, n := range []int{2, 5, 150, 5000} {
		for _, s := range []float64{0.05, 3, 9.9} {
			corners, area := star(n, 10, s)
			require.InEpsilon(t, area, Integral(corners, 1, constant(1)), 1e-9, "star of %d, %g", n, s)
		}
	}
	for _, n := range []int{2, 40, 2500} {
		corners, area := comb(n, 7)
		require.InEpsilon(t, area, Integral(corners, 1.3, constant(1)), 1e-9, "comb of %d", n)
	}
	require.InEpsilon(t, 0.01*9, Integral([]Vec2{{3, 2}, {3.01, 2}, {3.01, 11}, {3, 11}}, 1, constant(1)), 1e-9,
		"a thread")
}

// Second moments of a polygon in closed form (Steger 1996, "On the calculation
// of arbitrary moments of polygons"): the integral of x^2 + y^2.
func TestIntegralOfASquareIsThePolarMoment(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(3, 40).Draw(t, "corners")
		var poly []Vec2
		for i := range n {
			sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
			r := rapid.Float64Range(0.3, 12).Draw(t, "r")
			poly = append(poly, Vec2{3 + r*cos, -2 + r*sin})
		}
		want := 0.0
		for i, p := range poly {
			q := poly[(i+1)%n]
			want += p.Cross(q) * (p.X*p.X + p.X*q.X + q.X*q.X + p.Y*p.Y + p.Y*q.Y + q.Y*q.Y) / 12
		}
		size := rapid.Float64Range(0.5, 5).Draw(t, "size")
		got := Integral(poly, size, func(p Vec2, _ bool) (float64, int) { return p.Dot(p), 0 })
		if math.Abs(got-want) > 1e-8*want {
			t.Fatalf("%g, want %g", got, want)
		}
	})
}

// What a wedge holds whose edge runs askew through the cells: branches are
// followed into small cells.
func TestIntegralOfWhatIsBent(t *testing.T) {
	square := []Vec2{{-10, -10}, {10, -10}, {10, 10}, {-10, 10}}
	for _, degrees := range []float64{0, 17, 45, 71} {
		sin, cos := math.Sincos(degrees * math.Pi / 180)
		for _, off := range []float64{0, 0.013, 3.3} {
			wedge := func(p Vec2, _ bool) (float64, int) {
				d := p.X*cos + p.Y*sin - off
				if d < 0 {
					return 0, 0
				}
				return d, 1
			}
			// The same in closed form, in coordinates along and across the wedge's
			// edge: the first moment, about it, of the part of the square beyond it.
			var turned []Vec2
			for _, p := range square {
				turned = append(turned, Vec2{p.X*cos + p.Y*sin - off, p.Y*cos - p.X*sin})
			}
			part := cutAlong(turned, Vec2{X: -1}, 0)
			want := 0.0
			for i, p := range part {
				q := part[(i+1)%len(part)]
				want += p.Cross(q) / 2 * (p.X + q.X) / 3
			}
			require.InEpsilon(t, want, Integral(square, 1, wedge), 1e-5, "%g degrees, %g", degrees, off)
		}
	}
	// Half a ball of radius 10: 2/3 pi r^3. Its rim is as steep as can be.
	ball := func(p Vec2, _ bool) (float64, int) {
		if h := 100 - p.Dot(p); h > 0 {
			return math.Sqrt(h), 1
		}
		return 0, 0
	}
	require.InEpsilon(t, 2.0/3*math.Pi*1000, Integral(square, 1, ball), 3e-4)
}

func TestIntegralKnowsWhatIsInside(t *testing.T) {
	corners, _ := star(7, 10, 4)
	inside, all := 0, 0
	Integral(corners, 1, func(p Vec2, in bool) (float64, int) {
		all++
		if in {
			inside++
			require.True(t, InPolygon(corners, p), p)
		}
		return 1, 0
	})
	require.Greater(t, inside, all/2)
	require.Less(t, inside, all)
}
