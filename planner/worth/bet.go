package worth

import (
	"slices"

	"cabwright/planner"
	"cabwright/planner/search"
)

// Bet is a place that holds with some odds: what it then brings, and what is left
// if it does not.
type Bet struct {
	Fit   search.Fit
	Odds  float64
	Value *Value // nil: no price is meant for it
	IfNot *Value // nil: nothing is left, or no price is meant for it
}

// BetOf puts a worth to a place with its odds; ifNot is what is left if it does not
// hold, nil for nothing.
func BetOf(
	s planner.Stone, f search.Fit, odds float64, ifNot *search.Fit, colour func(search.Fit) Colour, p Prices,
) Bet {
	b := Bet{Fit: f, Odds: odds, Value: p.of(s, colour, f)}
	if ifNot != nil {
		b.IfNot = p.of(s, colour, *ifNot)
	}
	return b
}

// Expected is what the bet brings on average; nil when it has no price.
func (b Bet) Expected() *Value {
	if b.Value == nil {
		return nil
	}
	v := b.Value.Times(b.Odds)
	if b.IfNot != nil {
		v = v.Plus(b.IfNot.Times(1 - b.Odds))
	}
	return &v
}

// SortBets orders bets by what they likely bring on average, most first; those
// without a price come last.
func SortBets(bets []Bet) {
	slices.SortStableFunc(bets, func(a, b Bet) int { return CompareDearest(a.Expected(), b.Expected()) })
}
