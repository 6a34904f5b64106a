package view

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cabwright/geometry"
	"cabwright/geometry/outline"
	"cabwright/geometry/solid"
	"cabwright/planner"
	"cabwright/planner/search"
	"cabwright/presets"
	"cabwright/ui/canvas"
	"cabwright/ui/style"
)

// strict is a Site where nothing fits.
type strict struct{}

func (strict) Clearance(solid.Cabochon, search.Pose) search.Reading {
	return search.Reading{Clearance: -0.3, LimitedBy: []string{"P9"}}
}

func (x strict) Settle(c search.Candidate, p search.Pose, _ float64) (search.Pose, search.Reading) {
	return p, x.Clearance(c.Solid, p)
}

func oval(t *testing.T, length, x float64) search.Fit {
	o, err := outline.New("oval", length, 8)
	require.NoError(t, err)
	return search.Fit{
		Candidate: search.Candidate{Face: planner.Top, Solid: solid.Cabochon{Outline: o, Sides: 1}},
		Pose:      search.Pose{Origin: geometry.Vec3{X: x}, Axes: geometry.Identity3()}, Clearance: 0.2, Proved: true,
	}
}

func newState() *State {
	s := NewState(planner.NewHistory(planner.Stone{}), presets.Builtin(), style.New(style.NoColour, style.Unknown),
		canvas.Braille)
	s.RoughOf = s.Revision()
	return s
}

func TestTheBestIsChosenUntilOneIsPicked(t *testing.T) {
	s := newState()
	s.Take(search.Plan{}, 0)
	assert.Nil(t, s.Chosen)
	s.Take(search.Plan{Fits: []search.Fit{oval(t, 10, 0)}}, 0)
	s.Take(search.Plan{Fits: []search.Fit{oval(t, 12, 0), oval(t, 10, 0)}}, 0)
	assert.Equal(t, 12.0, s.Chosen.Solid.Outline.Length)
	s.Choose(s.Plan.Fits[1])
	s.Take(search.Plan{Fits: []search.Fit{oval(t, 14, 0), oval(t, 12, 0), oval(t, 10, 0.7)}}, 0)
	assert.Equal(t, 10.0, s.Chosen.Solid.Outline.Length)
	assert.Equal(t, 0.7, s.Chosen.Pose.Origin.X, "it follows what is now found for it")
	// It may be missing from a list that is still growing, and come back.
	s.Take(search.Plan{Fits: []search.Fit{oval(t, 14, 0)}}, 1)
	s.Take(search.Plan{Fits: []search.Fit{oval(t, 14, 0), oval(t, 10, 0.9)}}, 1)
	assert.Equal(t, 0.9, s.Chosen.Pose.Origin.X)
}

func TestWhatNoLongerFitsSaysSo(t *testing.T) {
	s := newState()
	s.Take(search.Plan{Fits: []search.Fit{oval(t, 12, 0), oval(t, 10, 0)}}, 0)
	s.Choose(s.Plan.Fits[0])
	s.Pinned = []search.Fit{s.Plan.Fits[0], s.Plan.Fits[1]}
	s.Site = strict{}
	s.Take(search.Plan{Fits: []search.Fit{oval(t, 10, 0)}}, 0)
	for _, f := range []search.Fit{*s.Chosen, s.Pinned[0]} {
		assert.Equal(t, -0.3, f.Clearance)
		assert.Equal(t, []string{"P9"}, f.LimitedBy)
		assert.False(t, f.Proved)
	}
	assert.Equal(t, 0.2, s.Pinned[1].Clearance, "what is in the list is as it was found")

	s.Choose(oval(t, 10, 3)) // moved by hand
	s.Take(search.Plan{Fits: []search.Fit{oval(t, 10, 0)}}, 0)
	assert.Equal(t, 3.0, s.Chosen.Pose.Origin.X)
	// While the solid belongs to an older stone nothing can be said.
	s.RoughOf = -1
	s.Chosen.Clearance = 0.1
	s.Reread()
	assert.Equal(t, 0.1, s.Chosen.Clearance)
}

func TestSameCut(t *testing.T) {
	a, b := oval(t, 10, 0).Candidate, oval(t, 10, 5).Candidate
	assert.True(t, SameCut(a, b))
	b.Face = planner.Base
	assert.False(t, SameCut(a, b))
	b = oval(t, 12, 0).Candidate
	assert.False(t, SameCut(a, b))
	free := []geometry.Vec2{{X: 5, Y: -4}, {X: 5, Y: 4}, {X: -5}}
	var err error
	a.Solid.Outline, err = outline.Freeform(free)
	require.NoError(t, err)
	free[0].X = 6
	b.Solid.Outline, err = outline.Freeform(free)
	require.NoError(t, err)
	assert.True(t, SameCut(a, b), "a freeform grows as the search goes on")
}
