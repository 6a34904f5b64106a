package outline_test

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"cabwright/geometry"
	"cabwright/geometry/geomtest"
	"cabwright/geometry/outline"
)

func TestNewRefuses(t *testing.T) {
	for name, c := range map[string]struct {
		shape         string
		length, width float64
		says          string
	}{
		"no name":             {"", 10, 8, `unknown outline ""`},
		"another's name":      {"freeform", 10, 8, "unknown outline"},
		"no length":           {"oval", 0, 8, "above 0"},
		"negative width":      {"oval", 10, -8, "above 0"},
		"not a number":        {"oval", math.NaN(), 8, "above 0"},
		"infinite":            {"oval", math.Inf(1), 8, "at most 1000 mm"},
		"over a metre":        {"rectangle", 1000.5, 8, "at most 1000 mm"},
		"long round":          {"round", 10, 8, "must be equal"},
		"long square":         {"square", 10, 8, "must be equal"},
		"wide marquise":       {"marquise", 8, 10, "below the width"},
		"wide pear":           {"pear", 8, 10, "below the width"},
		"heart without sides": {"heart", 7.7, 10, "7/9"},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := outline.New(c.shape, c.length, c.width)
			require.ErrorContains(t, err, c.says)
		})
	}
}

func newOutline(t require.TestingT, shape string, length, width float64) outline.Outline {
	o, err := outline.New(shape, length, width)
	require.NoError(t, err)
	return o
}

// The values were found from the definitions in words, by bisection and
// adaptive quadrature with scipy: see testdata/make_reference.py.
func TestAgainstReference(t *testing.T) {
	f, err := os.Open("testdata/reference.csv")
	require.NoError(t, err)
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	require.NoError(t, err)
	seen := map[string]bool{}
	for _, row := range rows[1:] {
		var x [4]float64
		for i, field := range []string{row[1], row[2], row[4], row[5]} {
			x[i], err = strconv.ParseFloat(field, 64)
			require.NoError(t, err)
		}
		o := newOutline(t, row[0], x[0], x[1])
		seen[row[0]] = true
		switch row[3] {
		case "radius":
			// 12 digits are written down; bisection through a test that is
			// quadratic near the curve gives about as many.
			assert.InEpsilon(t, x[3], o.Radius(x[2]), 1e-10, row)
		case "area":
			assert.InEpsilon(t, x[3], o.Area(), 1e-8, row) // 9 digits
		default:
			t.Fatal(row)
		}
	}
	for _, shape := range outline.Shapes() {
		assert.True(t, seen[shape], "no reference values for %s", shape)
	}
}

func TestAreaPublished(t *testing.T) {
	for _, c := range []struct {
		shape         string
		length, width float64
		area          float64
		digits        float64
		source        string
	}{
		{"round", 2, 2, math.Pi, 1e-12, "Archimedes"},
		{"oval", 10, 8, 62.8318530718, 1e-10, "pi a b"},
		{"cushion", 2, 2, 3.5332775005, 1e-9,
			"DLMF 5.14.1 with n = 3; scipy's quadrature of 4 (1 - x^3)^(1/3) gives the same digits"},
		{"marquise", 10, 5, 34.945, 0.0005, "lens of two circular segments (CRC Standard Mathematical Tables)"},
		{"marquise", 2 * math.Sqrt(3), 2, 4*math.Pi/3*2 - 2*math.Sqrt(3), 1e-12,
			"two circles of radius r = 2 through each other's centres: (4 pi - 3 sqrt 3)/6 r^2"},
		{"triangle", 1, 1, 0.70477092301045797, 1e-12, "Reuleaux triangle of width 1: (pi - sqrt 3)/2"},
		{"pear", 8, 8, 16 * math.Pi, 1e-12, "a pear as long as wide is a circle"},
		{"octagon", 10, 10, 92, 1e-12, "square less four triangles with legs of 2"},
	} {
		assert.InDelta(t, c.area, newOutline(t, c.shape, c.length, c.width).Area(), c.digits*c.area, "%s: %s", c.shape,
			c.source)
	}
}

