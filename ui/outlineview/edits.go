package outlineview

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"cabwright/geometry"
	"cabwright/planner"
	"cabwright/ui/style"
	"cabwright/ui/view"
)

// set puts a corner of the outline being drawn; on the first one it closes it.
func (v *View) set(s *view.State, p geometry.Vec2) {
	if len(v.draft) >= 3 && v.cells(s, p, v.draft[0]) <= 1 {
		v.closeOutline(s)
		return
	}
	if n := len(v.draft); n > 0 && v.draft[n-1] == p {
		s.Say(style.Warn, "There is a corner already: move on with the arrow keys before setting the next.")
		return
	}
	if edge, crosses := crossesPath(v.draft, p); crosses {
		n := len(v.draft)
		s.RefuseEdges([][2]geometry.Vec2{{v.draft[edge], v.draft[edge+1]}, {v.draft[n-1], p}},
			"The edge from corner %d would cross edge %d-%d: set the corner elsewhere, backspace takes the last one back.", n, edge+1, edge+2)
		return
	}
	v.draft = append(slices.Clip(v.draft), p)
	s.Say(style.Text, "Corner %d at %s mm.", len(v.draft), at(p))
}

// crossesPath reports which edge of an open path a new edge to p would cross.
func crossesPath(path []geometry.Vec2, p geometry.Vec2) (edge int, crosses bool) {
	n := len(path)
	if n < 3 {
		return 0, false
	}
	a := path[n-1]
	for i := 0; i+2 < n; i++ {
		b, c := path[i], path[i+1]
		side := func(o, d, e geometry.Vec2) float64 { return d.Sub(o).Cross(e.Sub(o)) }
		if side(a, p, b)*side(a, p, c) < 0 && side(b, c, a)*side(b, c, p) < 0 {
			return i, true
		}
	}
	return 0, false
}

// closeOutline makes the drawn corners the stone's outline.
func (v *View) closeOutline(s *view.State) {
	corners := v.draft
	err := v.outline(s, "Draw the outline", corners, func(st planner.Stone) (planner.Stone, error) {
		return planner.SetOutline(st, corners)
	})
	if err == nil {
		v.draft, v.drawing = nil, false
		if len(s.Stone().Top) == 0 {
			s.Say(style.Good, "Outline of %d corners. Now its heights: g gives them all, t and b one at a time.", len(corners))
		}
	}
}

// outline makes an edit of the outline. One whose edges cross is refused with
// the two named and shown; wanted is the outline it would have made.
func (v *View) outline(s *view.State, name string, wanted []geometry.Vec2, edit view.Edit) error {
	return v.refused(s, wanted, s.Do(name, edit))
}

func (v *View) refused(s *view.State, wanted []geometry.Vec2, err error) error {
	var p planner.Problem
	if !errors.As(err, &p) || p.Edges == nil {
		return err
	}
	n := len(wanted)
	edge := func(i int) [2]geometry.Vec2 { return [2]geometry.Vec2{wanted[i%n], wanted[(i+1)%n]} }
	name := func(i int) string { return fmt.Sprintf("%d-%d", i%n+1, (i+1)%n+1) }
	a, b := p.Edges[0], p.Edges[1]
	s.RefuseEdges([][2]geometry.Vec2{edge(a), edge(b)}, "Edge %s would cross edge %s: put the corner elsewhere.", name(a), name(b))
	return errors.New(s.Status().Text)
}

// move moves what is selected, or the cursor.
func (v *View) move(s *view.State, by geometry.Vec2) {
	to := tidy(s.Cursor.Add(by))
	if t, is := selected(s); is && !v.sketching(s) {
		to = tidy(place(s, t).Add(by))
		if v.put(s, t, to, s.Continue) != nil {
			return
		}
	}
	s.Cursor = to
	s.KeepInSight(to, v.cols, v.rows)
}

