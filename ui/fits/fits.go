package fits

import (
	tea "github.com/charmbracelet/bubbletea"

	"cabwright/geometry"
	"cabwright/planner/search"
	"cabwright/ui/drawing"
	"cabwright/ui/style"
	"cabwright/ui/view"
)

// mode is what the view shows.
type mode int

const (
	alone   mode = iota // one fit, the list and its figures
	beside              // fits beside each other
	reasons             // why others cannot fit
)

// View is the view of the fits; New makes one.
type View struct {
	mode   mode
	filter filter
	ready  ready // the ready comparison that is open
	at     int   // row in the reasons
	hand   hand

	cols, rows int // of the plan, as last rendered
}

// New returns the view of the fits.
func New() *View { return &View{cols: 52, rows: 21} }

// Name stands on the title line.
func (v *View) Name() string { return "Fits" }

// Update takes the answer of a settling.
func (v *View) Update(s *view.State, msg tea.Msg) tea.Cmd {
	if m, ok := msg.(settledMsg); ok {
		v.settled(s, m)
	}
	return nil
}

// choose draws a fit on the stone, seen from the face its dome comes out of.
func (v *View) choose(s *view.State, f search.Fit) {
	v.hand = hand{run: v.hand.run}
	s.Choose(f)
	s.Face = f.Face
}

// index returns the row of the chosen fit among those listed, or -1.
func index(listed []search.Fit, chosen *search.Fit) int {
	if chosen == nil {
		return -1
	}
	for i, f := range listed {
		if view.SameCut(f.Candidate, chosen.Candidate) {
			return i
		}
	}
	return -1
}

// step goes n rows on in what is listed.
func (v *View) step(s *view.State, n int) {
	if v.mode == reasons {
		v.at = max(0, min(v.at+n, len(v.filter.refused(s.Plan))-1))
		return
	}
	listed := v.filter.listed(s.Plan)
	if len(listed) == 0 {
		return
	}
	i := index(listed, s.Chosen)
	if i < 0 {
		i = -1
		if n < 0 {
			i = len(listed)
		}
	}
	v.choose(s, listed[max(0, min(i+n, len(listed)-1))])
}

// refilter says what is listed now and chooses the best of it when what was
// chosen is not.
func (v *View) refilter(s *view.State) {
	listed := v.filter.listed(s.Plan)
	v.at = 0
	if len(listed) > 0 && index(listed, s.Chosen) < 0 {
		v.choose(s, listed[0])
	}
	s.Say(style.Text, "Listed: %s; %d fit, %d do not or are not decided.", v.filter.words(), len(listed), len(v.filter.refused(s.Plan)))
}

// pinned returns the place of a fit among the pinned ones, or -1.
func pinned(s *view.State, f search.Fit) int {
	for i, p := range s.Pinned {
		if view.SameFit(p, f) {
			return i
		}
	}
	return -1
}

// pin keeps the chosen fit for comparison, or lets it go.
func (v *View) pin(s *view.State) {
	if s.Chosen == nil {
		return
	}
	if i := pinned(s, *s.Chosen); i >= 0 {
		s.Pinned = append(append([]search.Fit(nil), s.Pinned[:i]...), s.Pinned[i+1:]...)
		s.Say(style.Text, "Let go: %s. %d pinned.", sizeWords(s.Chosen.Candidate), len(s.Pinned))
		return
	}
	s.Pinned = append(append([]search.Fit(nil), s.Pinned...), *s.Chosen)
	s.Say(style.Text, "Pinned: %s. %d pinned; b shows them beside each other.", sizeWords(s.Chosen.Candidate), len(s.Pinned))
}

// scene returns what there is to draw for one fit.
func scene(s *view.State, f *search.Fit) drawing.Scene {
	sc := s.Scene()
	sc.Rough, sc.Fit = rough(s), f
	return sc
}

// back steps back: from moving by hand, then to one fit alone.
func (v *View) back() {
	if v.hand.on {
		v.hand.on = false
		return
	}
	v.mode = alone
}

// Mouse chooses in the list, zooms, and moves a fit that is nudged by hand.
func (v *View) Mouse(s *view.State, m view.Mouse) tea.Cmd {
	drawn, _ := view.Columns(m.Width)
	switch {
	case m.Kind == view.Cancel:
		v.hand.held = nil
		v.back()
	case v.mode == beside:
		v.pick(s, m)
	case m.Col >= drawn && m.Kind == view.Press:
		v.click(s, m.Row-1, listRows(m.Height))
	case m.Col >= drawn && m.Kind == view.WheelUp:
		v.step(s, -1)
	case m.Col >= drawn && m.Kind == view.WheelDown:
		v.step(s, 1)
	default:
		rows := planRows(m.Width, m.Height)
		if !s.Wheel(m, drawn, rows) && m.Col < drawn && m.Row < rows {
			v.grip(s, m.Kind, s.Plane(drawn, rows).At(drawn, rows, m.Col, m.Row))
		}
	}
	return nil
}

// grip takes hold of the chosen fit and moves it with the pointer.
func (v *View) grip(s *view.State, kind view.MouseKind, at geometry.Vec2) {
	switch {
	case kind == view.Release || !v.hand.on || s.Chosen == nil:
		v.hand.held = nil
	case kind == view.Press:
		v.hand.held = &at
	case kind == view.Drag && v.hand.held != nil:
		d := at.Sub(*v.hand.held)
		v.hand.held = &at
		v.move(s, func(p search.Pose) search.Pose {
			p.Origin = p.Origin.Add(geometry.Vec3{X: d.X, Y: d.Y})
			return p
		})
	}
}

// click chooses the row of the list that was clicked.
func (v *View) click(s *view.State, row, rows int) {
	if row < 0 || row >= rows {
		return
	}
	if v.mode == reasons {
		if i := row + first(v.at, len(v.filter.refused(s.Plan)), rows); i < len(v.filter.refused(s.Plan)) {
			v.at = i
		}
		return
	}
	listed := v.filter.listed(s.Plan)
	if i := row + first(index(listed, s.Chosen), len(listed), rows); i < len(listed) {
		v.choose(s, listed[i])
	}
}
