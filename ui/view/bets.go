package view

import (
	"cabwright/planner/odds"
	"cabwright/planner/search"
	"cabwright/ui/drawing"
)

// Bets is what the plan is worth as a bet on the marks that are not sure, as far as
// it is known. It belongs to the stone as it was at revision Of.
type Bets struct {
	Of     int
	Judged []odds.Place // the plan's fits where it lays them
	Answer odds.Answer  // places with better odds, and what to look at first
	Costs  []odds.Cost  // what each mark costs, and what other choices gain

	Wanted, Known           bool // the answer was asked for; it is whole
	CostsWanted, CostsKnown bool
	Err                     error
}

// WeighMsg asks for the places with the best odds; CostsMsg for what marks cost.
type (
	WeighMsg struct{}
	CostsMsg struct{}
)

// Unsure reports whether a mark of the stone is not sure, so that there are odds.
func (s *State) Unsure() bool { return odds.Any(s.Stone()) }

// Ticks returns how far the marks that are not sure may go before they spoil a fit,
// which may be nil.
func (s *State) Ticks(f *search.Fit) []drawing.Tick {
	if f == nil || !s.Unsure() {
		return nil
	}
	var out []drawing.Tick
	if p := s.Bet(*f); p != nil {
		for _, l := range p.Limits {
			if !l.Always && (l.What == odds.Depth || l.What == odds.Top || l.What == odds.Bottom) {
				out = append(out, drawing.Tick{ID: l.ID, What: l.What, UpTo: l.UpTo})
			}
		}
	}
	return out
}

// Bet returns what is known of a fit as a bet: as it lies, or nil.
func (s *State) Bet(f search.Fit) *odds.Place {
	if s.Bets.Of != s.Revision() {
		return nil
	}
	for _, list := range [][]odds.Place{s.Bets.Judged, s.Bets.Answer.Places} {
		for i := range list {
			if SameFit(list[i].Fit, f) {
				return &list[i]
			}
		}
	}
	return nil
}
