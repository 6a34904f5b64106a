package outlineview

import (
	"errors"
	"fmt"
	"slices"

	"cabwright/geometry"
	"cabwright/planner"
	"cabwright/ui/edit"
	"cabwright/ui/style"
	"cabwright/ui/view"
)

// sketch says what the draft is to become.
var sketch = edit.Drawing{Point: "corner", Least: 3, Closed: true, Simple: true}

// set puts a corner of the outline being drawn; on the first one it closes it.
func (v *View) set(s *view.State, p geometry.Vec2) error {
	if v.draft.Closes(s, v.window(), sketch, p) {
		return v.closeOutline(s)
	}
	return v.draft.Put(s, sketch, p)
}

// closeOutline makes the drawn corners the stone's outline.
func (v *View) closeOutline(s *view.State) error {
	corners := v.draft
	err := v.outline(s, "Draw the outline", corners, func(st planner.Stone) (planner.Stone, error) {
		return planner.SetOutline(st, corners)
	})
	if err == nil {
		v.draft, v.drawing = nil, false
		if len(s.Stone().Top) == 0 {
			s.Say(style.Good, "Outline of %d corners drawn, u undoes it. Now its thickness: g gives it all round.", len(corners))
		}
	}
	return err
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
	s.RefuseEdges(
		[][2]geometry.Vec2{edge(a), edge(b)},
		"Edge %s would cross edge %s: put the corner elsewhere.",
		name(a),
		name(b),
	)
	return errors.New(s.Status().Text)
}

// move moves what is selected, or the cursor.
func (v *View) move(s *view.State, by geometry.Vec2) {
	from, what := s.Cursor, "The cursor"
	to := edit.Tidy(from.Add(by))
	if t, is := selected(s); is && !v.sketching(s) {
		from, what = place(s, t), edit.Capital(called(t))
		to = edit.Tidy(from.Add(by))
		if v.put(s, t, to, s.Continue) != nil {
			return
		}
	}
	v.window().Bring(s, to)
	v.window().SayStep(s, what, from, to)
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
	edge := edit.NearestEdge(s.Stone().Outline, p)
	v.insert(s, fmt.Sprintf("Add corner %d", edge+2), edge, p)
}

// insert puts a corner at p into an edge and selects it.
func (v *View) insert(s *view.State, name string, edge int, p geometry.Vec2) error {
	wanted := slices.Insert(slices.Clone(s.Stone().Outline), edge+1, p)
	err := v.outline(s, name, wanted, func(st planner.Stone) (planner.Stone, error) {
		return planner.AddCorner(st, edge, p)
	})
	if err == nil {
		v.take(s, view.Selection{Kind: view.Corner, Index: edge + 1, Point: -1})
	}
	return err
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
	edit.LetGo(s)
	if things(s).Index(t) >= 0 {
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
