package planner_test

import (
	"math"
	"regexp"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"cabwright/planner"
)

func TestUnits(t *testing.T) {
	// 4th General Conference on Weights and Measures, 1907.
	assert.Equal(t, 5.0, planner.CaratsPerGram)
	assert.InDelta(t, 155.517, planner.CaratsPerTroyOunce, 0.001)
	// A cubic centimetre of water weighs a gram.
	assert.Equal(t, planner.CaratsPerGram, planner.Carat(1000, 1))
}

func TestCaratOfSameBody(t *testing.T) {
	for _, c := range []struct{ carat, sg, other, want float64 }{
		{0, 3.52, 2.15, 0},
		{1, 2.15, 2.15, 1},
		{1, 3.52, 4.00, 1.14}, // International Gem Society
		{1, 3.52, 2.15, 0.61}, // the same
	} {
		assert.InDelta(t, c.want, planner.CaratOfSameBody(c.carat, c.sg, c.other), 0.005)
	}
}

func TestRuleCarat(t *testing.T) {
	// Trade check case 3: the rule beside the half-ellipsoid of 1.576 ct.
	assert.InDelta(t, 1.565, planner.RuleCarat(10, 8, 3.5, 2.15, planner.RuleK), 0.0005)
	halfEllipsoid := math.Pi / 6 * 10 * 8 * 3.5
	assert.InDelta(t, 1.576, planner.Carat(halfEllipsoid, 2.15), 0.002)
	// The factor that makes the rule exact for a half-ellipsoid: pi/6/200.
	assert.InDelta(t, planner.Carat(halfEllipsoid, 2.15), planner.RuleCarat(10, 8, 3.5, 2.15, 0.002618), 1e-4)
	assert.Zero(t, planner.RuleCarat(10, 8, 0, 2.15, planner.RuleK))
}

func TestCaratBand(t *testing.T) {
	// A single-sided hydrophane oval of 11.26 x 7.82 x 4.23 mm, sold as 1.85 ct
	// (a sale listing).
	volume := math.Pi / 6 * 11.26 * 7.82 * 4.23
	size := [3]float64{11.26, 7.82, 4.23}
	exact := planner.CaratBand(volume, size, 0, planner.Gravity{Low: 1.80, Likely: 1.83, High: 1.93})
	assert.InDelta(t, 1.755, exact.Low, 0.0005)
	assert.InDelta(t, 1.882, exact.High, 0.0005)
	assert.True(t, exact.Low < 1.85 && 1.85 < exact.High)

	// With 0.1 mm on each dimension: the half-ellipsoid that much smaller and
	// larger.
	band := planner.CaratBand(volume, size, planner.DimensionTolerance,
		planner.Gravity{Low: 1.80, Likely: 1.83, High: 1.93})
	assert.InDelta(t, math.Pi/6*11.16*7.72*4.13*1.80/200, band.Low, 1e-9)
	assert.InDelta(t, math.Pi/6*11.36*7.92*4.33*1.93/200, band.High, 1e-9)
	assert.InDelta(t, volume*1.83/200, band.Likely, 1e-9)

	// A flake thinner than the tolerance may be nothing at all.
	assert.Zero(t, planner.CaratBand(1, [3]float64{5, 5, 0.05}, 0.1, planner.Gravity{Low: 2, Likely: 2, High: 2}).Low)
}

func TestCaratBandHoldsTheLikely(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		length := func(name string) float64 { return rapid.Float64Range(0.01, 40).Draw(t, name) }
		sg := rapid.Float64Range(0.5, 10).Draw(t, "sg")
		size := [3]float64{length("length"), length("width"), length("height")}
		tolerance := rapid.Float64Range(0, 0.2).Draw(t, "tolerance")
		band := planner.CaratBand(length("volume"), size, tolerance,
			planner.Gravity{Low: sg * 0.9, Likely: sg, High: sg * 1.1})
		require.True(t, 0 <= band.Low && band.Low < band.Likely && band.Likely < band.High)
	})
}

func TestWeightRemark(t *testing.T) {
	for name, c := range map[string]struct {
		volume, area, sg, scale float64
		want                    string
	}{
		"nothing at all":  {0, 0, 0, 0, ""},
		"not weighed":     {1000, 100, 2, 0, ""},
		"no volume":       {0, 100, 2, 10, ""},
		"not numbers":     {math.NaN(), 100, 2, 10, ""},
		"equal":           {1000, 100, 2, 10, ""},
		"a tenth heavier": {1100, 100, 2, 10, ""},
		"a tenth lighter": {900, 100, 2, 10, ""},
		"just over a tenth": {1101, 100, 2, 10, "At an SG of 2.00 the stone as drawn weighs " +
			"11.0 ct, 10% heavier than the 10.0 ct on the scale. " +
			"They would agree if it were 1.0 mm thinner all over (now 11.0 mm on average), " +
			"or at an SG of 1.82 instead of 2.00."},
		// 800 mm3 at SG 2 are 8 ct; 10 ct are 1,000 mm3 over 100 mm2, 2 mm more
		// than now, or SG 2.5.
		"too thin": {800, 100, 2, 10, "At an SG of 2.00 the stone as drawn weighs " +
			"8.0 ct, 20% lighter than the 10.0 ct on the scale. " +
			"They would agree if it were 2.0 mm thicker all over (now 8.0 mm on average), " +
			"or at an SG of 2.50 instead of 2.00."},
		"too thick": {2000, 100, 2, 10, "At an SG of 2.00 the stone as drawn weighs " +
			"20.0 ct, 100% heavier than the 10.0 ct on the scale. " +
			"They would agree if it were 10.0 mm thinner all over (now 20.0 mm on average), " +
			"or at an SG of 1.00 instead of 2.00."},
	} {
		t.Run(name, func(t *testing.T) {
			assert.Equal(t, c.want, planner.WeightRemark(c.volume, c.area, c.sg, c.scale))
		})
	}
}

var advice = regexp.MustCompile(`it were (\S+) mm (thicker|thinner) all over .* SG of (\S+) instead`)

// What a remark advises makes the weights agree, as closely as its digits say.
func TestWeightRemarkAdvice(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		area := rapid.Float64Range(50, 1000).Draw(t, "area")
		volume := area * rapid.Float64Range(3, 20).Draw(t, "thickness")
		sg := rapid.Float64Range(1, 4).Draw(t, "sg")
		scale := planner.Carat(volume, sg) * rapid.Float64Range(0.5, 2).Draw(t, "scale by model")
		found := advice.FindStringSubmatch(planner.WeightRemark(volume, area, sg, scale))
		off := math.Abs(planner.Carat(volume, sg)-scale) / scale
		if found == nil {
			require.LessOrEqual(t, off, 0.1)
			return
		}
		require.Greater(t, off, 0.1)
		change, err := strconv.ParseFloat(found[1], 64)
		require.NoError(t, err)
		if found[2] == "thinner" {
			change = -change
		}
		require.InDelta(t, scale, planner.Carat(volume+area*change, sg), planner.Carat(area*0.0501, sg))
		other, err := strconv.ParseFloat(found[3], 64)
		require.NoError(t, err)
		require.InDelta(t, scale, planner.Carat(volume, other), planner.Carat(volume, 0.00501))
	})
}
