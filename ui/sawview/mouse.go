package sawview

import (
	"math"

	tea "github.com/charmbracelet/bubbletea"

	"cabwright/geometry"
	"cabwright/planner"
	"cabwright/planner/cuts"
	"cabwright/planner/search"
	"cabwright/ui/view"
)

// drag is a cut that follows the pointer.
type drag struct {
	from, to geometry.Vec2
	moved    bool
}

// Mouse chooses the cut near the pointer and moves it.
func (v *View) Mouse(s *view.State, m view.Mouse) tea.Cmd {
	cols, _ := view.Columns(m.Width)
	rows := planRows(m.Height)
	at := v.plane(s, cols, rows).At(cols, rows, m.Col, m.Row)
	switch {
	case m.Kind == view.Cancel:
		v.drag = nil
	case m.Kind == view.Press && m.Col < cols && m.Row < rows:
		s.Cursor = at
		if i, ok := v.nearest(s, at, cols, rows); ok {
			v.at, v.drag = i, &drag{from: at, to: at}
		}
	case m.Kind == view.Press && m.Col >= cols:
		if i, ok := v.listed(s, m.Row); ok {
			v.at = i
		}
	case m.Kind == view.Drag && v.drag != nil:
		v.drag.to, v.drag.moved = at, true
	case m.Kind == view.Release:
		if d := v.drag; d != nil && d.moved {
			v.drag = nil
			v.move(s, d.to.Sub(d.from))
		}
		v.drag = nil
	}
	return nil
}

// nearest returns the cut whose trace runs within a cell of a place.
func (v *View) nearest(s *view.State, p geometry.Vec2, cols, rows int) (int, bool) {
	grain := v.plane(s, cols, rows).Grain()
	reach := 2 * math.Max(grain.X, grain.Y)
	best, ok := 0, false
	for i, k := range v.kept(s) {
		plane := planeOf(k)
		flat := math.Hypot(plane.Normal.X, plane.Normal.Y)
		if flat < 0.2 {
			continue
		}
		d := math.Abs(plane.Height(geometry.Vec3{X: p.X, Y: p.Y, Z: k.Point.Z})) / flat
		if d < reach {
			reach, best, ok = d, i, true
		}
	}
	return best, ok
}

// drawn returns the cuts with the drag under way in them.
func (v *View) drawn(s *view.State) []planner.Cut {
	all := v.kept(s)
	if v.drag == nil || !v.drag.moved || v.at >= len(all) {
		return all
	}
	out := append([]planner.Cut(nil), all...)
	by := v.drag.to.Sub(v.drag.from)
	p := planeOf(out[v.at])
	p = p.Moved(geometry.Vec3{X: by.X, Y: by.Y}.Dot(p.Normal))
	out[v.at].Point, out[v.at].Normal = p.Point, p.Normal
	return out
}

// room is how much is left between the chosen cut, as it is dragged, and the
// stones, beyond skin and kerf.
func (v *View) room(s *view.State, k planner.Cut) float64 {
	least := math.Inf(1)
	for _, f := range v.fits(s) {
		least = math.Min(least, roomBeside(s, k, f))
	}
	return least
}

// roomBeside is room for one stone.
func roomBeside(s *view.State, k planner.Cut, f search.Fit) float64 {
	c, skin := cuts.Cut{Plane: planeOf(k), Kerf: k.Kerf}, s.Stone().Allowances.Skin
	return math.Max(c.Room(f, 1, skin), c.Room(f, -1, skin))
}
