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

func upperArea(c solid.Cabochon, nTheta, nDome, nWall int) float64 {
	sum := 0.0
	for _, p := range c.UpperPatches(nTheta, nDome, nWall) {
		sum += p.Area
	}
	return sum
}

func TestUpperAreaPublished(t *testing.T) {
	oblate := func(a, c float64) float64 { // half of an oblate spheroid's surface
		e := math.Sqrt(1 - c*c/(a*a))
		return math.Pi * a * a * (1 + (1-e*e)/e*math.Atanh(e))
	}
	leaning := cabochon(t, "round", 10, 10, 3, 45, 0, 0) // a cone's frustum, 10 to 4 mm across, under a disc
	for _, c := range []struct {
		stone  solid.Cabochon
		area   float64
		source string
	}{
		{cabochon(t, "round", 10, 10, 0, 0, 5, 0), 2 * math.Pi * 25, "half a sphere (Archimedes)"},
		{cabochon(t, "round", 10, 10, 0, 0, 2, 0), oblate(5, 2),
			"half an oblate spheroid (CRC Standard Mathematical Tables)"},
		{cabochon(t, "oval", 14, 10, 0, 0, 0, 0), math.Pi * 35, "a flat top"},
		{cabochon(t, "heart", 10, 10, 0, 0, 0, 0), 63.7565392, "a flat heart: testdata of outline"},
		{cabochon(t, "round", 10, 10, 1.2, 0, 5, 0), 2*math.Pi*25 + math.Pi*10*1.2, "half a sphere on a cylinder"},
		{cabochon(t, "rectangle", 12, 8, 2, 0, 0, 0), 12*8 + 2*(12+8)*2, "a box's top and sides"},
		{leaning, math.Pi*4 + math.Pi*(5+2)*math.Hypot(3, 3), "a disc on a frustum (CRC Standard Mathematical Tables)"},
	} {
		// A net of n x m patches is low by about (pi/n)^2 and (pi/4m)^2.
		assert.InEpsilon(t, c.area, upperArea(c.stone, 360, 90, 4), 3e-4, c.source)
		assert.InEpsilon(t, c.area, upperArea(c.stone, 64, 16, 2), 1e-2, "coarse: %s", c.source)
	}
}

func TestUpperPatches(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := geomtest.Cabochon().Draw(t, "stone")
		nTheta, nDome := rapid.IntRange(8, 40).Draw(t, "nTheta"), rapid.IntRange(3, 12).Draw(t, "nDome")
		patches := c.UpperPatches(nTheta, nDome, 2)
		require.GreaterOrEqual(t, len(patches), nTheta*nDome)
		area := 0.0
		for _, p := range patches {
			require.GreaterOrEqual(t, p.Area, 0.0)
			gauge := c.Outline.Gauge(p.At.X, p.At.Y)
			require.Less(t, gauge, 1.3, "a middle lies on the stone, or in a bay of the outline just beyond")
			require.GreaterOrEqual(t, p.At.Z, 0.0)
			require.LessOrEqual(t, p.At.Z, c.Wall+c.Dome)
			area += p.Area
		}
		// An upper side is larger than its plan; 8 chords of a circle leave out a
		// tenth of it, those of a freeform nothing.
		require.Greater(t, area, c.Outline.Area()*0.8)
	})
}