func TestAreaAgainstQuadrature(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o := geomtest.Outline().Draw(t, "outline")
		// Between the cuts the integrand is analytic, except for the heart,
		// where its second derivative jumps from side to lobe.
		require.InEpsilon(t, geomtest.AreaByQuadrature(o, 60), o.Area(), 1e-6)
	})
}

func TestGauge(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o := geomtest.Outline().Draw(t, "outline")
		theta := rapid.Float64Range(-7, 7).Draw(t, "theta")
		k := rapid.Float64Range(0, 3).Draw(t, "k")
		s, c := math.Sincos(theta)
		r := o.Radius(theta)
		require.Greater(t, r, 0.0)
		require.InDelta(t, k, o.Gauge(k*r*c, k*r*s), 1e-9, "the gauge grows in proportion along a ray")
		require.Zero(t, o.Gauge(0, 0))
		require.Zero(t, o.Gauge(math.Copysign(0, -1), 0))
	})
}

func TestTurnPeriod(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o := geomtest.Outline().Draw(t, "outline")
		theta := rapid.Float64Range(-3, 3).Draw(t, "theta")
		turn := o.TurnPeriod()
		if turn == 0 {
			turn = rapid.Float64Range(0, 7).Draw(t, "any turn")
		}
		require.InEpsilon(t, o.Radius(theta), o.Radius(theta+turn), 1e-9)
	})
	for _, c := range []struct {
		shape         string
		length, width float64
		turn          float64
	}{
		{"round", 8, 8, 0}, {"oval", 8, 8, 0}, {"oval", 10, 8, math.Pi},
		{"cushion", 8, 8, math.Pi / 2}, {"cushion", 10, 8, math.Pi},
		{"square", 8, 8, math.Pi / 2}, {"rectangle", 10, 8, math.Pi},
		{"octagon", 8, 8, math.Pi / 2}, {"octagon", 10, 8, math.Pi},
		{"pear", 10, 8, 2 * math.Pi}, {"marquise", 10, 5, math.Pi},
		{"triangle", 8, 8, 2 * math.Pi / 3}, {"triangle", 8, 7, 2 * math.Pi}, {"heart", 8, 8, 2 * math.Pi},
	} {
		assert.Equal(t, c.turn, newOutline(t, c.shape, c.length, c.width).TurnPeriod(), "%s %g x %g", c.shape, c.length,
			c.width)
	}
}

func TestExtent(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o := geomtest.Outline().Draw(t, "outline")
		low, high := o.Extent()
		require.InDelta(t, o.Length, high.X-low.X, 1e-9)
		require.InDelta(t, o.Width, high.Y-low.Y, 1e-9)
		seenLow, seenHigh := low.Scale(0), low.Scale(0)
		for _, p := range o.Points(2000) {
			seenLow = geometry.Vec2{X: math.Min(seenLow.X, p.X), Y: math.Min(seenLow.Y, p.Y)}
			seenHigh = geometry.Vec2{X: math.Max(seenHigh.X, p.X), Y: math.Max(seenHigh.Y, p.Y)}
		}
		// Between two of the 2,000 points a curve rises by a few times
		// R (2 pi/2000)^2/8 at most, R = 40 mm: 5e-5 mm.
		require.InDelta(t, low.X, seenLow.X, 5e-4)
		require.InDelta(t, low.Y, seenLow.Y, 5e-4)
		require.InDelta(t, high.X, seenHigh.X, 5e-4)
		require.InDelta(t, high.Y, seenHigh.Y, 5e-4)
	})
}

