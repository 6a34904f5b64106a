package outlineview

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
	edge     int            // the edge a new corner is pulled out of, or -1
	to       geometry.Vec2
	moved    bool
	col, row int
}

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
	p := round(s.Plane(v.cols, v.rows).At(v.cols, v.rows, m.Col, m.Row))
	switch m.Kind {
	case view.Press:
		if m.Col < v.cols && m.Row < v.rows {
			v.press(s, m, p)
		} else {
			v.pick(s, m.Row)
		}
	case view.Drag:
		v.dragged(s, m, p)
	case view.Release:
		v.release(s)
	case view.Cancel:
		v.drag = nil
		s.Selected = view.Selection{Point: -1}
		s.Say(style.Text, "Nothing selected.")
	}
	return nil
}

// round brings a place from the mouse to a hundredth of a millimetre: a cell is
// far coarser, and longer numbers would say otherwise.
func round(p geometry.Vec2) geometry.Vec2 {
	return geometry.Vec2{X: math.Round(p.X*100)/100 + 0, Y: math.Round(p.Y*100)/100 + 0}
}

// pick selects the thing on a line of the list.
func (v *View) pick(s *view.State, row int) {
	all := things(s)
	if i := row - v.listRow + v.listTop; row >= v.listRow && row < v.listRow+v.listRows && i < len(all) {
		v.take(s, all[i])
	}
}

func (v *View) press(s *view.State, m view.Mouse, p geometry.Vec2) {
	v.drag = &drag{edge: -1, to: p, col: m.Col, row: m.Row}
	if v.sketching(s) {
		s.Cursor = p
		n := len(v.draft)
		v.set(s, p)
		if len(v.draft) > n {
			v.doubt(s, p)
		}
		return
	}
	if t, ok := v.nearest(s, p); ok {
		v.take(s, t)
		v.drag.thing = t
		return
	}
	s.Cursor = p
	s.Selected = view.Selection{Point: -1}
	if outline := s.Stone().Outline; len(outline) > 0 {
		edge := nearestEdge(outline, p)
		if v.cells(s, p, onEdge(outline, edge, p)) <= 1 {
			v.drag.edge = edge
		}
	}
}

// onEdge returns the point of an edge that is nearest to p.
func onEdge(outline []geometry.Vec2, edge int, p geometry.Vec2) geometry.Vec2 {
	a, b := outline[edge], outline[(edge+1)%len(outline)]
	d := b.Sub(a)
	t := max(0, min(1, p.Sub(a).Dot(d)/d.Dot(d)))
	return a.Add(d.Scale(t))
}

// doubt notes how far a point set by mouse can be off.
func (v *View) doubt(s *view.State, p geometry.Vec2) {
	s.Doubtful[p] = s.Plane(v.cols, v.rows).Grain()
}

func (v *View) dragged(s *view.State, m view.Mouse, p geometry.Vec2) {
	d := v.drag
	if d == nil || m.Col == d.col && m.Row == d.row && !d.moved {
		return
	}
	if d.thing.Kind == view.Nothing && d.edge < 0 {
		s.Pan(float64(d.col-m.Col), float64(d.row-m.Row), v.cols, v.rows)
		d.col, d.row, d.moved = m.Col, m.Row, true
		return
	}
	d.to, d.moved = p, true
	s.Cursor = p
}

// release makes the edit that the drag was about.
func (v *View) release(s *view.State) {
	d := v.drag
	v.drag = nil
	if d == nil || !d.moved {
		return
	}
	switch {
	case d.thing.Kind != view.Nothing && slices.Contains(things(s), d.thing):
		if v.put(s, d.thing, d.to, s.Do) == nil {
			v.doubt(s, d.to)
		}
		s.Cursor = place(s, d.thing)
	case d.edge >= 0 && d.edge < len(s.Stone().Outline):
		v.addCornerAt(s, d.edge, d.to)
	}
}

// addCornerAt pulls a corner out of an edge.
func (v *View) addCornerAt(s *view.State, edge int, p geometry.Vec2) {
	wanted := slices.Insert(slices.Clone(s.Stone().Outline), edge+1, p)
	if v.outline(s, "Bend an edge", wanted, func(st planner.Stone) (planner.Stone, error) {
		return planner.AddCorner(st, edge, p)
	}) == nil {
		v.take(s, view.Selection{Kind: view.Corner, Index: edge + 1, Point: -1})
		v.doubt(s, p)
	}
}

// shown returns the stone with the drag under way in it.
func (v *View) shown(s *view.State) planner.Stone {
	st := s.Stone()
	d := v.drag
	if d == nil || !d.moved {
		return st
	}
	switch {
	case d.thing.Kind == view.Corner && d.thing.Index < len(st.Outline):
		st.Outline = slices.Clone(st.Outline)
		st.Outline[d.thing.Index] = d.to
	case d.thing.Kind == view.TopReading && d.thing.Index < len(st.Top):
		st.Top = slices.Clone(st.Top)
		st.Top[d.thing.Index].X, st.Top[d.thing.Index].Y = d.to.X, d.to.Y
	case d.thing.Kind == view.BaseReading && d.thing.Index < len(st.Base):
		st.Base = slices.Clone(st.Base)
		st.Base[d.thing.Index].X, st.Base[d.thing.Index].Y = d.to.X, d.to.Y
	case d.edge >= 0 && d.edge < len(st.Outline):
		st.Outline = slices.Insert(slices.Clone(st.Outline), d.edge+1, d.to)
	}
	return st
}
