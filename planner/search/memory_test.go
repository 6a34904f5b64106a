package search

import (
	"context"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"cabwright/geometry"
	"cabwright/planner"
	"cabwright/planner/search/internal/searchtest"
)

// What may only get harder keeps what was refused, what may only get easier keeps what
// fits; nothing else is taken over unasked.
func TestKeepsLess(t *testing.T) {
	s := searchtest.Demo(t, "one-crack")
	with := func(change func(*planner.Stone)) planner.Stone {
		c := s
		c.Cracks, c.Pockets = slices.Clone(s.Cracks), slices.Clone(s.Pockets)
		c.Outline = slices.Clone(s.Outline)
		change(&c)
		return c
	}
	crack := planner.Crack{ID: "C9", Path: []geometry.Vec2{{X: -3}, {X: 3}}, Face: planner.Top, Depth: 2}
	for name, c := range map[string]struct {
		after          planner.Stone
		harder, easier bool
	}{
		"nothing":       {s, true, true},
		"another name":  {with(func(c *planner.Stone) { c.Name = "x"; c.Cracks[0].ID = "C7" }), true, true},
		"a crack more":  {with(func(c *planner.Stone) { c.Cracks = append(c.Cracks, crack) }), true, false},
		"a pocket less": {with(func(c *planner.Stone) { c.Pockets = c.Pockets[1:] }), false, true},
		"a deeper pocket": {
			with(func(c *planner.Stone) { c.Pockets[0].Depth += 0.5 }), s.Pockets[0].Face != planner.Through, false,
		},
		"run on further":       {with(func(c *planner.Stone) { c.Cracks[0].RunOn++ }), true, false},
		"a crack sealed":       {with(func(c *planner.Stone) { c.Cracks[0].Sealed = true }), false, true},
		"a crack leaning more": {with(func(c *planner.Stone) { c.Cracks[0].Lean += 5 }), false, false},
		"more skin":            {with(func(c *planner.Stone) { c.Allowances.Skin += 0.1 }), true, false},
		"a smaller allowance":  {with(func(c *planner.Stone) { c.Allowances.Crack -= 0.1 }), false, true},
		"a corner moved":       {with(func(c *planner.Stone) { c.Outline[0].X += 0.1 }), false, false},
		"one more and one less": {
			with(func(c *planner.Stone) { c.Cracks = append(c.Cracks, crack); c.Pockets = c.Pockets[1:] }), false, false,
		},
	} {
		require.Equal(t, c.harder, keepsLess(s, c.after), name)
		require.Equal(t, c.easier, keepsLess(c.after, s), name)
	}
}

// A search that begins from an earlier state comes to what a fresh one does: the same
// sizes fit, but for those within the tolerance, and every fit keeps its allowances.
func TestAfterAnEdit(t *testing.T) {
	s := searchtest.Demo(t, "one-crack")
	opt := Options{Shapes: []string{"round", "oval"}, Sides: []int{1}, Faces: []planner.Face{planner.Top}, Level: true}
	first, err := Run(context.Background(), s, opt, nil)
	require.NoError(t, err)
	more, moved := s, s
	more.Cracks = append(
		slices.Clone(s.Cracks),
		planner.Crack{ID: "C9", Path: []geometry.Vec2{{X: -6, Y: -3}, {X: -4, Y: 4}}, Face: planner.Top, Depth: 3},
	)
	moved.Outline = slices.Clone(s.Outline)
	moved.Outline[2] = moved.Outline[2].Scale(0.97)
	before := first
	for name, after := range map[string]planner.Stone{"a crack more": more, "a corner moved": moved, "as it was": s} {
		site, err := Open(after)
		require.NoError(t, err)
		fresh, err := Run(context.Background(), after, opt, nil)
		require.NoError(t, err)
		from := opt
		from.After = &before
		shown := 0
		got, err := Run(context.Background(), after, from, func(p Plan) {
			if shown == 0 && len(p.Fits) > 0 {
				shown = len(p.Fits)
			}
		})
		require.NoError(t, err)
		require.Greater(t, shown, len(got.Fits)/2, "%s: the last list is there at once", name)
		for _, q := range got.RuledOut {
			require.NotEmpty(t, q.LimitedBy, "%s: why is not forgotten: %+v", name, q.Candidate)
		}
		fits := map[geometry.Vec2]bool{}
		for _, f := range got.Fits {
			require.GreaterOrEqual(t, site.Clearance(f.Solid, f.Pose).Clearance, 0.0, name)
			fits[geometry.Vec2{X: f.Solid.Outline.Length, Y: f.Solid.Outline.Width}] = true
		}
		for _, f := range fresh.Fits {
			if f.Clearance > defaultTolerance {
				require.True(
					t, fits[geometry.Vec2{X: f.Solid.Outline.Length, Y: f.Solid.Outline.Width}], "%s: %+v", name, f.Solid.Outline,
				)
			}
		}
	}
}
