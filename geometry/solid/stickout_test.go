package solid_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"cabwright/geometry"
	"cabwright/geometry/geomtest"
	"cabwright/geometry/solid"
)

func stickOut(outer, inner solid.Cabochon) float64 {
	return solid.StickOut(outer, inner, outer.Outline.Profile(), inner.Outline.Profile())
}

func TestStickOutExact(t *testing.T) {
	for name, c := range map[string]struct {
		outer, inner solid.Cabochon
		want         float64
	}{
		"itself": {cabochon(t, "oval", 14, 10, 1.2, 10, 3, 1), cabochon(t, "oval", 14, 10, 1.2, 10, 3, 1),
			0},
		"a shorter one": {cabochon(t, "oval", 14, 10, 1.2, 10, 3, 0), cabochon(t, "oval", 12, 10, 1.2, 10, 3, 0),
			0},
		"the next size, same style": {cabochon(t, "oval", 16, 12, 1.2, 10, 3.6, 0),
			cabochon(t, "oval", 14, 10, 1.2, 10, 3, 0), 0},
		"a taller dome": {cabochon(t, "oval", 14, 10, 1.2, 10, 3, 0),
			cabochon(t, "oval", 14, 10, 1.2, 10, 3.5, 0), 0.5},
		"a deeper back": {cabochon(t, "oval", 14, 10, 1.2, 10, 3, 0),
			cabochon(t, "oval", 14, 10, 1.2, 10, 3, 0.7), 0.7},
		"a shallower back": {cabochon(t, "oval", 14, 10, 1.2, 10, 3, 0.7),
			cabochon(t, "oval", 14, 10, 1.2, 10, 3, 0), 0},
		"a longer one": {cabochon(t, "oval", 12, 10, 1.2, 10, 3, 0), cabochon(t, "oval", 14, 10, 1.2, 10, 3, 0),
			1},
		"a wall that leans less": {cabochon(t, "round", 10, 10, 1.2, 10, 3, 0), cabochon(t, "round", 10, 10, 1.2, 0, 3, 0),
			1.2 * math.Tan(10*math.Pi/180)},
		"another wall": {cabochon(t, "round", 10, 10, 1.2, 10, 3, 0), cabochon(t, "round", 8, 8, 1, 10, 2, 0),
			math.Inf(1)},
		// At the height s the half balls of radius 1 and 1 pressed to 0.5 are
		// sqrt(1 - s^2) and sqrt(1 - 4 s^2) wide: the lower one never sticks out.
		"a flatter dome": {cabochon(t, "round", 2, 2, 0, 0, 1, 0), cabochon(t, "round", 2, 2, 0, 0, 0.5, 0), 0},
		// Half balls and whole ones about one middle: the difference of their radii.
		"a larger half ball": {cabochon(t, "round", 10, 10, 0, 0, 5, 0), cabochon(t, "round", 11, 11, 0, 0, 5.5, 0), 0.5},
		"a larger ball":      {cabochon(t, "round", 10, 10, 0, 0, 5, 5), cabochon(t, "round", 11, 11, 0, 0, 5.5, 5.5), 0.5},
		// At the girdle 0.3, at the top 1: in between the one gives way to the other.
		"a little wider, much taller": {cabochon(t, "round", 10, 10, 0, 0, 3, 0),
			cabochon(t, "round", 10.6, 10.6, 0, 0, 4, 0), 1},
		"much wider, a little taller": {cabochon(t, "round", 10, 10, 0, 0, 3, 0), cabochon(t, "round", 12, 12, 0, 0, 3.2, 0),
			1},
		// Half width 1.2 and height 0.5 against 1 and 1: at the girdle 0.2.
		"wider and flatter": {cabochon(t, "round", 2, 2, 0, 0, 1, 0), cabochon(t, "round", 2.4, 2.4, 0, 0, 0.5, 0),
			0.2},
		"wider, flatter on both sides": {cabochon(t, "round", 2, 2, 0, 0, 1, 1),
			cabochon(t, "round", 2.4, 2.4, 0, 0, 0.5, 0.5), 0.2},
	} {
		got := stickOut(c.outer, c.inner)
		if math.IsInf(c.want, 1) {
			assert.Equal(t, c.want, got, name)
			continue
		}
		assert.GreaterOrEqual(t, got, c.want, name)
		assert.LessOrEqual(t, got, c.want+1e-3, name)
	}
}

