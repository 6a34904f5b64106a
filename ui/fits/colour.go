package fits

import (
	"slices"

	tea "github.com/charmbracelet/bubbletea"

	"cabwright/planner"
	"cabwright/planner/odds"
	"cabwright/planner/search"
	"cabwright/ui/style"
	"cabwright/ui/view"
)

// colouredMsg is the place of the chosen stone with most colour.
type colouredMsg struct {
	run   int
	fit   search.Fit
	found bool
	err   error
}

// whyNotColour says why no place with more colour can be looked for now.
func whyNotColour(s *view.State) string {
	if why := whyNotMove(s); why != "" {
		return why
	}
	seen := func(z planner.Zone) bool { return z.Face == s.Chosen.Face && z.Grade > 0 }
	if !slices.ContainsFunc(s.Stone().Colour, seen) {
		return "no colour zone is drawn on the face that its dome comes out of"
	}
	return ""
}

// mostColour looks for the place of the chosen fit with most colour that keeps the
// spare wanted, away from the event loop.
func (v *View) mostColour(s *view.State) tea.Cmd {
	f, ctx, run := v.seekPlace(s)
	stone, spare, tilt := s.Stone(), s.Options().Spare, s.Plan.TiltMaxDeg
	s.Say(style.Text, "Looking for the place with most colour…")
	return func() tea.Msg {
		best, found, err := odds.MostColour(ctx, stone, f, spare, tilt)
		return colouredMsg{run, best, found, err}
	}
}

// coloured takes the answer, unless the fit has been moved or changed since.
func (v *View) coloured(s *view.State, m colouredMsg) {
	if !v.hand.ends(s, m.run) {
		return
	}
	spare := s.Options().Spare
	switch before := *s.Chosen; {
	case m.err != nil:
		s.Refuse(m.err)
	case !m.found:
		s.Say(style.Warn, "No place of it was found that keeps %.2f mm to spare.", spare)
	case m.fit.Colour <= before.Colour+leastColour:
		s.Say(style.Text, "It has most colour where it lies: %.0f%%.", 100*before.Colour)
	default:
		v.takeUp(s, m.fit)
		s.Say(style.Text, "Colour %.0f -> %.0f%%, %s mm to spare; o puts it back.", 100*before.Colour, 100*m.fit.Colour,
			view.Spare(m.fit.Clearance))
	}
}

// leastColour is the difference of a share that is worth a move: a percent is shown.
const leastColour = 0.005
