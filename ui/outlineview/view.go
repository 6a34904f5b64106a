package outlineview

import (
	"fmt"

	tea "github.com/charmbracelet/bubbletea"

	"cabwright/geometry"
	"cabwright/planner"
	"cabwright/ui/edit"
	"cabwright/ui/view"
)

// View is the outline view.
type View struct {
	draft   edit.Draft // the corners of an outline being drawn anew
	drawing bool
	drag    *edit.Drag
	moves   planner.Face // the face that a thickness moves; "" before it was asked
	cols    int          // of the drawing, as last rendered
	rows    int

	listRow  int // of the view: the first line of the list to pick from
	listRows int // its lines; 0 when it is not shown
	listTop  int // the first thing shown in it
}

// New returns the view.
func New() *View { return &View{cols: 52, rows: 21} }

// Name stands on the title line.
func (v *View) Name() string { return "Outline" }

// Update takes messages; this view waits for none.
func (v *View) Update(*view.State, tea.Msg) tea.Cmd { return nil }

// sketching reports whether corners of a new outline are being set: always while
// the stone has none.
func (v *View) sketching(s *view.State) bool { return v.drawing || len(s.Stone().Outline) == 0 }

// readingKind returns how the readings of the face looked at are selected.
func readingKind(s *view.State) view.Kind {
	if s.Face == planner.Base {
		return view.BaseReading
	}
	return view.TopReading
}

// face returns the face a reading is on.
func face(k view.Kind) planner.Face {
	if k == view.BaseReading {
		return planner.Base
	}
	return planner.Top
}

// things returns what can be selected here: the corners, then the readings of
// the face looked at.
func things(s *view.State) edit.Things {
	return edit.Things{}.Add(view.Corner, len(s.Stone().Outline)).Add(readingKind(s), len(s.Stone().Readings(s.Face)))
}

// selected returns what is selected, when it is something of this view and there
// still is such a one.
func selected(s *view.State) (view.Selection, bool) {
	if things(s).Index(s.Selected) < 0 || s.Selected.Point >= 0 {
		return view.Selection{}, false
	}
	return s.Selected, true
}

// place returns where a thing is in plan.
func place(s *view.State, t view.Selection) geometry.Vec2 {
	if t.Kind == view.Corner {
		return s.Stone().Outline[t.Index]
	}
	return s.Stone().Readings(face(t.Kind))[t.Index].XY()
}

// called returns what a thing is called: "corner 3", "top reading 2".
func called(t view.Selection) string {
	switch t.Kind {
	case view.Corner:
		return fmt.Sprintf("corner %d", t.Index+1)
	case view.TopReading:
		return fmt.Sprintf("top reading %d", t.Index+1)
	default:
		return fmt.Sprintf("base reading %d", t.Index+1)
	}
}

// window is the drawing the hands work in.
func (v *View) window() edit.Window { return edit.Window{Cols: v.cols, Rows: v.rows} }

// next selects the next thing and brings the cursor to it.
func (v *View) next(s *view.State, step int) {
	if t, ok := things(s).Beside(s.Selected, step); ok {
		v.take(s, t)
	}
}

// take selects a thing and brings the cursor to it.
func (v *View) take(s *view.State, t view.Selection) {
	s.Selected = t
	v.window().Bring(s, place(s, t))
}

// nearest returns the thing that is drawn nearest to a point, within one cell.
func (v *View) nearest(s *view.State, p geometry.Vec2) (view.Selection, bool) {
	var shapes []edit.Shape
	for _, t := range things(s) {
		shapes = append(shapes, edit.Shape{Thing: t, Points: []geometry.Vec2{place(s, t)}})
	}
	return edit.Nearest(s, v.window(), p, shapes)
}
