package worth

import (
	"slices"

	"cabwright/planner"
	"cabwright/planner/money"
	"cabwright/planner/search"
)

// Fit is a fit with what it may bring and when it breaks even.
type Fit struct {
	search.Fit
	Value     *Value        // nil: no price is meant for it
	BreakEven *money.Amount // a finished carat; nil: nothing is known of the cost
	Margin    *money.Amount // percent of the likely worth that is left over the cost; nil: not both are known
}

// Stone is a stone with what it cost and what may be made of it.
type Stone struct {
	Stone      planner.Stone
	Currency   money.Currency
	Cost       *money.Amount // nil: not said
	RoughCarat float64
	PerCarat   *money.Amount // cost a rough carat; nil: not said
	Fits       []Fit
	Uncut      *Value // as rough, at the weight now; nil: no price for that
	Bets       []Bet  // when marks are not sure and it was asked for
	Remarks    []string
}

// Weigh puts a worth to the fits of a stone. colour looks under each of them, and
// is asked only when there are prices; cost may be nil. modelCt is the stone's
// weight as drawn.
func Weigh(
	s planner.Stone, fits []search.Fit, colour func(search.Fit) Colour, cost *money.Amount, modelCt float64, p Prices,
) Stone {
	out := Stone{Stone: s, Currency: p.Currency, Cost: cost, RoughCarat: RoughCarat(s, modelCt)}
	if cost != nil {
		each := cost.Over(Carats(out.RoughCarat))
		out.PerCarat = &each
	}
	now := s.ScaleCt
	if now == 0 {
		now = modelCt
	}
	if v, ok := p.AsRough(s, now); ok {
		out.Uncut = &v
	}
	for _, f := range fits {
		priced := Fit{Fit: f}
		if len(p.Finished) > 0 {
			if v, ok := p.Fit(s, colour(f), f); ok {
				priced.Value = &v
			}
		}
		if cost != nil {
			even := BreakEven(*cost, Carats(f.Carat))
			priced.BreakEven = &even
			if priced.Value != nil && priced.Value.Likely.Sign() > 0 {
				left := money.Of(100).Times(priced.Value.Likely.Minus(*cost)).Over(priced.Value.Likely)
				priced.Margin = &left
			}
		}
		out.Fits = append(out.Fits, priced)
	}
	return out
}

// Sort orders the fits by their likely worth, dearest first; what has no price
// comes last, and equal ones stay as they were.
func (s *Stone) Sort() {
	slices.SortStableFunc(s.Fits, func(a, b Fit) int {
		switch {
		case a.Value == nil && b.Value == nil:
			return 0
		case a.Value == nil:
			return 1
		case b.Value == nil:
			return -1
		}
		return b.Value.Likely.Compare(a.Value.Likely)
	})
}
