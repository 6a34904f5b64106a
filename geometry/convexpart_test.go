package geometry_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"cabwright/geometry"
)

// fan returns the corners of evenly spaced radii.
func fan(radii []float64) []pt {
	out := make([]pt, len(radii))
	for i, r := range radii {
		s, c := math.Sincos(2 * math.Pi * float64(i) / float64(len(radii)))
		out[i] = pt{X: r * c, Y: r * s}
	}
	return out
}

func requireConvex(t *testing.T, poly []pt, name string) {
	t.Helper()
	for i, a := range poly {
		b, c := poly[(i+1)%len(poly)], poly[(i+2)%len(poly)]
		u, v := b.Sub(a), c.Sub(b)
		require.GreaterOrEqual(t, u.Cross(v), -1e-7*u.Norm()*v.Norm()-1e-12, "%s: corner %d", name, i)
	}
}

func TestConvexPartIsConvexAndWithin(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 4))
	for k := range 60 {
		n := 6 + r.IntN(90)
		radii := make([]float64, n)
		low := r.Float64()
		for i := range radii {
			radii[i] = 10 * (low + (1-low)*r.Float64())
		}
		if k == 0 {
			radii[2] = 0 // a star that comes to nothing one way
		}
		part := geometry.ConvexPart(radii)
		require.Len(t, part, n)
		for i := range part {
			require.LessOrEqual(t, part[i], math.Max(radii[i], 1e-6)*(1+1e-12))
			require.Greater(t, part[i], 0.0)
		}
		requireConvex(t, fan(part), "random star")
		require.InDeltaSlice(t, part, geometry.ConvexPart(part), 1e-6, "what is convex stays as it is")
	}
}

// A circle with one notch: the largest convex part is the circle less the least
// of the caps through the notch's tip, tried here by brute force in steps of a
// sixteenth of a degree; ConvexPart looks every 4.5 degrees.
func TestConvexPartOfOneDent(t *testing.T) {
	const n = 180
	for _, depth := range []float64{0.5, 2, 5, 8} {
		for _, at := range []int{0, 7, 100} {
			radii := make([]float64, n)
			for i := range radii {
				a := float64(i) / n * 2 * math.Pi
				radii[i] = 10 / math.Hypot(math.Cos(a), math.Sin(a)/0.6) // an ellipse
			}
			radii[at] -= depth * radii[at] / 10
			best := 0.0
			tip := fan(radii)[at]
			for k := range 16 * 360 {
				s, c := math.Sincos(float64(k) / 16 * math.Pi / 180)
				d := tip.Dot(pt{X: c, Y: s})
				if d <= 0 {
					continue
				}
				cut := make([]float64, n)
				for i := range cut {
					cut[i] = radii[i]
					sn, co := math.Sincos(2 * math.Pi * float64(i) / n)
					if f := co*c + sn*s; f > 0 {
						cut[i] = math.Min(cut[i], d/f)
					}
				}
				best = math.Max(best, geometry.Area(fan(cut)))
			}
			got := geometry.Area(fan(geometry.ConvexPart(radii)))
			require.InEpsilon(t, best, got, 0.01, "depth %g at %d", depth, at)
			require.LessOrEqual(t, got, best*(1+1e-9))
		}
	}
}

func regular(n int, radius float64) []pt {
	radii := make([]float64, n)
	for i := range radii {
		radii[i] = radius
	}
	return fan(radii)
}

func TestRoundedOnDegenerateInput(t *testing.T) {
	square := []pt{{0, 0}, {4, 0}, {4, 4}, {0, 4}}
	require.Nil(t, geometry.Rounded(nil, 1))
	require.Nil(t, geometry.Rounded(square, 2.001), "no disc that large")
	require.Nil(t, geometry.Rounded([]pt{{0, 0}, {9, 0}, {9, 1}, {0, 1}}, 0.6))
	same := geometry.Rounded(square, 0)
	require.InDelta(t, 16, geometry.Area(same), 1e-12)
	twice := geometry.Rounded([]pt{{0, 0}, {2, 0}, {2, 0}, {4, 0}, {4, 4}, {4, 4}, {0, 4}}, 1)
	require.InDelta(t, geometry.Area(geometry.Rounded(square, 1)), geometry.Area(twice), 1e-9,
		"corners given twice or along an edge")
	// Corners cut off just as far as the disc did not reach: its arc touches each cut.
	for _, n := range []int{1, 4} {
		var cut []pt
		k := 2 - math.Sqrt2
		for i := range square {
			s, c := math.Sincos(float64(i) * math.Pi / 2)
			turn := func(p pt) pt { return pt{X: 2 + c*(p.X-2) - s*(p.Y-2), Y: 2 + s*(p.X-2) + c*(p.Y-2)} }
			if i < n {
				cut = append(cut, turn(pt{0, k}), turn(pt{k, 0}))
			} else {
				cut = append(cut, turn(pt{}))
			}
		}
		require.InDelta(t, geometry.Area(geometry.Rounded(square, 1)), geometry.Area(geometry.Rounded(cut, 1)), 1e-3,
			"%d corners cut", n)
	}
}

