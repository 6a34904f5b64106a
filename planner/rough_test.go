package planner_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"cabwright/geometry"
	"cabwright/geometry/geomtest"
	"cabwright/planner"
)

// slab is a stone over an outline between two planes a + b x + c y. Its readings
// lie far outside, so that the planes are not cut off level over the outline.
func slab(outline []geometry.Vec2, top, base [3]float64) planner.Stone {
	s := planner.Stone{Outline: outline}
	for _, p := range []geometry.Vec2{{X: -700, Y: -500}, {X: 800, Y: -400}, {X: 100, Y: 900}} {
		s.Top = append(s.Top, geometry.Vec3{X: p.X, Y: p.Y, Z: top[0] + top[1]*p.X + top[2]*p.Y})
		s.Base = append(s.Base, geometry.Vec3{X: p.X, Y: p.Y, Z: base[0] + base[1]*p.X + base[2]*p.Y})
	}
	return s
}

func box(x0, y0, x1, y1 float64) []geometry.Vec2 {
	return []geometry.Vec2{{X: x0, Y: y0}, {X: x1, Y: y0}, {X: x1, Y: y1}, {X: x0, Y: y1}}
}

func TestNewRoughNamesWhatIsWrong(t *testing.T) {
	good := []geometry.Vec3{{Z: 5}}
	line := []geometry.Vec3{{}, {X: 1}, {X: 2}}
	twice := []geometry.Vec3{{}, {X: 1}, {Y: 1}, {X: 1, Z: 3}}
	for _, c := range []struct {
		name      string
		top, base []geometry.Vec3
		want      error
		says      string
	}{
		{"no readings on top", nil, good, geometry.ErrNoReadings, "top: "},
		{"none on the base", good, nil, geometry.ErrNoReadings, "base: "},
		{"top on one line", line, good, geometry.ErrCollinear, "top: "},
		{"two readings of the base", good, line[:2], geometry.ErrCollinear, "base: "},
		{"one spot twice", good, twice, geometry.ErrSameSpot, "base: "},
		{"base above top", good, []geometry.Vec3{{Z: 6}}, planner.ErrNoSolid, ""},
		{"faces that meet everywhere", good, good, planner.ErrNoSolid, ""},
	} {
		r, err := planner.NewRough(planner.Stone{Outline: box(0, 0, 5, 5), Top: c.top, Base: c.base})
		require.ErrorIs(t, err, c.want, c.name)
		require.Contains(t, err.Error(), c.says, c.name)
		require.Nil(t, r, c.name)
	}
	_, err := planner.NewRough(planner.Stone{Top: good, Base: []geometry.Vec3{{}}})
	require.ErrorIs(t, err, planner.ErrNoSolid, "no outline")
}

func TestVolumesInClosedForm(t *testing.T) {
	var circle []geometry.Vec2 // 360 corners: cut into even strips
	for k := range 360 {
		s, c := math.Sincos(float64(k) * math.Pi / 180)
		circle = append(circle, geometry.Vec2{X: 10 * c, Y: 10 * s})
	}
	ell := []geometry.Vec2{{}, {X: 8}, {X: 8, Y: 4}, {X: 4, Y: 4}, {X: 4, Y: 8}, {Y: 8}}
	clockwise := []geometry.Vec2{{Y: 3}, {X: 4}, {}}
	for _, c := range []struct {
		name      string
		outline   []geometry.Vec2
		top, base [3]float64
		want, off float64
	}{
		{"slab", box(-10, -5, 10, 5), [3]float64{7}, [3]float64{2}, 20 * 10 * 5, 1e-9},
		{"slab a tenth of a millimetre wide", box(0, 0, 0.1, 9), [3]float64{7}, [3]float64{2}, 0.1 * 9 * 5, 1e-9},
		{"slab over an L", ell, [3]float64{7}, [3]float64{2}, 48 * 5, 1e-9},
		{"triangle, clockwise", clockwise, [3]float64{3}, [3]float64{0}, 18, 1e-9},
		// Area times the thickness at the centroid.
		{"between two planes over a triangle", clockwise, [3]float64{9, 0.5, -1}, [3]float64{1, -0.25, 0.5}, 6 * (8 + 0.75*4/3.0 - 1.5*1), 1e-8},
		{"between two planes over the L", ell, [3]float64{9, 0.1, 0.2}, [3]float64{0}, 48*9 + 0.1*(32*4+16*2) + 0.2*(32*2+16*6), 1e-8},
		{"a polygon of 360 corners", circle, [3]float64{4}, [3]float64{1}, 3 * 360 * 50 * math.Sin(math.Pi/180), 0.3},
		{"the same between planes", circle, [3]float64{4, 0.1, -0.1}, [3]float64{1}, 3 * 360 * 50 * math.Sin(math.Pi/180), 0.3},
		// The faces cross at x = 0: a wedge of half the length, 10 x 10 x 5 over 2.
		// A panel that the seam runs through is right to a part of it only.
		{"faces that cross inside", box(-10, -5, 10, 5), [3]float64{0, 0.5}, [3]float64{0}, 250, 0.1},
		// Half the square, with the thickness at its centroid (10/3, 10/3).
		{"faces that cross askew", box(-10, -10, 10, 10), [3]float64{0, 0.5, 0.5}, [3]float64{0}, 200 * 10.0 / 3, 0.3},
	} {
		r, err := planner.NewRough(slab(c.outline, c.top, c.base))
		require.NoError(t, err, c.name)
		assert.InDelta(t, c.want, r.Volume(), c.off, c.name)
		assert.Positive(t, geometry.Area(r.Outline), c.name)
	}
}

