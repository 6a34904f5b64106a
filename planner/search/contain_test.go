package search

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cabwright/geometry/geomtest"
	"cabwright/geometry/outline"
	"cabwright/planner"
	"cabwright/planner/search/internal/searchtest"
	"cabwright/presets"
)

// Passing a proof on from a size to another is right for a heavier one that holds
// it, and refused otherwise.
func TestStickOutOfTrials(t *testing.T) {
	set := presets.Builtin()
	outlines := sizes(set, Options{})
	trials := trialsFor(set, outlines, planner.Top, Options{})
	inside := newContainment(outlines)
	r := searchtest.Random(5)
	finite, zero := 0, 0
	for range searchtest.ManySolids * 20 {
		outer, inner := trials[r.IntN(len(trials))], trials[r.IntN(len(trials))]
		worth := searchtest.Between(r, 0, 2)
		s := inside.stickOut(outer, inner, worth)
		require.GreaterOrEqual(t, s, 0.0)
		if math.IsInf(s, 1) {
			continue
		}
		finite++
		if s == 0 {
			zero++
		}
		require.LessOrEqual(t, inner.volume, outer.volume)
		for _, p := range geomtest.Skin(inner.Solid, 10) {
			d := geomtest.Distance(outer.Solid, p, 16)
			if d > s { // looked at more closely
				d = geomtest.Distance(outer.Solid, p, 96)
			}
			require.LessOrEqual(t, d, s+1e-4, "%v in %v", inner.Candidate, outer.Candidate)
		}
	}
	assert.Greater(t, finite, 20)
	assert.Greater(t, zero, 5)
}

// Signs of stickOut on pairs that anyone can see.
func TestStickOutSigns(t *testing.T) {
	var outlines []outline.Outline
	for _, s := range [][2]float64{{16, 12}, {14, 10}, {12, 10}} {
		o, err := outline.New("oval", s[0], s[1])
		require.NoError(t, err)
		outlines = append(outlines, o)
	}
	trial := func(size int, dome, back float64) *trial {
		o := outlines[size]
		c := geomtest.Cab("oval", o.Length, o.Width, dome, back)
		return &trial{Candidate: Candidate{Solid: c}, volume: c.Volume(), size: size}
	}
	in := newContainment(outlines)
	assert.Zero(t, in.stickOut(trial(0, 4, 0), trial(1, 3, 0), 1), "a smaller one of the family")
	assert.Zero(t, in.stickOut(trial(0, 4, 0), trial(0, 3, 0), 1), "a lower dome on the same outline")
	assert.InDelta(t, 0.2, in.stickOut(trial(0, 4, 1), trial(0, 3, 1.2), 1), 1e-9, "a deeper back")
	assert.InDelta(t, 0.5, in.stickOut(trial(0, 3, 1), trial(0, 3.5, 0.2), 1), 1e-9, "a taller dome, a shallower back")
	assert.Equal(t, math.Inf(1), in.stickOut(trial(1, 3, 0), trial(0, 4, 0), 1), "the larger in the smaller")
	assert.Equal(
		t, math.Inf(1), in.stickOut(trial(0, 3, 0), trial(1, 4.2, 0), 1),
		"a dome that stands out by more than it is worth",
	)
	assert.Equal(t, math.Inf(1), in.stickOut(trial(2, 10, 0), trial(1, 3, 0), 0.3), "2 mm longer, and heavier or not")
}
