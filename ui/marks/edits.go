package marks

import (
	"slices"

	"cabwright/geometry"
	"cabwright/planner"
	"cabwright/ui/edit"
	"cabwright/ui/style"
	"cabwright/ui/view"
)

// begin starts to draw a mark on the face that is looked at. Points left from an
// earlier start of the same kind are taken up again.
func (v *View) begin(s *view.State, kind view.Kind) {
	if v.drawing != kind && kind != v.lastKind {
		v.draft = nil
	}
	v.drawing, v.lastKind = kind, kind
	edit.LetGo(s)
	s.Say(
		style.Text,
		"A %s on the %s: enter or a click sets each point, c when done, f for the other face.",
		kindName(kind),
		s.Face,
	)
}

// sketch says what the draft is to become.
func (v *View) sketch() edit.Drawing {
	return edit.Drawing{Point: "point", Least: least(v.drawing), Closed: closed(v.drawing)}
}

// set puts a point of the mark being drawn; an outline closes on its first one.
func (v *View) set(s *view.State, p geometry.Vec2) {
	if v.draft.Closes(s, v.window(), v.sketch(), p) {
		v.finish(s)
		return
	}
	// What is wrong with the point stands in the status line.
	_ = v.draft.Put(s, v.sketch(), p)
}

// finish asks for the rest of what has been drawn.
func (v *View) finish(s *view.State) {
	switch v.drawing {
	case view.Crack:
		askCrack(s, "A new crack", v.newCrack(s), func(k planner.Crack) error {
			return v.add(
				s,
				"Add a crack",
				view.Crack,
				func(st planner.Stone) (planner.Stone, error) { return planner.AddCrack(st, k) },
			)
		})
	case view.Pocket:
		askPocket(s, "A new pocket", planner.Pocket{Outline: v.draft, Face: s.Face, Depth: 2}, func(p planner.Pocket) error {
			return v.add(
				s,
				"Add a pocket",
				view.Pocket,
				func(st planner.Stone) (planner.Stone, error) { return planner.AddPocket(st, p) },
			)
		})
	case view.Zone:
		askZone(s, "A new colour zone", planner.Zone{Outline: v.draft, Face: s.Face, Grade: 3}, func(z planner.Zone) error {
			return v.add(
				s,
				"Add a colour zone",
				view.Zone,
				func(st planner.Stone) (planner.Stone, error) { return planner.AddZone(st, z) },
			)
		})
	}
}

func (v *View) newCrack(s *view.State) planner.Crack {
	return planner.Crack{Path: v.draft, Face: s.Face, Depth: 3, RunOn: s.Presets.Allowances.RunOn}
}

// add adds a mark, ends the drawing of it and selects it.
func (v *View) add(s *view.State, name string, kind view.Kind, edit view.Edit) error {
	if err := s.Do(name, edit); err != nil {
		return err
	}
	v.draft, v.drawing, v.lastKind = nil, view.Nothing, view.Nothing
	for _, t := range things(s.Stone()) {
		if t.Kind == kind {
			s.Selected = t // the last of its kind is the new one
		}
	}
	v.warnLeaves(s, s.Selected)
	return nil
}

// move moves the selected point, or the whole mark, or the cursor.
func (v *View) move(s *view.State, by geometry.Vec2) {
	t, is := selected(s)
	if !is || v.drawing != view.Nothing {
		from := s.Cursor
		v.window().Bring(s, edit.Tidy(from.Add(by)))
		v.window().SayStep(s, "The cursor", from, s.Cursor)
		return
	}
	from := points(s.Stone(), t)[max(0, t.Point)]
	if v.shift(s, t, by, s.Continue) == nil {
		v.take(s, t)
		v.window().SayStep(s, edit.Capital(called(s.Stone(), t)), from, s.Cursor)
		v.warnLeaves(s, t)
	}
}

// shift moves a point or a whole mark. do is the State's Do or Continue.
func (v *View) shift(s *view.State, t view.Selection, by geometry.Vec2, do func(string, view.Edit) error) error {
	name := "Move " + called(s.Stone(), t)
	if t.Point < 0 {
		mark := id(s.Stone(), t)
		return do(name, func(st planner.Stone) (planner.Stone, error) { return planner.MoveMark(st, mark, by) })
	}
	pts := slices.Clone(points(s.Stone(), t))
	pts[t.Point] = edit.Tidy(pts[t.Point].Add(by))
	return v.replace(s, t, pts, name, do)
}

// replace gives a mark other points.
func (v *View) replace(
	s *view.State,
	t view.Selection,
	pts []geometry.Vec2,
	name string,
	do func(string, view.Edit) error,
) error {
	return do(name, func(st planner.Stone) (planner.Stone, error) { return withPoints(st, t, pts) })
}

func withPoints(st planner.Stone, t view.Selection, pts []geometry.Vec2) (planner.Stone, error) {
	switch t.Kind {
	case view.Crack:
		k := st.Cracks[t.Index]
		k.Path = pts
		return planner.ReplaceCrack(st, k.ID, k)
	case view.Pocket:
		p := st.Pockets[t.Index]
		p.Outline = pts
		return planner.ReplacePocket(st, p.ID, p)
	default:
		z := st.Colour[t.Index]
		z.Outline = pts
		return planner.ReplaceZone(st, z.ID, z)
	}
}

// addPoint puts a point into the middle of the edge after the selected point, or
// of the longest edge when none is selected.
func (v *View) addPoint(s *view.State, t view.Selection) {
	pts := points(s.Stone(), t)
	edge, longest := t.Point, 0.0
	if n := edit.Edges(pts, closed(t.Kind)); edge < 0 || edge >= n {
		for i := range n {
			if d := pts[(i+1)%len(pts)].Sub(pts[i]).Norm(); d > longest {
				edge, longest = i, d
			}
		}
	}
	middle := edit.Tidy(pts[edge].Add(pts[(edge+1)%len(pts)]).Scale(0.5))
	pts = slices.Insert(slices.Clone(pts), edge+1, middle)
	if v.replace(s, t, pts, "Add a point to "+called(s.Stone(), edit.Whole(t)), s.Do) == nil {
		t.Point = edge + 1
		v.take(s, t)
	}
}

// remove deletes the selected point, or the whole mark.
func (v *View) remove(s *view.State, t view.Selection) {
	name := "Delete " + called(s.Stone(), t)
	if t.Point < 0 {
		mark := id(s.Stone(), t)
		if s.Do(name, func(st planner.Stone) (planner.Stone, error) { return planner.DeleteMark(st, mark) }) == nil {
			edit.LetGo(s)
		}
		return
	}
	pts := points(s.Stone(), t)
	if len(pts) <= least(t.Kind) {
		s.Say(
			style.Warn,
			"A %s keeps at least %d points: esc lets go of the point, then d deletes the whole.",
			kindName(t.Kind),
			least(t.Kind),
		)
		return
	}
	if v.replace(s, t, slices.Delete(slices.Clone(pts), t.Point, t.Point+1), name, s.Do) == nil {
		t.Point = max(0, t.Point-1)
		s.Selected = t
		s.Cursor = points(s.Stone(), t)[t.Point]
	}
}