// What a disc of radius r reaches in a convex polygon whose every edge stays:
// area - r^2 (sum of tan(turn/2) - pi), from the area a corner loses.
func TestRoundedAreaInClosedForm(t *testing.T) {
	for _, c := range []struct {
		name string
		poly []pt
		r    float64
	}{
		{"square", []pt{{0, 0}, {4, 0}, {4, 4}, {0, 4}}, 1},
		{"square, almost all", []pt{{0, 0}, {4, 0}, {4, 4}, {0, 4}}, 1.99},
		{"3-4-5 triangle", []pt{{0, 0}, {4, 0}, {0, 3}}, 0.7},
		{"octagon", regular(8, 5), 2},
	} {
		want := geometry.Area(c.poly) + math.Pi*c.r*c.r
		for i, p := range c.poly {
			before, after := p.Sub(c.poly[(i+len(c.poly)-1)%len(c.poly)]), c.poly[(i+1)%len(c.poly)].Sub(p)
			want -= c.r * c.r * math.Tan(math.Atan2(before.Cross(after), before.Dot(after))/2)
		}
		got := geometry.Rounded(c.poly, c.r)
		require.LessOrEqual(t, geometry.Area(got), want+1e-9, c.name)
		// Chords of 5 degrees lose r^2/2 (a - sin a) each.
		step := 5 * math.Pi / 180
		require.GreaterOrEqual(t, geometry.Area(got), want-c.r*c.r/2*(step-math.Sin(step))*72-1e-9, c.name)
	}
}

// Every point of the rounded polygon lies within r of a centre that keeps r from
// the polygon's edges, and the whole of it inside the polygon.
func TestRoundedLiesInsideAndTurnsNoSharper(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 5))
	done := 0
	for range 200 {
		n := 8 + r.IntN(40)
		radii := make([]float64, n)
		for i := range radii {
			radii[i] = 5 + 5*r.Float64()
		}
		poly := fan(geometry.ConvexPart(radii))
		radius := 3 * r.Float64()
		got := geometry.Rounded(poly, radius)
		if got == nil {
			continue
		}
		done++
		requireConvex(t, got, "rounded")
		depth := func(p pt) float64 {
			d := math.Inf(1)
			for i, a := range poly {
				if e := poly[(i+1)%len(poly)].Sub(a); e.Norm() > 1e-9 {
					d = math.Min(d, e.Cross(p.Sub(a))/e.Norm())
				}
			}
			return d
		}
		for i, p := range got {
			require.GreaterOrEqual(t, depth(p), -1e-9)
			// Three points of a convex curve of no radius below r have a circle no
			// smaller through them; points on one edge have none.
			a, b := got[(i+len(got)-1)%len(got)], got[(i+1)%len(got)]
			u, v, w := p.Sub(a), b.Sub(p), b.Sub(a)
			if area := u.Cross(v) / 2; area > 1e-9 && u.Norm() > 1e-6 && v.Norm() > 1e-6 {
				require.GreaterOrEqual(t, u.Norm()*v.Norm()*w.Norm()/(4*area), radius*(1-1e-6))
			}
		}
	}
	require.Greater(t, done, 100)
}

// The width of a convex polygon at every half degree is nowhere below the width
// along NarrowWay, and comes within what half a degree can hide.
func TestNarrowWayAgainstAllDirections(t *testing.T) {
	r := rand.New(rand.NewPCG(6, 6))
	width := func(poly []pt, d pt) float64 {
		lo, hi := math.Inf(1), math.Inf(-1)
		for _, p := range poly {
			lo, hi = math.Min(lo, d.Dot(p)), math.Max(hi, d.Dot(p))
		}
		return hi - lo
	}
	require.InDelta(t, 0, geometry.NarrowWay([]pt{{0, 0}, {9, 0}, {9, 2}, {0, 2}}).X, 1e-12)
	for range 200 {
		n := 3 + r.IntN(30)
		radii := make([]float64, n)
		for i := range radii {
			radii[i] = 2 + 8*r.Float64()
		}
		poly := fan(geometry.ConvexPart(radii))
		way := geometry.NarrowWay(poly)
		require.InDelta(t, 1, way.Norm(), 1e-12)
		got, least := width(poly, way), math.Inf(1)
		for k := range 360 {
			s, c := math.Sincos(float64(k) * math.Pi / 360)
			least = math.Min(least, width(poly, pt{X: c, Y: s}))
		}
		require.LessOrEqual(t, got, least+1e-9)
		require.GreaterOrEqual(t, got, least-20*math.Pi/720-1e-9)
	}
}