// skin is a net of points on a stone's skin.
func skin(c solid.Cabochon, n int) []geometry.Vec3 {
	var points []geometry.Vec3
	for _, p := range c.Outline.Points(n) {
		for k := 0; k <= n/4; k++ {
			rho := math.Sin(float64(k) / float64(n/4) * math.Pi / 2)
			r := c.RimRatio()
			points = append(points,
				geometry.Vec3{X: rho * r * p.X, Y: rho * r * p.Y, Z: c.Upper(rho * r)},
				geometry.Vec3{X: rho * p.X, Y: rho * p.Y, Z: c.Lower(rho)})
			at := 1 - (1-r)*float64(k)/float64(n/4)
			points = append(points, geometry.Vec3{X: at * p.X, Y: at * p.Y, Z: c.Wall * float64(k) / float64(n/4)})
		}
	}
	return points
}

// No point of the inner stone lies further from the outer one than the bound.
func TestStickOutAgainstSampling(t *testing.T) {
	looked, drawn := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		drawn++
		outer := geomtest.Cabochon().Draw(t, "outer")
		inner := geomtest.Cabochon().Draw(t, "inner")
		inner.Wall = outer.Wall
		bound := stickOut(outer, inner)
		if math.IsInf(bound, 1) {
			return
		}
		// The furthest point by a coarse look, then its distance by a fine one.
		var far geometry.Vec3
		most := 0.0
		for _, p := range skin(inner, 12) {
			if d := geomtest.Distance(outer, p, 12); d > most {
				far, most = p, d
			}
		}
		looked++
		const walk = 1e-3 // what the walk may miss by at a corner
		if d := geomtest.Distance(outer, far, 96); d > bound+walk {
			t.Fatalf("%v lies %g mm from the outer stone, the bound is %g", far, d, bound)
		}
	})
	// Of a thousand pairs 970 had a bound to look at; with -short there are few pairs.
	require.Greater(t, 2*looked, drawn, "of %d pairs %d had a bound", drawn, looked)
}

// Where domes and directions are looked at one by one, far more densely than
// the bound does, nothing is above it, and the bound is not far above them.
func TestStickOutLevelByLevel(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		length := rapid.Float64Range(5, 20).Draw(t, "length")
		width := length * rapid.Float64Range(0.5, 1).Draw(t, "width/length")
		outer := cabochon(t, "oval", length, width, 1.2, 10, width*rapid.Float64Range(0.2, 0.5).Draw(t, "outer dome"), 0)
		inner := cabochon(t, "oval", length*rapid.Float64Range(0.8, 1.2).Draw(t, "longer"),
			width*rapid.Float64Range(0.8, 1.2).Draw(t, "wider"), 1.2, 10,
			outer.Dome*rapid.Float64Range(0.2, 1).Draw(t, "inner dome"), 0)
		reach := func(c solid.Cabochon, angle float64) float64 {
			s, k := math.Sincos(angle)
			return math.Hypot(c.Outline.Length/2*k, c.Outline.Width/2*s)
		}
		gauge := func(c solid.Cabochon, s float64) float64 {
			return c.RimRatio() * math.Sqrt(math.Max(0, 1-s*s/(c.Dome*c.Dome)))
		}
		worst := math.Inf(-1)
		for k := 0; k < 90; k++ {
			angle := float64(k) / 90 * math.Pi
			worst = math.Max(worst, reach(inner, angle)-reach(outer, angle))
			for j := 0; j <= 200; j++ {
				s := inner.Dome * math.Sin(float64(j)/200*math.Pi/2)
				worst = math.Max(worst, gauge(inner, s)*reach(inner, angle)-gauge(outer, s)*reach(outer, angle))
			}
		}
		bound := stickOut(outer, inner)
		require.GreaterOrEqual(t, bound, 0.0)
		worst = math.Max(worst, 0)
		require.GreaterOrEqual(t, bound, worst)
		// 90 directions miss the largest by R (pi/90)^2/8 at most, R = 40 mm;
		// 200 levels by less.
		require.LessOrEqual(t, bound, worst+40*(math.Pi/90)*(math.Pi/90)/8+1e-3)
	})
}
