package fits

import (
	"context"

	tea "github.com/charmbracelet/bubbletea"

	"cabwright/planner/odds"
	"cabwright/planner/search"
	"cabwright/ui/style"
	"cabwright/ui/view"
)

// sparedMsg is the place of the chosen stone with most spare.
type sparedMsg struct {
	run int
	fit search.Fit
	err error
}

// seekPlace shows the chosen fit alone while a better place is sought for it, and returns
// it as it lies, with the context and the number of the seeking.
func (v *View) seekPlace(s *view.State) (f search.Fit, ctx context.Context, run int) {
	v.open(s, alone)
	ctx, run = v.hand.begin(s)
	return *s.Chosen, ctx, run
}

// takeUp lays the chosen fit in the place that was found. It is moved by hand from then on,
// and can be put back.
func (v *View) takeUp(s *view.State, found search.Fit) {
	if v.hand.found == nil {
		before := *s.Chosen
		v.hand.found = &before
	}
	v.hand.on = true
	s.Choose(found)
}

// mostSpare looks all over the rough for the place of the chosen fit that keeps most
// beyond its allowances, away from the event loop.
func (v *View) mostSpare(s *view.State) tea.Cmd {
	f, ctx, run := v.seekPlace(s)
	stone, tilt := s.Stone(), s.Plan.TiltMaxDeg
	s.Say(style.Text, "Looking for the place with most to spare…")
	return func() tea.Msg {
		best, err := odds.MostSpare(ctx, stone, f, tilt)
		return sparedMsg{run, best, err}
	}
}

// spared takes the answer, unless the fit has been moved or changed since.
func (v *View) spared(s *view.State, m sparedMsg) {
	if !v.hand.ends(s, m.run) {
		return
	}
	switch before := *s.Chosen; {
	case m.err != nil:
		s.Refuse(m.err)
	case m.fit.Clearance < before.Clearance+leastSpare:
		s.Say(style.Text, "No place of it was found that keeps more: %s mm to spare.", view.Spare(before.Clearance))
	default:
		v.takeUp(s, m.fit)
		s.Say(style.Text, "%s -> %s mm to spare; o puts it back.", view.Spare(before.Clearance), view.Spare(m.fit.Clearance))
	}
}

// leastSpare is the difference of a clearance that is worth a move, mm: as fine as it is
// shown.
const leastSpare = 0.01
