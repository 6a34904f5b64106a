package geometry_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"cabwright/geometry"
	"cabwright/geometry/geomtest"
)

type pt = geometry.Vec2

var ell = []pt{{}, {X: 2}, {X: 2, Y: 1}, {X: 1, Y: 1}, {X: 1, Y: 2}, {Y: 2}}

func TestAreaAndBounds(t *testing.T) {
	for _, c := range []struct {
		name   string
		poly   []pt
		area   float64
		lo, hi pt
	}{
		{"nothing", nil, 0, pt{}, pt{}},
		{"a point", []pt{{3, -4}}, 0, pt{3, -4}, pt{3, -4}},
		{"a segment", []pt{{1, 1}, {4, -5}}, 0, pt{1, -5}, pt{4, 1}},
		{"a triangle", []pt{{0, 0}, {4, 0}, {0, 3}}, 6, pt{}, pt{4, 3}},
		{"clockwise", []pt{{0, 3}, {4, 0}, {0, 0}}, -6, pt{}, pt{4, 3}},
		{"an L of three unit squares", ell, 3, pt{}, pt{2, 2}},
		{"a square a kilometre off", []pt{{1e6, 1e6}, {1e6 + 2, 1e6}, {1e6 + 2, 1e6 + 2}, {1e6, 1e6 + 2}}, 4, pt{1e6, 1e6},
			pt{1e6 + 2, 1e6 + 2}},
	} {
		require.InDelta(t, c.area, geometry.Area(c.poly), 1e-3, c.name)
		lo, hi := geometry.Bounds(c.poly)
		require.Equal(t, [2]pt{c.lo, c.hi}, [2]pt{lo, hi}, c.name)
		turned := geometry.CounterClockwise(c.poly)
		require.GreaterOrEqual(t, geometry.Area(turned), 0.0, c.name)
		require.ElementsMatch(t, c.poly, turned, c.name)
	}
}

// turns is the winding number of the polygon about p, by angles.
func turns(poly []pt, p pt) float64 {
	sum := 0.0
	for i, a := range poly {
		u, v := a.Sub(p), poly[(i+1)%len(poly)].Sub(p)
		sum += math.Atan2(u.Cross(v), u.Dot(v))
	}
	return sum / (2 * math.Pi)
}

func TestInPolygonAgainstWinding(t *testing.T) {
	require.False(t, geometry.InPolygon(nil, pt{}))
	require.False(t, geometry.InPolygon([]pt{{-1, 0}, {1, 0}}, pt{0, 0.1}))
	for _, p := range []pt{{0.5, 1}, {1.5, 0.5}, {0.5, 1.5}} { // level with corners
		require.True(t, geometry.InPolygon(ell, p), "%v", p)
	}
	for _, p := range []pt{{1.5, 1.5}, {-1, 1}, {3, 1}, {-1, 0}, {3, 2}} {
		require.False(t, geometry.InPolygon(ell, p), "%v", p)
	}
	rapid.Check(t, func(t *rapid.T) {
		poly := rapid.OneOf(geomtest.StarPolygon(), geomtest.ConvexPolygon()).Draw(t, "polygon")
		p := pt{X: rapid.Float64Range(-21, 21).Draw(t, "x"), Y: rapid.Float64Range(-21, 21).Draw(t, "y")}
		w := turns(poly, p)
		if math.Abs(w-math.Round(w)) > 1e-6 {
			return // on an edge, where either answer may come
		}
		if got := geometry.InPolygon(poly, p); got != (math.Abs(w) > 0.5) {
			t.Fatalf("%v in: %v, winding %g", p, got, w)
		}
	})
}

func TestToSegment(t *testing.T) {
	a, b := pt{1, 1}, pt{4, 5}
	for _, c := range []struct {
		p    pt
		want float64
	}{
		{a, 0}, {b, 0}, {pt{2.5, 3}, 0}, {pt{-3, -2}, 5}, {pt{7, 9}, 5},
		{pt{2.5 - 4, 3 + 3}, 5}, // square to the middle
	} {
		require.InDelta(t, c.want, geometry.ToSegment(c.p, a, b), 1e-12, "%v", c.p)
		require.InDelta(t, c.want, geometry.ToSegment(c.p, b, a), 1e-12, "%v", c.p)
	}
	require.InDelta(t, 5, geometry.ToSegment(pt{3, 4}, pt{}, pt{}), 1e-12, "no length")
}

// The lengths of the chords, added up over fine levels, are the area; each
// chord's middle lies inside.
func TestCrossingsEncloseTheInside(t *testing.T) {
	require.Equal(t, []float64{0, 1}, geometry.Crossings(ell, 1.5, nil))
	require.Equal(t, []float64{0, 2}, geometry.Crossings(ell, 0.5, []float64{9, 9, 9}))
	require.Empty(t, geometry.Crossings(ell, 3, nil))
	rapid.Check(t, func(t *rapid.T) {
		poly := rapid.OneOf(geomtest.StarPolygon(), geomtest.ConvexPolygon()).Draw(t, "polygon")
		lo, hi := geometry.Bounds(poly)
		const n = 4000
		area, h := 0.0, (hi.Y-lo.Y)/n
		var buf []float64
		for k := range n {
			y := lo.Y + (float64(k)+0.5)*h
			buf = geometry.Crossings(poly, y, buf)
			for i := 0; i+1 < len(buf); i += 2 {
				area += h * (buf[i+1] - buf[i])
				if mid := (buf[i] + buf[i+1]) / 2; buf[i+1]-buf[i] > 1e-6 && !geometry.InPolygon(poly, pt{X: mid, Y: y}) {
					t.Fatalf("(%g, %g) is not inside", mid, y)
				}
			}
		}
		// Each corner spoils the midpoint rule in one strip.
		if want := geometry.Area(poly); math.Abs(area-want) > float64(len(poly))*h*(hi.X-lo.X)*h+1e-3*want {
			t.Fatalf("area %g, by chords %g", want, area)
		}
	})
}
