package marks

import (
	"math"
	"slices"

	tea "github.com/charmbracelet/bubbletea"

	"cabwright/geometry"
	"cabwright/planner"
	"cabwright/ui/style"
	"cabwright/ui/view"
)

// drag is the mouse moving something with its button down. Until it is let go
// the stone stays as it is and only the drawing shows where it would go.
type drag struct {
	thing    view.Selection // nothing: the window is moved over the stone
	from, to geometry.Vec2
	moved    bool
	col, row int
}

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
	p := round(s.Plane(a.cols, a.rows).At(a.cols, a.rows, col, row))
	if m.Kind == view.Press {
		v.press(s, p, m.Col, m.Row)
	} else {
		v.dragged(s, p, m.Col, m.Row)
	}
	return nil
}

// round brings a place from the mouse to a hundredth of a millimetre: a cell is
// far coarser, and longer numbers would say otherwise.
func round(p geometry.Vec2) geometry.Vec2 {
	return geometry.Vec2{X: math.Round(p.X*100)/100 + 0, Y: math.Round(p.Y*100)/100 + 0}
}

// pick selects the mark whose line of the list was clicked.
func (v *View) pick(s *view.State, m view.Mouse) {
	all := things(s.Stone())
	if i := v.area.listed(m.Row) + v.top; i >= v.top && i < len(all) {
		v.take(s, all[i])
	}
}

func (v *View) press(s *view.State, p geometry.Vec2, col, row int) {
	v.drag = &drag{from: p, to: p, col: col, row: row}
	if v.drawing != view.Nothing {
		s.Cursor = p
		n := len(v.draft)
		v.set(s, p)
		if len(v.draft) > n {
			s.Doubtful[p] = s.Plane(v.area.cols, v.area.rows).Grain()
		}
		return
	}
	if t, ok := v.nearest(s, p); ok {
		s.Selected = t
		v.drag.thing = t
		s.Cursor = p
		return
	}
	s.Cursor = p
	s.Selected = view.Selection{Point: -1}
}

// nearest returns the point, or else the mark, that is drawn within one cell of p:
// those of the selected mark and of the face looked at come first.
func (v *View) nearest(s *view.State, p geometry.Vec2) (view.Selection, bool) {
	st := s.Stone()
	now, _ := selected(s)
	best, least := view.Selection{}, math.Inf(1)
	for _, t := range things(st) {
		pts := points(st, t)
		extra := 0.0
		if f := faceOf(st, t); f != s.Face && f != planner.Through {
			extra = 0.5 // half a cell: a mark of the other face gives way to one of this
		}
		mine := t.Kind == now.Kind && t.Index == now.Index
		for i := range edges(pts, closed(t.Kind)) {
			q := onSegment(p, pts[i], pts[(i+1)%len(pts)])
			if d := v.cells(s, p, q) + extra; d <= 1 && d < least {
				best, least = t, d
			}
		}
		for i, q := range pts {
			if d := v.cells(s, p, q) + extra; mine && d <= 1 && d < least+0.25 { // a corner is on its edges too
				best, least = view.Selection{Kind: t.Kind, Index: t.Index, Point: i}, d
			}
		}
	}
	return best, best.Kind != view.Nothing
}

// onSegment returns the point of the segment ab that is nearest to p.
func onSegment(p, a, b geometry.Vec2) geometry.Vec2 {
	d := b.Sub(a)
	t := 0.0
	if l := d.Dot(d); l > 0 {
		t = max(0, min(1, p.Sub(a).Dot(d)/l))
	}
	return a.Add(d.Scale(t))
}

// cells returns how far apart two points are drawn, in cells: the larger of
// their distances across and down.
func (v *View) cells(s *view.State, p, q geometry.Vec2) float64 {
	plane := s.Plane(v.area.cols, v.area.rows)
	pc, pr := plane.Cell(v.area.cols, v.area.rows, p)
	qc, qr := plane.Cell(v.area.cols, v.area.rows, q)
	return max(math.Abs(pc-qc), math.Abs(pr-qr))
}

func (v *View) dragged(s *view.State, p geometry.Vec2, col, row int) {
	d := v.drag
	if col == d.col && row == d.row && !d.moved {
		return
	}
	if d.thing.Kind == view.Nothing {
		s.Pan(float64(d.col-col), float64(d.row-row), v.area.cols, v.area.rows)
		d.col, d.row, d.moved = col, row, true
		return
	}
	d.to, d.moved = p, true
	s.Cursor = p
}

// release makes the edit that the drag was about.
func (v *View) release(s *view.State) {
	d := v.drag
	v.drag = nil
	if d == nil || !d.moved || d.thing.Kind == view.Nothing {
		return
	}
	whole := d.thing
	whole.Point = -1
	if !slices.Contains(things(s.Stone()), whole) {
		return
	}
	if v.shift(s, d.thing, tidy(d.to.Sub(d.grip(s))), s.Do) == nil {
		if d.thing.Point >= 0 {
			s.Doubtful[d.to] = s.Plane(v.area.cols, v.area.rows).Grain()
		}
		v.warnLeaves(s, d.thing)
	}
}

// grip is the place that follows the pointer: a point itself, or where a mark
// was taken hold of.
func (d *drag) grip(s *view.State) geometry.Vec2 {
	if pts := points(s.Stone(), d.thing); d.thing.Point >= 0 && d.thing.Point < len(pts) {
		return pts[d.thing.Point]
	}
	return d.from
}

// shown returns the stone with the drag under way in it.
func (v *View) shown(s *view.State) planner.Stone {
	st := s.Stone()
	d := v.drag
	if d == nil || !d.moved || d.thing.Kind == view.Nothing {
		return st
	}
	whole := d.thing
	whole.Point = -1
	if !slices.Contains(things(st), whole) {
		return st
	}
	by := d.to.Sub(d.grip(s))
	pts := slices.Clone(points(st, d.thing))
	for i := range pts {
		if d.thing.Point < 0 || i == d.thing.Point {
			pts[i] = pts[i].Add(by)
		}
	}
	switch d.thing.Kind {
	case view.Crack:
		st.Cracks = slices.Clone(st.Cracks)
		st.Cracks[d.thing.Index].Path = pts
	case view.Pocket:
		st.Pockets = slices.Clone(st.Pockets)
		st.Pockets[d.thing.Index].Outline = pts
	case view.Zone:
		st.Colour = slices.Clone(st.Colour)
		st.Colour[d.thing.Index].Outline = pts
	}
	return st
}
