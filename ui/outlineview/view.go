// Package outlineview is view 1: the rough's outline and the heights read on its
// two faces, drawn, moved, typed and measured.
package outlineview

import (
	"fmt"

	tea "github.com/charmbracelet/bubbletea"

	"cabwright/geometry"
	"cabwright/planner"
	"cabwright/ui/view"
)

// View is the outline view.
type View struct {
	draft   []geometry.Vec2 // the corners of an outline being drawn anew
	drawing bool
	drag    *drag
	cols    int // of the drawing, as last rendered
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
func things(s *view.State) []view.Selection {
	var out []view.Selection
	for i := range s.Stone().Outline {
		out = append(out, view.Selection{Kind: view.Corner, Index: i, Point: -1})
	}
	for i := range s.Stone().Readings(s.Face) {
		out = append(out, view.Selection{Kind: readingKind(s), Index: i, Point: -1})
	}
	return out
}

// selected returns what is selected, when it is something of this view and there
// still is such a one.
func selected(s *view.State) (view.Selection, bool) {
	for _, t := range things(s) {
		if t == s.Selected {
			return t, true
		}
	}
	return view.Selection{}, false
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

// next selects the next thing and brings the cursor to it.
func (v *View) next(s *view.State, step int) {
	all := things(s)
	if len(all) == 0 {
		return
	}
	at := -1
	for i, t := range all {
		if t == s.Selected {
			at = i
		}
	}
	if at < 0 && step < 0 {
		at = 0
	}
	v.take(s, all[(at+step+len(all))%len(all)])
}

// take selects a thing and brings the cursor to it.
func (v *View) take(s *view.State, t view.Selection) {
	s.Selected = t
	s.Cursor = place(s, t)
	s.KeepInSight(s.Cursor, v.cols, v.rows)
}

// nearest returns the thing that is drawn nearest to a point, within one cell.
func (v *View) nearest(s *view.State, p geometry.Vec2) (view.Selection, bool) {
	best, least := view.Selection{}, 1.0
	for _, t := range things(s) {
		if d := v.cells(s, p, place(s, t)); d <= least {
			best, least = t, d
		}
	}
	return best, best.Kind != view.Nothing
}

// cells returns how far apart two points are drawn, in cells: the larger of
// their distances across and down.
func (v *View) cells(s *view.State, p, q geometry.Vec2) float64 {
	plane := s.Plane(v.cols, v.rows)
	pc, pr := plane.Cell(v.cols, v.rows, p)
	qc, qr := plane.Cell(v.cols, v.rows, q)
	return max(abs(pc-qc), abs(pr-qr))
}

func abs(x float64) float64 { return max(x, -x) }
