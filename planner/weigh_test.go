package planner_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cabwright/planner"
	"cabwright/presets"
)

// The contract: the file's SG when it is given (+-0.02), else the material's
// range, narrowed to within 5% of scale weight over drawn volume when there is a
// scale weight and that overlaps the range.
func TestGravityRestsOnWhatIsKnown(t *testing.T) {
	set := &presets.Set{
		Materials: []presets.Material{{Key: "wide", SG: presets.Range{Low: 1.6, Typical: 2, High: 2.4}},
			{Key: "other", SG: presets.Range{Low: 3, Typical: 3, High: 3}}},
		Defaults: presets.Defaults{Material: "wide"},
	}
	const volume = 1000 // mm3: 1 ct is 0.2 of SG
	for name, c := range map[string]struct {
		stone             planner.Stone
		low, likely, high float64
		says              string
	}{
		"its own": {planner.Stone{Material: "wide", SG: 1.83, ScaleCt: 15}, 1.81, 1.83, 1.85,
			"SG 1.83 as given"},
		"its own, outside the material's": {planner.Stone{Material: "wide", SG: 5}, 4.98, 5, 5.02, "as given"},
		"not weighed":                     {planner.Stone{Material: "wide"}, 1.6, 2, 2.4, "the material's SG, 1.60 to 2.40"},
		"no such material":                {planner.Stone{Material: "none"}, 1.6, 2, 2.4, "the material's SG"},
		"weighed": {planner.Stone{Material: "wide", ScaleCt: 10}, 1.9, 2, 2.1,
			"narrowed by the scale weight"},
		"weighed at the end of the range": {planner.Stone{Material: "wide", ScaleCt: 12}, 2.28, 2.28, 2.4, "narrowed"},
		"weighed just beyond the range":   {planner.Stone{Material: "wide", ScaleCt: 7.7}, 1.6, 1.617, 1.617, "narrowed"},
		"weighed far from the range": {planner.Stone{Material: "wide", ScaleCt: 20}, 1.6, 2, 2.4,
			"the scale weight is far from that"},
		"a range within the scale's": {planner.Stone{Material: "other", ScaleCt: 15}, 3, 3, 3, "the material's SG"},
	} {
		g := planner.GravityOf(c.stone, set, volume)
		assert.InDelta(t, c.low, g.Low, 1e-9, name)
		assert.InDelta(t, c.likely, g.Likely, 1e-9, name)
		assert.InDelta(t, c.high, g.High, 1e-9, name)
		assert.Contains(t, g.Basis, c.says, name)
		short := "by material"
		switch {
		case c.stone.SG > 0:
			short = "as given"
		case strings.Contains(c.says, "narrowed"):
			short = "by scale"
		}
		assert.Equal(t, fmt.Sprintf("SG %.2f to %.2f, %s", g.Low, g.High, short), g.Words(), name)
	}
	assert.Equal(t, 2.0, planner.UsualGravity(planner.Stone{Material: "wide", ScaleCt: 12}, set))
	assert.Equal(t, 1.7, planner.UsualGravity(planner.Stone{Material: "wide", SG: 1.7}, set))
}

func TestLostIsOfTheScaleWeight(t *testing.T) {
	share, from, ok := planner.Lost(5, planner.Stone{ScaleCt: 20}, 16)
	require.True(t, ok)
	assert.Equal(t, 0.75, share)
	assert.Equal(t, 20.0, from)
	share, from, _ = planner.Lost(4, planner.Stone{}, 16)
	assert.Equal(t, 0.75, share)
	assert.Equal(t, 16.0, from)
	_, _, ok = planner.Lost(4, planner.Stone{}, 0)
	assert.False(t, ok)
}
