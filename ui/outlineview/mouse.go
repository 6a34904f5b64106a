package outlineview

import (
	"slices"

	tea "github.com/charmbracelet/bubbletea"

	"cabwright/geometry"
	"cabwright/planner"
	"cabwright/ui/edit"
	"cabwright/ui/style"
	"cabwright/ui/view"
)

// Mouse selects and moves corners and readings, bends edges, moves the window
// and, while an outline is drawn, sets its corners.
func (v *View) Mouse(s *view.State, m view.Mouse) tea.Cmd {
	v.size(m.Width, m.Height)
	switch {
	case v.cols == 0 && m.Kind == view.Press:
		v.pick(s, m.Row)
		return nil
	case v.cols == 0:
		return nil
	case s.Wheel(m, v.cols, v.rows):
		if m.Col >= v.cols {
			v.next(s, map[view.MouseKind]int{view.WheelUp: -1, view.WheelDown: 1}[m.Kind])
		}
		return nil
	}
	p := edit.FromPointer(s.Plane(v.cols, v.rows).At(v.cols, v.rows, m.Col, m.Row))
	switch m.Kind {
	case view.Press:
		if m.Col < v.cols && m.Row < v.rows {
			v.press(s, m, p)
		} else {
			v.pick(s, m.Row)
		}
	case view.Drag:
		v.drag.Follow(s, v.window(), m, p)
	case view.Release:
		v.release(s)
	case view.Cancel:
		v.drag = nil
		edit.LetGo(s)
		s.Say(style.Text, "Nothing selected.")
	}
	return nil
}

// pick selects the thing on a line of the list.
func (v *View) pick(s *view.State, row int) {
	all := things(s)
	if i := row - v.listRow + v.listTop; row >= v.listRow && row < v.listRow+v.listRows && i < len(all) {
		v.take(s, all[i])
	}
}

func (v *View) press(s *view.State, m view.Mouse, p geometry.Vec2) {
	v.drag = edit.Press(m, p)
	if v.sketching(s) {
		s.Cursor = p
		n := len(v.draft)
		v.set(s, p)
		if len(v.draft) > n {
			v.window().Doubt(s, p)
		}
		return
	}
	if t, ok := v.nearest(s, p); ok {
		v.take(s, t)
		v.drag.Thing = t
		return
	}
	s.Cursor = p
	edit.LetGo(s)
	if outline := s.Stone().Outline; len(outline) > 0 {
		edge := edit.NearestEdge(outline, p)
		on := edit.OnSegment(p, outline[edge], outline[(edge+1)%len(outline)])
		if v.window().Apart(s, p, on) <= 1 {
			v.drag.Edge = edge
		}
	}
}

// release makes the edit that the drag was about.
func (v *View) release(s *view.State) {
	d := v.drag
	v.drag = nil
	if !d.Moves() {
		return
	}
	switch {
	case things(s).Index(d.Thing) >= 0:
		if v.put(s, d.Thing, d.To, s.Do) == nil {
			v.window().Doubt(s, d.To)
		}
		s.Cursor = place(s, d.Thing)
	case d.Edge >= 0 && d.Edge < len(s.Stone().Outline):
		if v.insert(s, "Bend an edge", d.Edge, d.To) == nil {
			v.window().Doubt(s, d.To)
		}
	}
}

// shown returns the stone with the drag under way in it.
func (v *View) shown(s *view.State) planner.Stone {
	st := s.Stone()
	d := v.drag
	if !d.Moves() {
		return st
	}
	switch {
	case d.Thing.Kind == view.Corner && d.Thing.Index < len(st.Outline):
		st.Outline = slices.Clone(st.Outline)
		st.Outline[d.Thing.Index] = d.To
	case d.Thing.Kind == view.TopReading && d.Thing.Index < len(st.Top):
		st.Top = slices.Clone(st.Top)
		st.Top[d.Thing.Index].X, st.Top[d.Thing.Index].Y = d.To.X, d.To.Y
	case d.Thing.Kind == view.BaseReading && d.Thing.Index < len(st.Base):
		st.Base = slices.Clone(st.Base)
		st.Base[d.Thing.Index].X, st.Base[d.Thing.Index].Y = d.To.X, d.To.Y
	case d.Edge >= 0 && d.Edge < len(st.Outline):
		st.Outline = slices.Insert(slices.Clone(st.Outline), d.Edge+1, d.To)
	}
	return st
}
