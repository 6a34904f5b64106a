package solid_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"cabwright/geometry"
	"cabwright/geometry/geomtest"
)

func TestSupportExact(t *testing.T) {
	ball := cabochon(t, "round", 10, 10, 0, 0, 5, 5)
	ball.Sides = 2
	tilted := geometry.Vec3{X: 0.36, Y: 0.48, Z: 0.8}
	assert.InDelta(t, 5, ball.Support(tilted), 1e-12, "a ball reaches its radius in every direction")
	assert.InDelta(t, 5, ball.Support(tilted.Scale(-1)), 1e-12)
	flat := cabochon(t, "oval", 14, 10, 1.2, 0, 3, 0)
	assert.InDelta(t, 7, flat.Support(geometry.Vec3{X: 1}), 1e-12)
	assert.InDelta(t, 5, flat.Support(geometry.Vec3{Y: -1}), 1e-12)
	assert.InDelta(t, 4.2, flat.Support(geometry.Vec3{Z: 1}), 1e-12)
	assert.InDelta(t, 0, flat.Support(geometry.Vec3{Z: -1}), 1e-12)
	// The support of the ellipse u^2/a^2 + v^2/b^2 = 1 is hypot(a cu, b cv).
	assert.InDelta(t, math.Hypot(7*0.6, 5*0.8), flat.Support(geometry.Vec3{X: 0.6, Y: 0.8}), 1e-12)
}

// No point of a dense net on the skin lies beyond the support, and one lies
// close to it.
func TestSupportAgainstSampling(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := geomtest.Cabochon().Draw(t, "stone")
		d := geometry.Vec3{
			X: rapid.Float64Range(-1, 1).Draw(t, "x"), Y: rapid.Float64Range(-1, 1).Draw(t, "y"),
			Z: rapid.Float64Range(-1, 1).Draw(t, "z"),
		}
		if d.Norm() < 0.1 {
			return
		}
		d = d.Scale(1 / d.Norm())
		got, far := c.Support(d), math.Inf(-1)
		for _, p := range skin(c, 256) {
			far = math.Max(far, p.Dot(d))
		}
		require.GreaterOrEqual(t, got, far-1e-9)
		require.LessOrEqual(t, got, far+0.02*c.Outline.Length, "the net is some 2 percent of the stone wide")
	})
}
