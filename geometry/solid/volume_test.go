package solid_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"cabwright/geometry/geomtest"
	"cabwright/geometry/outline"
	"cabwright/geometry/solid"
)

func cabochon(t require.TestingT, shape string, length, width, wall, lean, dome, back float64) solid.Cabochon {
	o, err := outline.New(shape, length, width)
	require.NoError(t, err)
	c := solid.Cabochon{Outline: o, Wall: wall, WallLeanDeg: lean, Dome: dome, Back: back, Sides: 1}
	if back > 0 {
		c.Sides = 2
	}
	return c
}

func TestVolumePublished(t *testing.T) {
	for _, c := range []struct {
		stone  solid.Cabochon
		volume float64
		delta  float64
		source string
	}{
		{cabochon(t, "round", 2, 2, 1, 0, 0, 0), math.Pi, 1e-12, "a cylinder"},
		{cabochon(t, "round", 2, 2, 0, 0, 1, 0), 2 * math.Pi / 3, 1e-12, "half a ball (Archimedes)"},
		{cabochon(t, "round", 2, 2, 0, 0, 1, 1), 4 * math.Pi / 3, 1e-12, "a whole ball"},
		{cabochon(t, "round", 8, 8, 4, 45, 0, 0), math.Pi * 16 * 4 / 3, 1e-9, "a cone: its wall leans in to the axis"},
		{cabochon(t, "oval", 10, 8, 0, 0, 3.5, 0), 1.576 * 200 / 2.15, 0.002 * 200 / 2.15, "2/3 pi a b h"},
		{cabochon(t, "oval", 10, 8, 1, 0, 3, 0), 188.496, 0.001 * 188.496, "pi a b (wall + 2/3 dome)"},
		{cabochon(t, "oval", 10, 8, 1, 15, 3, 0), 168.109, 0.001 * 168.109,
			"pi a b (wall (1 + r + r^2)/3 + 2/3 r^2 dome), r = 1 - 2 wall tan(lean)/width"},
	} {
		assert.InDelta(t, c.volume, c.stone.Volume(), c.delta, c.source)
		if c.stone.RimRatio() < 1e-9 {
			continue // a cone has no dome to go round
		}
		assert.InDelta(t, c.volume, geomtest.VolumeByQuadrature(c.stone, 100), c.delta+1e-6*c.volume, "quadrature: %s",
			c.source)
	}
}

// The slow way itself, against solids of another kind: spherical caps, whose
// height is not the contract's. Their volume is pi h^2 (3 R - h)/3 (CRC
// Standard Mathematical Tables).
func TestQuadratureOfCaps(t *testing.T) {
	for _, c := range []struct{ across, high, volume float64 }{
		{10, 3, 131.947},     // pi h (3 a^2 + h^2)/6
		{16, 4, 435.6341814}, // R = 10, h = 4: half across sqrt(10^2 - 6^2) = 8
	} {
		a := c.across / 2
		r := (a*a + c.high*c.high) / (2 * c.high)
		cap := geomtest.RingIntegral(1, 40, func(rho float64) float64 {
			return math.Sqrt(r*r-a*a*rho*rho) - (r - c.high)
		})
		assert.InDelta(t, c.volume, math.Pi*a*a*cap, 0.0005)
	}
}

func TestVolumeAgainstQuadrature(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := geomtest.Cabochon().Draw(t, "stone")
		// The heart's area by quadrature is good to 1e-6.
		require.InEpsilon(t, geomtest.VolumeByQuadrature(c, 60), c.Volume(), 2e-6)
	})
}

func TestCentreOfHeight(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := geomtest.Cabochon().Draw(t, "stone")
		top, bottom := c.Upper(0), c.Lower(0)
		require.InDelta(t, (top+bottom)/2, c.CentreOfHeight(), 1e-12)
		require.InDelta(t, top-bottom, c.Height(), 1e-12)
	})
}
