package planner

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"cabwright/geometry"
)

// Each part that a plan hangs on is named when it alone differs, whichever of
// the two stones has it; what no fit depends on is not.
func TestChangedNamesWhatAPlanHangsOn(t *testing.T) {
	stone := Stone{
		Name: "A", Material: "opal", SG: 2.1, Outline: []geometry.Vec2{{X: 0}, {X: 9}, {Y: 9}},
		Top: []geometry.Vec3{{Z: 5}}, Base: []geometry.Vec3{{Z: 0}},
		Cracks: []Crack{{ID: "C1", Depth: 1}, {ID: "C2", Depth: 2}}, Pockets: []Pocket{{ID: "P1", Depth: 1}},
		Colour: []Zone{{ID: "Z1", Grade: 3}}, Allowances: Allowances{Skin: 0.5},
	}
	assert.Empty(t, Changed(Stone{}, Stone{}))
	assert.Empty(t, Changed(stone, stone))
	for _, c := range []struct {
		want   []string
		change func(*Stone)
	}{
		{nil, func(s *Stone) { s.Name = "B" }},
		{nil, func(s *Stone) {
			s.Cracks = []Crack{{ID: "C1", Depth: 1, DepthRange: &Range{Least: 1, Most: 4}}, s.Cracks[1]}
		}},
		{nil, func(s *Stone) { s.Pockets = []Pocket{{ID: "P1", Depth: 1, Chance: new(float64)}} }},
		{[]string{"C2"}, func(s *Stone) { s.Cracks = []Crack{{ID: "C1", Depth: 1}, {ID: "C2", Depth: 3}} }},
		{[]string{"C1"}, func(s *Stone) { s.Cracks = s.Cracks[1:] }},
		{[]string{"C3"}, func(s *Stone) { s.Cracks = append(s.Cracks[:2:2], Crack{ID: "C3"}) }},
		{[]string{"P1"}, func(s *Stone) { s.Pockets = nil }},
		{[]string{"Z1"}, func(s *Stone) { s.Colour = []Zone{{ID: "Z1", Grade: 4}} }},
		{[]string{"the outline"}, func(s *Stone) { s.Outline = s.Outline[:2] }},
		{[]string{"the top"}, func(s *Stone) { s.Top = []geometry.Vec3{{Z: 6}} }},
		{[]string{"the base"}, func(s *Stone) { s.Base = nil }},
		{[]string{"the allowances"}, func(s *Stone) { s.Allowances.Crack = 1 }},
		{[]string{"the specific gravity"}, func(s *Stone) { s.SG = 2 }},
		{[]string{"C1", "the top"}, func(s *Stone) { s.Cracks, s.Top = s.Cracks[1:], nil }},
	} {
		other := stone
		c.change(&other)
		assert.Equal(t, c.want, Changed(stone, other))
		assert.Equal(t, c.want, Changed(other, stone))
	}
}

// Before is the stone that an undo would bring back, also after a row of small
// edits that are undone as one.
func TestBeforeIsWhatUndoBringsBack(t *testing.T) {
	h := NewHistory(Stone{Name: "A"})
	_, ok := h.Before()
	assert.False(t, ok)
	name := func(n string) func(Stone) (Stone, error) {
		return func(s Stone) (Stone, error) { s.Name = n; return s, nil }
	}
	assert.NoError(t, h.Continue("name", name("B")))
	assert.NoError(t, h.Continue("name", name("C")))
	before, ok := h.Before()
	assert.True(t, ok)
	assert.Equal(t, "A", before.Name)
	_, _ = h.Undo()
	assert.Equal(t, before, h.Stone())
	_, ok = h.Before()
	assert.False(t, ok)
}