func TestHeightsAndFaces(t *testing.T) {
	r, err := planner.NewRough(slab(box(-10, -5, 10, 5), [3]float64{6, 0.2, 0}, [3]float64{1, 0, 0.1}))
	require.NoError(t, err)
	low, high := r.Heights()
	assert.InDelta(t, 0.5, low, 0.05)
	assert.InDelta(t, 8, high, 0.1)
	assert.InDelta(t, 8, r.Top(10, 3), 1e-9)
	assert.InDelta(t, 0.5, r.Base(3, -5), 1e-9)
	assert.Equal(t, r.Top(3, 2), r.Height(planner.Top, 3, 2))
	assert.Equal(t, r.Base(3, 2), r.Height(planner.Base, 3, 2))
	// Where the base is above the top there is no stone to be low or high.
	r, err = planner.NewRough(slab(box(-10, -5, 10, 5), [3]float64{0, 0.5}, [3]float64{0}))
	require.NoError(t, err)
	low, high = r.Heights()
	assert.InDelta(t, 0, low, 0.3)
	assert.InDelta(t, 5, high, 0.3)
}

// Over any outline, a plane over a level base holds the area times the height at
// the centroid (the first moments of a polygon, by the shoelace sums).
func TestVolumeUnderAPlaneOverAnyOutline(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		outline := rapid.OneOf(geomtest.StarPolygon(), geomtest.ConvexPolygon()).Draw(t, "outline")
		b, c := rapid.Float64Range(-0.2, 0.2).Draw(t, "b"), rapid.Float64Range(-0.2, 0.2).Draw(t, "c")
		var area, mx, my float64
		for i, p := range outline {
			q := outline[(i+1)%len(outline)]
			k := p.Cross(q)
			area, mx, my = area+k/2, mx+k*(p.X+q.X)/6, my+k*(p.Y+q.Y)/6
		}
		r, err := planner.NewRough(slab(outline, [3]float64{12, b, c}, [3]float64{0}))
		if err != nil {
			t.Fatal(err)
		}
		if want := 12*area + b*mx + c*my; math.Abs(r.Volume()-want) > 1e-7*want {
			t.Fatalf("volume %g, want %g", r.Volume(), want)
		}
	})
}

// The contract's own words: top(x, y) = min(thin plate, highest reading of the
// top), base(x, y) = max(thin plate, lowest reading of the base).
func TestFacesAreCutOffLevel(t *testing.T) {
	// Beside a low reading the plate rises over the high ones.
	s := planner.Stone{Outline: box(-10, -8, 10, 8)}
	for _, p := range []geometry.Vec3{{X: -9, Z: 9}, {Z: 9}, {X: 9, Z: 3}, {Y: 7, Z: 9}, {Y: -7, Z: 9}} {
		s.Top = append(s.Top, p)
		s.Base = append(s.Base, geometry.Vec3{X: p.X, Y: p.Y, Z: 9 - p.Z})
	}
	r, err := planner.NewRough(s)
	require.NoError(t, err)
	assert.Equal(t, 9.0, r.TopLevel)
	assert.Equal(t, 0.0, r.BaseLevel)
	over := 0
	for x := -10.0; x <= 10; x++ {
		for y := -8.0; y <= 8; y++ {
			top, base := r.TopSheet.At(x, y), r.BaseSheet.At(x, y)
			if top > 9.05 {
				over++
			}
			assert.Equal(t, math.Min(top, 9), r.Top(x, y))
			assert.Equal(t, math.Max(base, 0), r.Base(x, y))
		}
	}
	assert.Greater(t, over, 50, "the plate itself overshoots here")
	low, high := r.Heights()
	assert.InDelta(t, 0, low, 1e-9)
	assert.InDelta(t, 9, high, 1e-9)
}
