package fits

import (
	"fmt"
	"time"

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
	bets                // the plan as a bet on what is not sure
)

// View is the view of the fits; New makes one.
type View struct {
	mode   mode
	page   page // of the bets
	filter filter
	ready  ready // the ready comparison that is open
	hand   hand

	shown    shown
	unfolded map[size]bool
	listed   int // lines of the list that there is room for
	top      int // first line of the list that is shown

	// The list of what does not fit: the line it is at, what it was made from, and
	// the question about that line.
	at              int
	topRefused      int
	unfoldedRefused map[size]bool
	refusedOf       refusedKey
	refusedAll      []refusal
	why             whyNot
	askAfter        time.Duration // until a candidate looked at is asked about

	cols, rows int // of the plan, as last rendered
}

// New returns the view of the fits.
func New() *View {
	return &View{
		cols: 52, rows: 21,
		askAfter: askAfter, shown: shown{seen: -1}, refusedOf: refusedKey{plans: -1},
		unfolded: map[size]bool{}, unfoldedRefused: map[size]bool{},
	}
}

// Name stands on the title line.
func (v *View) Name() string { return "Fits" }

// Update takes the answers of what is worked out away from the event loop.
func (v *View) Update(s *view.State, msg tea.Msg) tea.Cmd {
	switch m := msg.(type) {
	case settledMsg:
		v.settled(s, m)
	case colouredMsg:
		v.coloured(s, m)
	case sparedMsg:
		v.spared(s, m)
	case view.PlanTaken:
		return v.askAgain(s)
	case askMsg:
		return v.workOut(s, m.run)
	case whyNotMsg:
		return v.answered(s, m)
	}
	return nil
}

// hold keeps the list and the choice as they are from now on.
func (v *View) hold(s *view.State) {
	v.shown.hold(s)
	s.KeepChoice()
}

// open shows a mode, or one fit alone when that mode is open already.
func (v *View) open(s *view.State, m mode) {
	was := v.mode
	v.back(s)
	if was != m {
		v.mode = m
	}
	v.ready = noReady
}

// choose draws a fit on the stone, seen from the face its dome comes out of.
func (v *View) choose(s *view.State, f search.Fit) {
	v.hand.drop()
	v.hand = hand{run: v.hand.run}
	s.Choose(f)
	s.Face = f.Face
}

// step goes n lines on in what is listed.
func (v *View) step(s *view.State, n int) tea.Cmd {
	if v.mode == reasons {
		v.at = max(0, min(v.at+n, len(v.refusalLines(s))-1))
		return v.ask(s)
	}
	if v.mode == bets {
		v.stepBets(s, n)
		return nil
	}
	lines := v.lines(s)
	if len(lines) == 0 {
		return nil
	}
	i := lineOf(lines, s.Chosen)
	if i < 0 && n < 0 {
		i = len(lines)
	}
	v.choose(s, lines[max(0, min(i+n, len(lines)-1))].fit)
	return nil
}

// refilter says what is listed now and chooses the best of it when what was
// chosen is not.
func (v *View) refilter(s *view.State) {
	v.at = 0
	lines := v.lines(s)
	if len(lines) > 0 && lineOf(lines, s.Chosen) < 0 {
		v.choose(s, lines[0].fit)
	}
	spare := ""
	if v.filter.spare > 0 && !v.filter.only {
		spare = fmt.Sprintf(", %d with %g mm to spare", v.withSpare(), v.filter.spare)
	}
	s.Say(style.Text, "Listed: %s. %d fit%s, %d sizes do not or are not decided.",
		v.filter.words(), len(v.filter.listed(v.shown.fits)), spare, len(v.refused(s)))
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
	s.Say(
		style.Text,
		"Pinned: %s. %d pinned; b shows them beside each other.",
		sizeWords(s.Chosen.Candidate),
		len(s.Pinned),
	)
}

// scene returns what there is to draw for one fit.
func scene(s *view.State, f *search.Fit) drawing.Scene {
	sc := s.Scene()
	sc.Rough, sc.Fit, sc.Ticks = rough(s), f, s.Ticks(f)
	return sc
}

// back steps back: from moving by hand, then to one fit alone.
func (v *View) back(s *view.State) {
	if v.hand.on {
		v.hand.on = false
		return
	}
	if v.mode == reasons && s.Chosen != nil {
		s.Face = s.Chosen.Face // what could not fit may have been seen from the other
	}
	v.why.drop()
	v.mode = alone
}

// Mouse chooses in the list, zooms, and moves a fit that is nudged by hand.
func (v *View) Mouse(s *view.State, m view.Mouse) tea.Cmd {
	drawn, _ := view.Columns(m.Width)
	inList := m.Col >= drawn
	if v.mode == beside {
		if m.Kind == view.Cancel {
			v.back(s)
		}
		v.pick(s, m)
		return nil
	}
	if inList && m.Kind != view.Release && m.Kind != view.Drag {
		v.hold(s)
	}
	switch {
	case m.Kind == view.Cancel:
		v.hand.held = nil
		v.back(s)
	case inList && m.Kind == view.Press:
		return v.click(s, m.Row-listHead, m.Height)
	case inList && m.Kind == view.WheelUp:
		return v.step(s, -1)
	case inList && m.Kind == view.WheelDown:
		return v.step(s, 1)
	default:
		rows := planRows(m.Width, m.Height)
		if !s.Wheel(m, drawn, rows) && !inList && m.Row < rows {
			v.dragFit(s, m.Kind, s.Plane(drawn, rows).At(drawn, rows, m.Col, m.Row))
		}
	}
	return nil
}

// dragFit takes hold of the chosen fit and moves it with the pointer.
func (v *View) dragFit(s *view.State, kind view.MouseKind, at geometry.Vec2) {
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

// click chooses the line of the list that was clicked: row counts from its first.
func (v *View) click(s *view.State, row, height int) tea.Cmd {
	if v.mode == reasons {
		if i := row + v.topRefused; row >= 0 && row < v.reasonRows(height) && i < len(v.refusalLines(s)) {
			v.at = i
			return v.ask(s)
		}
		return nil
	}
	lines := v.lines(s)
	if i := row + v.top; row >= 0 && row < v.listed && i < len(lines) {
		v.choose(s, lines[i].fit)
	}
	return nil
}