// put places a thing in plan; a reading keeps its height. do is the State's Do
// or Continue.
func (v *View) put(s *view.State, t view.Selection, to geometry.Vec2, do func(string, view.Edit) error) error {
	name := "Move " + called(t)
	if t.Kind == view.Corner {
		wanted := slices.Clone(s.Stone().Outline)
		wanted[t.Index] = to
		return v.refused(s, wanted, do(name, func(st planner.Stone) (planner.Stone, error) {
			return planner.MoveCorner(st, t.Index, to)
		}))
	}
	f := face(t.Kind)
	z := s.Stone().Readings(f)[t.Index].Z
	return do(name, func(st planner.Stone) (planner.Stone, error) {
		return planner.SetReading(st, f, t.Index, geometry.Vec3{X: to.X, Y: to.Y, Z: z})
	})
}

// addCorner puts a corner into the edge nearest to a point.
func (v *View) addCorner(s *view.State, p geometry.Vec2) {
	edge := nearestEdge(s.Stone().Outline, p)
	wanted := slices.Insert(slices.Clone(s.Stone().Outline), edge+1, p)
	err := v.outline(s, fmt.Sprintf("Add corner %d", edge+2), wanted, func(st planner.Stone) (planner.Stone, error) {
		return planner.AddCorner(st, edge, p)
	})
	if err == nil {
		v.take(s, view.Selection{Kind: view.Corner, Index: edge + 1, Point: -1})
	}
}

// nearestEdge returns the edge of an outline that is nearest to p.
func nearestEdge(outline []geometry.Vec2, p geometry.Vec2) int {
	best, least := 0, math.Inf(1)
	for i, a := range outline {
		if d := geometry.ToSegment(p, a, outline[(i+1)%len(outline)]); d < least {
			best, least = i, d
		}
	}
	return best
}

// splitEdge puts a corner in the middle of an edge.
func (v *View) splitEdge(s *view.State, edge int) {
	if s.Do(fmt.Sprintf("Split the edge after corner %d", edge+1), func(st planner.Stone) (planner.Stone, error) {
		return planner.SplitEdge(st, edge)
	}) == nil {
		v.take(s, view.Selection{Kind: view.Corner, Index: edge + 1, Point: -1})
	}
}

// remove deletes a thing and selects the one before it.
func (v *View) remove(s *view.State, t view.Selection) {
	name := "Delete " + called(t)
	var err error
	if t.Kind == view.Corner {
		outline := s.Stone().Outline
		wanted := slices.Delete(slices.Clone(outline), t.Index, t.Index+1)
		err = v.outline(s, name, wanted, func(st planner.Stone) (planner.Stone, error) {
			return planner.DeleteCorner(st, t.Index)
		})
	} else {
		err = s.Do(name, func(st planner.Stone) (planner.Stone, error) {
			return planner.DeleteReading(st, face(t.Kind), t.Index)
		})
	}
	if err != nil {
		return
	}
	t.Index = max(0, t.Index-1)
	s.Selected = view.Selection{Point: -1}
	if slices.Contains(things(s), t) {
		said := s.Status()
		v.take(s, t)
		s.Say(said.Role, "%s", said.Text)
	}
}

// selectAt selects what is under the cursor.
func (v *View) selectAt(s *view.State) {
	t, ok := v.nearest(s, s.Cursor)
	if !ok {
		s.Say(style.Warn, "No corner or reading within one cell of the cursor: tab goes from one to the next.")
		return
	}
	v.take(s, t)
}

// turnOver turns the whole stone over.
func (v *View) turnOver(s *view.State) {
	if s.Do("Turn the stone over", planner.TurnOver) == nil {
		s.Cursor.X = -s.Cursor.X
	}
}

// tidy rounds a place to a thousandth of a millimetre, ten times finer than a
// caliper shows, so that steps do not gather binary fractions.
func tidy(p geometry.Vec2) geometry.Vec2 {
	return geometry.Vec2{X: math.Round(p.X*1000)/1000 + 0, Y: math.Round(p.Y*1000)/1000 + 0}
}

// at writes a place.
func at(p geometry.Vec2) string { return fmt.Sprintf("%.2f, %.2f", p.X, p.Y) }
