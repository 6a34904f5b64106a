package marks

import (
	"cabwright/geometry"
	"cabwright/planner"
	"cabwright/ui/canvas"
	"cabwright/ui/drawing"
	"cabwright/ui/style"
	"cabwright/ui/view"
)

// area says where things are: two panels of cols x rows cells side by side with
// a line of words over each, and the list below them. On a small screen there
// is the list alone.
type area struct {
	cols, rows int // of one panel
	listRow    int
	wide       int // of the list
	lines      int // of the list, its heading included
}

// place shares out a view of so many cells for a stone with n marks.
func place(width, height, n int) area {
	if width < 60 {
		return area{wide: width, lines: height}
	}
	lines := max(4, min(height/3, max(n+1, 7)))
	rows := max(0, height-1-lines)
	return area{cols: (width - 1) / 2, rows: rows, listRow: rows + 1, wide: width, lines: lines}
}

// panel returns the face whose panel holds a cell of the view, and the cell of
// the panel.
func (a area) panel(col, row int) (face planner.Face, c, r int, ok bool) {
	if a.cols == 0 || row < 1 || row > a.rows || col > 2*a.cols || col == a.cols {
		return "", 0, 0, false
	}
	if col < a.cols {
		return planner.Top, col, row - 1, true
	}
	return planner.Base, col - a.cols - 1, row - 1, true
}

// within is the cell of a face's panel, which may lie outside it.
func (a area) within(face planner.Face, col, row int) (c, r int) {
	if face == planner.Base {
		col -= a.cols + 1
	}
	return col, row - 1
}

// Render draws both faces and the list.
func (v *View) Render(s *view.State, width, height int) []string {
	v.area = place(width, height, len(things(s.Stone())))
	a := v.area
	list := v.list(s)
	if a.cols == 0 {
		return list[:min(len(list), height)]
	}
	var panels [2][]string
	for i, f := range faces {
		panels[i] = append([]string{v.over(s, f)}, v.draw(s, f)...)
	}
	out := append(view.Beside(panels[0], a.cols, panels[1]), list...)
	return out[:min(len(out), height)]
}

// over is the line over a panel.
func (v *View) over(s *view.State, f planner.Face) string {
	text := "Top, seen from above"
	if f == planner.Base {
		text = "Base, the stone turned over"
	}
	if f == s.Face {
		return s.Style.Paint(style.Selected, "▸ "+text)
	}
	return s.Style.Paint(style.Faint, "  "+text)
}

// draw draws one face.
func (v *View) draw(s *view.State, f planner.Face) []string {
	a := v.area
	c := canvas.New(a.cols, a.rows, s.Glyphs)
	c.SetView(s.PlaneOf(f, a.cols, a.rows))
	st := v.shown(s)
	t, is := selected(s)
	scene := s.Scene()
	scene.Stone, scene.Face, scene.Ghost = st, f, s.Best()
	if is {
		scene.Chosen = id(st, t)
	}
	if is && v.drawing == view.Nothing {
		for i, p := range points(st, t) {
			spot := drawing.Spot{At: p, Mark: v.mark(s, p), Class: canvas.Chosen}
			if i == t.Point {
				spot.Mark = canvas.ChosenMark
			}
			scene.Spots = append(scene.Spots, spot)
		}
	}
	if v.drawing != view.Nothing && f == s.Face {
		scene.Over = func(c *canvas.Canvas) { v.drawDraft(c, s) }
		for _, p := range v.draft {
			scene.Spots = append(scene.Spots, drawing.Spot{At: p, Mark: v.mark(s, p), Class: canvas.Chosen})
		}
	}
	if f == s.Face && (!is || t.Point < 0) {
		scene.Spots = append(scene.Spots, drawing.Spot{At: s.Cursor, Mark: canvas.CursorMark, Class: canvas.Cursor})
	}
	drawing.Plan(c, scene)
	return c.Lines(s.Style.Canvas)
}

// mark is how a point is shown: one set by mouse shows that it is not exact.
func (v *View) mark(s *view.State, p geometry.Vec2) canvas.Mark {
	if _, doubtful := s.Doubtful[p]; doubtful {
		return canvas.DoubtfulMark
	}
	return canvas.CornerMark
}

func (v *View) drawDraft(c *canvas.Canvas, s *view.State) {
	if len(v.draft) == 0 {
		return
	}
	stroke := canvas.Solid
	if v.drawing == view.Crack {
		stroke = canvas.Dashed
	}
	c.Polyline(v.draft, false, canvas.Pen{Class: canvas.Chosen, Stroke: stroke})
	c.Line(v.draft[len(v.draft)-1], s.Cursor, canvas.Pen{Class: canvas.Chosen, Stroke: canvas.Dotted})
}

// Pointed returns the place the cursor points at.
func (v *View) Pointed(s *view.State) (geometry.Vec2, bool) { return s.Cursor, true }
