package poses

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"cabwright/geometry"
	"cabwright/geometry/geomtest"
	"cabwright/geometry/outline"
	"cabwright/presets"
)

// Every sample is a point of the solid: gauge and heights as the contract has
// them. Balls are in it with their whole surface.
func TestSamplesLieInTheSolid(t *testing.T) {
	kinds := map[bool]int{}
	rapid.Check(t, func(t *rapid.T) {
		c := geomtest.Cabochon().Draw(t, "solid")
		if c.RimRatio() < 0.3 {
			return // not asked for: see trialsFor
		}
		m := NewModel(c, rapid.Bool().Draw(t, "flip"))
		for _, s := range m.Samples {
			p := m.Own(s)
			// A hair inwards: where the skin stands upright, a rounding of the gauge
			// would count as a height.
			hair := geometry.Vec3{X: p.X * (1 - 1e-9), Y: p.Y * (1 - 1e-9), Z: p.Z}
			require.LessOrEqual(t, geomtest.Outside(c, hair), 1e-9, "%+v", p)
			require.InDelta(t, s.At.Norm(), s.Lever, 1e-12)
			require.InDelta(t, math.Hypot(s.At.X, s.At.Y), s.Flat, 1e-12)
			kinds[s.Radius > 0]++
			if s.Radius == 0 {
				continue
			}
			for i := range 80 {
				// Points spread over a ball: the golden angle (Fibonacci lattice).
				z := 1 - (2*float64(i)+1)/80
				sin, cos := math.Sincos(float64(i) * math.Pi * (3 - math.Sqrt(5)))
				flat := math.Sqrt(1 - z*z)
				q := p.Add(geometry.Vec3{X: flat * cos, Y: flat * sin, Z: z}.Scale(s.Radius))
				require.LessOrEqual(t, geomtest.Outside(c, q), 1e-6, "ball %g about %v", s.Radius, p)
			}
		}
		require.Equal(t, c.Outline.TurnPeriod(), m.Period)
	})
	require.Greater(t, kinds[true], 100, "balls were looked at")
	require.Greater(t, kinds[false], 1000)
}

// No part of a preset's skin is further from a sample than samples are apart,
// the face of a flat back aside, which is sampled thinly: what touches it is met
// at its rim or found by the exact check.
func TestSamplesCoverTheSkin(t *testing.T) {
	t.Parallel()
	for _, size := range presets.Builtin().Sizes {
		o, err := outline.New(size.Shape, size.Length, size.Width)
		require.NoError(t, err)
		for _, back := range []float64{0, o.Width * 0.2} {
			c := geomtest.Cab(o.Shape, o.Length, o.Width, 0.3*o.Width, back)
			if c.RimRatio() < 0.3 {
				continue
			}
			m := NewModel(c, false)
			// 110 points at most go round the outline, so a large one has wider gaps.
			apart := max(0.9, perimeter(c)/110)
			for _, p := range geomtest.Skin(c, 60) {
				if back == 0 && p.Z == 0 {
					continue
				}
				near := math.Inf(1)
				for _, s := range m.Samples {
					near = min(near, p.Sub(m.Own(s)).Norm())
				}
				require.LessOrEqual(t, near, 1.6*apart, "%s %gx%g back %g at %v", o.Shape, o.Length, o.Width, back, p)
			}
		}
	}
}
