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
	var circle []geometry.Vec2
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
		{"between two planes over a triangle", clockwise, [3]float64{9, 0.5, -1}, [3]float64{1, -0.25, 0.5},
			6 * (8 + 0.75*4/3.0 - 1.5*1), 1e-8},
		{"between two planes over the L", ell, [3]float64{9, 0.1, 0.2}, [3]float64{0},
			48*9 + 0.1*(32*4+16*2) + 0.2*(32*2+16*6), 1e-8},
		{"a polygon of 360 corners", circle, [3]float64{4}, [3]float64{1}, 3 * 360 * 50 * math.Sin(math.Pi/180), 1e-8},
		{"the same between planes", circle, [3]float64{4, 0.1, -0.1}, [3]float64{1}, 3 * 360 * 50 * math.Sin(math.Pi/180),
			1e-8},
		// The faces cross at x = 0: a wedge of half the length, 10 x 10 x 5 over 2.
		{"faces that cross inside", box(-10, -5, 10, 5), [3]float64{0, 0.5}, [3]float64{0}, 250, 0.001},
		// Half the square, with the thickness at its centroid (10/3, 10/3).
		{"faces that cross askew", box(-10, -10, 10, 10), [3]float64{0, 0.5, 0.5}, [3]float64{0}, 200 * 10.0 / 3, 0.01},
	} {
		r, err := planner.NewRough(slab(c.outline, c.top, c.base))
		require.NoError(t, err, c.name)
		assert.InDelta(t, c.want, r.Volume(), c.off, c.name)
		assert.Positive(t, geometry.Area(r.Outline), c.name)
	}
}

// Outlines of any kind, and faces cut off level, in closed form to a thousandth
// at most: an outline's own area is exact.
func TestVolumeOnAnyOutline(t *testing.T) {
	level := func(outline []geometry.Vec2) planner.Stone {
		return planner.Stone{Outline: outline, Top: []geometry.Vec3{{Z: 7}}, Base: []geometry.Vec3{{Z: 2}}}
	}
	volume := func(s planner.Stone) float64 {
		r, err := planner.NewRough(s)
		require.NoError(t, err)
		return r.Volume()
	}
	for _, n := range []int{3, 150, 5000} { // points of a star: 2n corners
		for _, notch := range []float64{1, 5, 9.9} {
			var star []geometry.Vec2
			for i := range 2 * n {
				sin, cos := math.Sincos(math.Pi * float64(i) / float64(n))
				d := [2]float64{10, notch}[i%2]
				star = append(star, geometry.Vec2{X: d * cos, Y: d * sin})
			}
			// 2n triangles from the middle.
			assert.InEpsilon(t, 5*float64(n)*10*notch*math.Sin(math.Pi/float64(n)), volume(level(star)), 1e-9,
				"%d points, notches at %g", n, notch)
		}
	}
	// A saw blade's outline: teeth 0.2 mm deep round a strip of 60 by 4 mm.
	var strip []geometry.Vec2
	for i := range 600 {
		strip = append(strip, geometry.Vec2{X: 0.1 * float64(i), Y: -0.2 * float64(i%2)})
	}
	strip = append(strip, geometry.Vec2{X: 60}, geometry.Vec2{X: 60, Y: 4}, geometry.Vec2{Y: 4})
	assert.InEpsilon(t, 5*(60*4+300*0.2*0.2/2), volume(level(strip)), 1e-9)

	// A plane that reaches its highest reading at x = 0 and is level from there:
	// 20 x 10 x (4 + 6)/2 + 20 x 10 x 6.
	for degrees := 0.0; degrees < 90; degrees += 17 {
		sin, cos := math.Sincos(degrees * math.Pi / 180)
		turn := func(x, y float64) geometry.Vec2 { return geometry.Vec2{X: x*cos - y*sin, Y: x*sin + y*cos} }
		s := planner.Stone{Base: []geometry.Vec3{{}}}
		for _, p := range [][2]float64{{-10, -10}, {10, -10}, {10, 10}, {-10, 10}} {
			s.Outline = append(s.Outline, turn(p[0], p[1]))
		}
		for _, p := range [][3]float64{{-10, -10, 4}, {-10, 10, 4}, {0, 0, 6}} {
			q := turn(p[0], p[1])
			s.Top = append(s.Top, geometry.Vec3{X: q.X, Y: q.Y, Z: p[2]})
		}
		assert.InEpsilon(t, 1000+1200, volume(s), 1e-5, "turned by %g", degrees)
	}
}

// The greatest thickness is no more than the heights' range, and less where the
// faces are highest and lowest at different places.
func TestThickness(t *testing.T) {
	r, err := planner.NewRough(slab(box(-10, -5, 10, 5), [3]float64{6, 0.2}, [3]float64{1, 0.2}))
	require.NoError(t, err)
	most, _ := r.Thickness()
	low, high := r.Heights()
	assert.InDelta(t, 5, most, 1e-9, "everywhere")
	assert.InDelta(t, 9, high-low, 1e-9)
	r, err = planner.NewRough(slab(box(-10, -5, 10, 5), [3]float64{6, 0.2, 0.1}, [3]float64{1}))
	require.NoError(t, err)
	most, at := r.Thickness()
	assert.InDelta(t, 7.5, most, 1e-9)
	assert.InDelta(t, 0, at.Sub(geometry.Vec2{X: 10, Y: 5}).Norm(), 1e-9)
	// A ridge between readings: the plate itself is the slow twin, looked at every
	// 0.05 mm.
	s := planner.Stone{Outline: box(-8, -6, 8, 6), Base: []geometry.Vec3{{}}}
	s.Top = []geometry.Vec3{
		{X: -7, Y: -5, Z: 4}, {X: 7, Y: -5, Z: 5}, {X: 7, Y: 5, Z: 4}, {X: -7, Y: 5, Z: 3}, {X: 1, Y: 1, Z: 7}, {X: -2, Y: 2,
			Z: 7.2},
	}
	r, err = planner.NewRough(s)
	require.NoError(t, err)
	want := 0.0
	for x := -8.0; x <= 8; x += 0.05 {
		for y := -6.0; y <= 6; y += 0.05 {
			want = math.Max(want, r.Top(x, y)-r.Base(x, y))
		}
	}
	most, _ = r.Thickness()
	assert.InDelta(t, want, most, 0.01)
}

func TestHeightsAndFaces(t *testing.T) {
	r, err := planner.NewRough(slab(box(-10, -5, 10, 5), [3]float64{6, 0.2, 0}, [3]float64{1, 0, 0.1}))
	require.NoError(t, err)
	low, high := r.Heights()
	assert.InDelta(t, 0.5, low, 1e-9)
	assert.InDelta(t, 8, high, 1e-9)
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
