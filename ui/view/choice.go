package view

import (
	"fmt"

	tea "github.com/charmbracelet/bubbletea"

	"cabwright/planner/search"
	"cabwright/ui/keys"
)

// choice says how far the fit that is drawn is the user's own.
type choice struct {
	picked bool // it is the user's own, not just the best so far
	moved  bool // and lies where the search did not put it

	of       int     // revision of the stone that the list was of when it was picked
	heaviest float64 // and the carats of the best fit then
}

// Choose makes a fit the one that is drawn on the stone.
func (s *State) Choose(f search.Fit) {
	s.Chosen = &f
	s.choice = choice{picked: true, moved: !holds(s.Plan, f), of: s.PlanOf, heaviest: s.heaviest()}
}

// KeepChoice makes the fit that is shown the user's own choice, so that a better
// one does not take its place.
func (s *State) KeepChoice() {
	if s.Chosen != nil && !s.choice.picked {
		s.choice = choice{picked: true, of: s.PlanOf, heaviest: s.heaviest()}
	}
}

// heaviest is the weight of the best fit listed, in carats; 0 where there is none.
func (s *State) heaviest() float64 {
	if len(s.Plan.Fits) == 0 {
		return 0
	}
	return s.Plan.Fits[0].Carat
}

// Waiting says, where a heavier fit was found since the choice was kept, that it
// waits; it is empty otherwise.
func (s *State) Waiting() string {
	const shown = 0.005 // carats, as they are shown
	if !s.choice.picked || s.PlanOf != s.choice.of || s.heaviest() < s.choice.heaviest+shown {
		return ""
	}
	return fmt.Sprintf("A heavier fit waits, %.2f ct: home in Fits takes it", s.heaviest())
}

// KeepingChoice returns actions that keep the choice before they do anything: what
// is worked on does not slide from under the hand.
func (s *State) KeepingChoice(actions []keys.Action) []keys.Action {
	for i, a := range actions {
		actions[i].Run = func() tea.Cmd {
			s.KeepChoice()
			return a.Run()
		}
	}
	return actions
}
