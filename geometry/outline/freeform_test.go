package outline_test

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"cabwright/geometry"
	"cabwright/geometry/geomtest"
	"cabwright/geometry/outline"
)

func ring(xy ...float64) []geometry.Vec2 {
	var points []geometry.Vec2
	for i := 0; i+1 < len(xy); i += 2 {
		points = append(points, geometry.Vec2{X: xy[i], Y: xy[i+1]})
	}
	return points
}

func TestFreeformRefuses(t *testing.T) {
	for name, c := range map[string]struct {
		corners []geometry.Vec2
		says    string
	}{
		"nothing":                 {nil, "0 corners"},
		"a line":                  {ring(-1, 0, 1, 0), "2 corners"},
		"one place":               {ring(0, 0, 0, 0, 0, 0), "not every side is seen"},
		"no area":                 {ring(-1, 0, 0, 0, 1, 0), "not every side is seen"},
		"not a number":            {ring(-1, -1, 1, -1, 0, math.NaN()), "corner 2"},
		"infinite":                {ring(math.Inf(-1), -1, 1, -1, 0, 1), "corner 0"},
		"over a metre":            {ring(-1, -1, 1001, -1, 0, 1), "corner 1"},
		"origin outside":          {ring(1, -1, 3, -1, 2, 1), "not every side is seen"},
		"origin on a side":        {ring(-1, 0, 1, 0, 0, 2), "not every side is seen"},
		"origin on a corner":      {ring(0, 0, 2, 0, 1, 2), "not every side is seen"},
		"origin almost on a side": {ring(-1, -1e-4, 1, -1e-4, 0, 2), "not every side is seen"},
		"a corner given twice":    {ring(-1, -1, 1, -1, 1, -1, 0, 1), "not every side is seen"},
		"a hidden bay": {ring(-3, -2, 3, -2, 3, 3, 2, 3, 2.5, -1, -3, -1, -3, 3, -4, 3),
			"not every side is seen"},
		"wound round twice":         {ring(2, 0, -1, 2, -1, -2, 3, 0, -2, 3, -2, -3), "not every side is seen"},
		"crossing itself like an 8": {ring(-1, -1, 1, 1, 1, -1, -1, 1), "not every side is seen"},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := outline.Freeform(c.corners)
			require.ErrorContains(t, err, c.says)
		})
	}
}

func TestFreeformOfKnownShapes(t *testing.T) {
	// A square of freeform corners is the square.
	square, err := outline.Freeform(ring(-4, -4, 4, -4, 4, 4, -4, 4))
	require.NoError(t, err)
	named := newOutline(t, "square", 8, 8)
	for theta := -4.0; theta < 4; theta += 0.01 {
		require.InDelta(t, named.Radius(theta), square.Radius(theta), 1e-12)
	}
	assert.Equal(t, 64.0, square.Area())
	assert.Equal(t, [2]float64{8, 8}, [2]float64{square.Length, square.Width})
	assert.True(t, square.Convex())

	// The corners of the other turning direction give the same outline.
	back := slices.Clone(square.Polygon)
	slices.Reverse(back)
	turned, err := outline.Freeform(back)
	require.NoError(t, err)
	assert.Equal(t, 64.0, turned.Area())
	assert.Greater(t, turned.Polygon[0].Cross(turned.Polygon[1]), 0.0, "corners are kept counter-clockwise")

	// A corner straight along -u, with either sign of zero.
	for _, zero := range []float64{0, math.Copysign(0, -1)} {
		kite, err := outline.Freeform(ring(3, 0, 0, 1, -2, zero, 0, -1))
		require.NoError(t, err)
		assert.Equal(t, []float64{-math.Pi / 2, 0, math.Pi / 2, math.Pi}, kite.Corners())
		assert.InDelta(t, 2, kite.Radius(math.Pi), 1e-12)
		assert.InDelta(t, 2, kite.Radius(-math.Pi), 1e-12)
		assert.InDelta(t, 1, kite.Gauge(-2, zero), 1e-12)
		assert.InDelta(t, 1, kite.Gauge(-2, -zero), 1e-12)
	}
}

func TestFreeformDoesNotShareTheCaller(t *testing.T) {
	corners := ring(-4, -4, 4, -4, 4, 4, -4, 4)
	o, err := outline.Freeform(corners)
	require.NoError(t, err)
	corners[0] = geometry.Vec2{}
	assert.Equal(t, geometry.Vec2{X: -4, Y: -4}, o.Polygon[0])
}

// A freeform's radius against the slow way: the nearest crossing of the ray
// with any side.
func TestFreeformRadius(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		corners := geomtest.StarPolygon().Draw(t, "polygon")
		o, err := outline.Freeform(corners)
		require.NoError(t, err)
		theta := rapid.Float64Range(-4, 4).Draw(t, "theta")
		require.InEpsilon(t, rayLength(corners, theta), o.Radius(theta), 1e-9)
	})
}

func rayLength(corners []geometry.Vec2, theta float64) float64 {
	s, c := math.Sincos(theta)
	ray := geometry.Vec2{X: c, Y: s}
	for i, p := range corners {
		d := corners[(i+1)%len(corners)].Sub(p)
		// ray r = p + d k
		r := p.Cross(d) / ray.Cross(d)
		k := p.Cross(ray) / ray.Cross(d)
		if r > 0 && k >= -1e-12 && k <= 1+1e-12 {
			return r
		}
	}
	return math.NaN()
}

// Whatever corners come in, a freeform is refused or is whole: every corner
// lies on it and its area is that of the polygon.
func FuzzFreeform(f *testing.F) {
	f.Add(-4.0, -4.0, 4.0, -4.0, 4.0, 4.0, -4.0, 4.0)
	f.Add(3.0, 0.0, 0.0, 1.0, -2.0, 0.0, 0.0, -1.0)
	f.Add(1e-300, 1e-300, -1e-300, 1e-300, 0.0, -1e-300, 1.0, -1e-300)
	f.Add(1e-300, 1.875, -1.0, 1e-300, 0.0, -1e-300, 1.0, 90.0) // a side through the origin but for 1e-300
	f.Fuzz(func(t *testing.T, a, b, c, d, e, g, h, i float64) {
		corners := ring(a, b, c, d, e, g, h, i)
		o, err := outline.Freeform(corners)
		if err != nil {
			return
		}
		for _, p := range corners {
			if gauge := o.Gauge(p.X, p.Y); !(math.Abs(gauge-1) < 1e-6) {
				t.Fatalf("corner %v of %v has the gauge %g", p, corners, gauge)
			}
		}
		if !(o.Area() > 0) {
			t.Fatalf("%v has the area %g", corners, o.Area())
		}
	})
}
