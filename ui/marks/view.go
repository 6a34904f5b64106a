package marks

import (
	"fmt"

	tea "github.com/charmbracelet/bubbletea"

	"cabwright/geometry"
	"cabwright/planner"
	"cabwright/ui/edit"
	"cabwright/ui/view"
)

// View is the view of cracks and pockets.
type View struct {
	drawing  view.Kind  // what is being drawn: Crack, Pocket, Zone, or Nothing
	draft    edit.Draft // its points so far, or those left for later
	lastKind view.Kind  // what those are of
	drag     *edit.Drag
	area     area
	top      int              // first mark of the list that is shown
	listed   []view.Selection // the mark at each line of the list below its heading
}

// New returns the view.
func New() *View { return &View{area: place(80, 21, 0)} }

// Name stands on the title line.
func (v *View) Name() string { return "Cracks & pockets" }

// Update takes messages; this view waits for none.
func (v *View) Update(*view.State, tea.Msg) tea.Cmd { return nil }

// faces are drawn from left to right in this order.
var faces = [2]planner.Face{planner.Top, planner.Base}

// things returns all marks in the order of the list.
func things(st planner.Stone) edit.Things {
	return edit.Things{}.Add(view.Crack, len(st.Cracks)).Add(view.Pocket, len(st.Pockets)).Add(view.Zone, len(st.Colour))
}

// selected returns the selected mark, when there still is such a one.
func selected(s *view.State) (view.Selection, bool) {
	t := s.Selected
	if things(s.Stone()).Index(t) < 0 {
		return view.Selection{Point: -1}, false
	}
	if t.Point >= len(points(s.Stone(), t)) {
		t.Point = -1
	}
	return t, true
}

// points returns the path or the outline of a mark.
func points(st planner.Stone, t view.Selection) []geometry.Vec2 {
	switch t.Kind {
	case view.Crack:
		return st.Cracks[t.Index].Path
	case view.Pocket:
		return st.Pockets[t.Index].Outline
	default:
		return st.Colour[t.Index].Outline
	}
}

// closed reports whether a kind of mark is an outline.
func closed(k view.Kind) bool { return k != view.Crack }

// id returns a mark's id.
func id(st planner.Stone, t view.Selection) string {
	switch t.Kind {
	case view.Crack:
		return st.Cracks[t.Index].ID
	case view.Pocket:
		return st.Pockets[t.Index].ID
	default:
		return st.Colour[t.Index].ID
	}
}

// kindName returns what a kind of mark is called.
func kindName(k view.Kind) string {
	switch k {
	case view.Crack:
		return "crack"
	case view.Pocket:
		return "pocket"
	default:
		return "colour zone"
	}
}

// called returns what a selection is called: "crack C1", "point 2 of crack C1".
func called(st planner.Stone, t view.Selection) string {
	name := kindName(t.Kind) + " " + planner.Visible(id(st, t))
	if t.Point >= 0 {
		return fmt.Sprintf("point %d of %s", t.Point+1, name)
	}
	return name
}

// window is the drawing the hands work in: the panel of the face looked at.
func (v *View) window() edit.Window { return edit.Window{Cols: v.area.cols, Rows: v.area.rows} }

// next selects the next mark.
func (v *View) next(s *view.State, step int) {
	if t, ok := things(s.Stone()).Beside(s.Selected, step); ok {
		v.take(s, t)
	}
}

// nextPoint selects the next point of the selected mark.
func (v *View) nextPoint(s *view.State, step int) {
	t, is := selected(s)
	if !is {
		return
	}
	n := len(points(s.Stone(), t))
	if t.Point < 0 && step < 0 {
		t.Point = 0
	}
	t.Point = (t.Point + step + n) % n
	v.take(s, t)
}

// take selects a mark or one of its points, brings the cursor to it, and looks
// at the face it is on.
func (v *View) take(s *view.State, t view.Selection) {
	s.Selected = t
	pts := points(s.Stone(), t)
	if f := faceOf(s.Stone(), t); f == planner.Top || f == planner.Base {
		s.Face = f
	}
	v.window().Bring(s, pts[max(0, t.Point)])
}

// faceOf returns the face a mark is on; of a pocket also Through and Inside.
func faceOf(st planner.Stone, t view.Selection) planner.Face {
	switch t.Kind {
	case view.Crack:
		return st.Cracks[t.Index].Face
	case view.Pocket:
		return st.Pockets[t.Index].Face
	default:
		return st.Colour[t.Index].Face
	}
}
