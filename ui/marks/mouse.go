package marks

import (
	"slices"

	tea "github.com/charmbracelet/bubbletea"

	"cabwright/geometry"
	"cabwright/planner"
	"cabwright/ui/edit"
	"cabwright/ui/style"
	"cabwright/ui/view"
)

// Mouse picks from the list, selects and moves marks and their points on either
// face, moves the window and, while a mark is drawn, sets its points.
func (v *View) Mouse(s *view.State, m view.Mouse) tea.Cmd {
	v.area = place(m.Width, m.Height, len(things(s.Stone())))
	a := v.area
	face, col, row, inDrawing := a.panel(m.Col, m.Row)
	switch {
	case m.Kind == view.Cancel:
		v.drag = nil
		v.letGo(s)
		s.Say(style.Text, "Let go.")
		return nil
	case inDrawing && (m.Kind == view.WheelUp || m.Kind == view.WheelDown):
		s.Face = face
		s.Wheel(view.Mouse{Kind: m.Kind, Col: col, Row: row}, a.cols, a.rows)
		return nil
	case m.Kind == view.WheelUp:
		v.next(s, -1)
		return nil
	case m.Kind == view.WheelDown:
		v.next(s, 1)
		return nil
	case m.Kind == view.Release:
		v.release(s)
		return nil
	case m.Kind == view.Press && !inDrawing:
		v.pick(s, m)
		return nil
	case m.Kind == view.Press:
		s.Face = face
	case v.drag == nil:
		return nil
	default:
		// A drag that leaves its panel goes on in the panel's own measure.
		col, row = a.within(s.Face, m.Col, m.Row)
	}
	p := edit.FromPointer(s.Plane(a.cols, a.rows).At(a.cols, a.rows, col, row))
	if m.Kind == view.Press {
		v.press(s, m, p)
	} else {
		v.drag.Follow(s, v.window(), m, p)
	}
	return nil
}

// pick selects the mark whose line of the list was clicked.
func (v *View) pick(s *view.State, m view.Mouse) {
	// The first line of the list is its heading.
	if i := m.Row - v.area.listRow - 1; i >= 0 && i < len(v.listed) {
		v.take(s, v.listed[i])
	}
}

func (v *View) press(s *view.State, m view.Mouse, p geometry.Vec2) {
	v.drag = edit.Press(m, p)
	s.Cursor = p
	if v.drawing != view.Nothing {
		n := len(v.draft)
		v.set(s, p)
		if len(v.draft) > n {
			v.window().Doubt(s, p)
		}
		return
	}
	t, ok := v.nearest(s, p)
	if !ok {
		edit.LetGo(s)
		return
	}
	s.Selected, v.drag.Thing = t, t
}

// nearest returns the point of the selected mark, or else the mark, that is drawn
// within one cell of p: those of the face looked at come first.
func (v *View) nearest(s *view.State, p geometry.Vec2) (view.Selection, bool) {
	st := s.Stone()
	now, is := selected(s)
	var shapes []edit.Shape
	for _, t := range things(st) {
		f := faceOf(st, t)
		shapes = append(shapes, edit.Shape{
			Thing: t, Points: points(st, t), Closed: closed(t.Kind),
			Apart: is && t == edit.Whole(now), Behind: f != s.Face && f != planner.Through,
		})
	}
	return edit.Nearest(s, v.window(), p, shapes)
}

// release makes the edit that the drag was about.
func (v *View) release(s *view.State) {
	d := v.drag
	v.drag = nil
	if !d.Moves() || things(s.Stone()).Index(d.Thing) < 0 {
		return
	}
	if v.shift(s, d.Thing, edit.Tidy(d.To.Sub(grabbed(s, d))), s.Do) == nil {
		if d.Thing.Point >= 0 {
			v.window().Doubt(s, d.To)
		}
		v.warnLeaves(s, d.Thing)
	}
}

// grabbed is the place that follows the pointer: a point itself, or where a mark
// was taken hold of.
func grabbed(s *view.State, d *edit.Drag) geometry.Vec2 {
	if pts := points(s.Stone(), d.Thing); d.Thing.Point >= 0 && d.Thing.Point < len(pts) {
		return pts[d.Thing.Point]
	}
	return d.From
}

// shown returns the stone with the drag under way in it.
func (v *View) shown(s *view.State) planner.Stone {
	st := s.Stone()
	d := v.drag
	if !d.Moves() || things(st).Index(d.Thing) < 0 {
		return st
	}
	by := d.To.Sub(grabbed(s, d))
	pts := slices.Clone(points(st, d.Thing))
	for i := range pts {
		if d.Thing.Point < 0 || i == d.Thing.Point {
			pts[i] = pts[i].Add(by)
		}
	}
	switch d.Thing.Kind {
	case view.Crack:
		st.Cracks = slices.Clone(st.Cracks)
		st.Cracks[d.Thing.Index].Path = pts
	case view.Pocket:
		st.Pockets = slices.Clone(st.Pockets)
		st.Pockets[d.Thing.Index].Outline = pts
	case view.Zone:
		st.Colour = slices.Clone(st.Colour)
		st.Colour[d.Thing.Index].Outline = pts
	}
	return st
}
