package solid_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"cabwright/geometry/geomtest"
	"cabwright/geometry/solid"
)

func domeArea(c solid.Cabochon, nTheta, nRho int) float64 {
	sum := 0.0
	for _, p := range c.DomePatches(nTheta, nRho) {
		sum += p.Area
	}
	return sum
}

func TestDomeAreaPublished(t *testing.T) {
	oblate := func(a, c float64) float64 { // half of an oblate spheroid's surface
		e := math.Sqrt(1 - c*c/(a*a))
		return math.Pi * a * a * (1 + (1-e*e)/e*math.Atanh(e))
	}
	for _, c := range []struct {
		stone  solid.Cabochon
		area   float64
		source string
	}{
		{cabochon(t, "round", 10, 10, 1.2, 0, 5, 0), 2 * math.Pi * 25, "half a sphere (Archimedes)"},
		{cabochon(t, "round", 10, 10, 1.2, 0, 2, 0), oblate(5, 2), "half an oblate spheroid (CRC Standard Mathematical Tables)"},
		{cabochon(t, "oval", 14, 10, 1.2, 0, 0, 0), math.Pi * 35, "a flat top"},
		{cabochon(t, "heart", 10, 10, 1.2, 0, 0, 0), 63.7565392, "a flat heart: testdata of outline"},
	} {
		// A net of n x m patches is low by about (pi/n)^2 and (pi/4m)^2.
		assert.InEpsilon(t, c.area, domeArea(c.stone, 360, 90), 3e-4, c.source)
		assert.InEpsilon(t, c.area, domeArea(c.stone, 64, 16), 1e-2, "coarse: %s", c.source)
	}
}

func TestDomePatches(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := geomtest.Cabochon().Draw(t, "stone")
		nTheta, nRho := rapid.IntRange(8, 40).Draw(t, "nTheta"), rapid.IntRange(3, 12).Draw(t, "nRho")
		patches := c.DomePatches(nTheta, nRho)
		require.GreaterOrEqual(t, len(patches), nTheta*nRho)
		flat := 0.0
		for _, p := range patches {
			require.Greater(t, p.Area, 0.0)
			gauge := c.Outline.Gauge(p.Centre.X, p.Centre.Y)
			require.Less(t, gauge, c.RimRatio()*1.3, "a middle lies on the dome, or in a bay of the outline just beyond")
			require.GreaterOrEqual(t, p.Centre.Z, c.Wall)
			require.LessOrEqual(t, p.Centre.Z, c.Wall+c.Dome)
			flat += p.Area
		}
		// A dome is larger than its plan; 8 chords of a circle leave out a
		// tenth of it, those of a freeform nothing.
		r := c.RimRatio()
		require.Greater(t, flat, r*r*c.Outline.Area()*0.8)
	})
}