// turnAt is by how much the curve's tangent turns at the direction theta, in
// radians, measured over a thousandth of a radian.
func turnAt(o outline.Outline, theta float64) float64 {
	point := func(t float64) geometry.Vec2 {
		s, c := math.Sincos(t)
		return geometry.Vec2{X: c, Y: s}.Scale(o.Radius(t))
	}
	const h = 5e-4
	before := point(theta).Sub(point(theta - h))
	after := point(theta + h).Sub(point(theta))
	return math.Atan2(before.Cross(after), before.Dot(after))
}

func TestCorners(t *testing.T) {
	for _, c := range []struct {
		shape         string
		length, width float64
		sharp         int
	}{
		{"round", 8, 8, 0}, {"oval", 14, 10, 0}, {"cushion", 14, 10, 0}, {"square", 8, 8, 4}, {"rectangle", 14, 10, 4},
		{"octagon", 14, 10, 8}, {"pear", 15, 10, 1}, {"marquise", 14, 7, 2}, {"triangle", 8, 8, 3}, {"triangle", 9, 8,
			3}, {"heart", 10, 10, 2},
	} {
		o := newOutline(t, c.shape, c.length, c.width)
		corners := o.Corners()
		assert.Len(t, corners, c.sharp, c.shape)
		for _, theta := range corners {
			assert.Greater(t, math.Abs(turnAt(o, theta)), 0.3, "%s: no corner at %g", c.shape, theta)
			assert.True(t, theta > -math.Pi && theta <= math.Pi)
		}
		for theta := -math.Pi; theta < math.Pi; theta += 1e-3 {
			near := false
			for _, corner := range corners {
				near = near || math.Abs(math.Remainder(theta-corner, 2*math.Pi)) < 2e-3
			}
			// A smooth curve turns by arc length over radius of curvature:
			// a few thousandths of a radian.
			if !near && math.Abs(turnAt(o, theta)) > 0.02 {
				t.Fatalf("%s: a corner at %g that is not listed", c.shape, theta)
			}
		}
	}
}

func TestConvex(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o := geomtest.Outline().Draw(t, "outline")
		points := o.Points(300)
		bent := math.Inf(1)
		for i, p := range points {
			q, r := points[(i+1)%len(points)], points[(i+2)%len(points)]
			bent = math.Min(bent, q.Sub(p).Cross(r.Sub(q)))
		}
		if o.Convex() {
			require.Greater(t, bent, -1e-9)
		} else {
			require.Less(t, bent, 0.0)
		}
	})
}

func TestPoints(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o := geomtest.Outline().Draw(t, "outline")
		n := rapid.IntRange(0, 200).Draw(t, "n")
		points := o.Points(n)
		require.GreaterOrEqual(t, len(points), max(n, 1))
		require.LessOrEqual(t, len(points), max(n, 1)+len(o.Corners()))
		for i, p := range points {
			require.InDelta(t, 1, o.Gauge(p.X, p.Y), 1e-9)
			q := points[(i+1)%len(points)]
			step := math.Atan2(p.Cross(q), p.Dot(q))
			if len(points) > 2 {
				require.Greater(t, step, 0.0)
				require.LessOrEqual(t, step, 2*math.Pi/float64(max(n, 1))*(1+1e-8))
			}
		}
		for _, theta := range o.Corners() {
			s, c := math.Sincos(theta)
			corner := geometry.Vec2{X: c, Y: s}.Scale(o.Radius(theta))
			nearest := math.Inf(1)
			for _, p := range points {
				nearest = math.Min(nearest, p.Sub(corner).Norm())
			}
			require.Less(t, nearest, 1e-9)
		}
	})
}

// Where the corners divide the turn evenly, no point more than asked for is
// made.
func TestPointsExactCount(t *testing.T) {
	for n := 12; n <= 960; n += 12 {
		for _, shape := range []string{"round", "square", "marquise", "pear", "triangle"} {
			assert.Len(t, newOutline(t, shape, 8, 8).Points(n), n, shape)
		}
	}
}
