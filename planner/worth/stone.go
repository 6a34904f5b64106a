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
	Own       *Own          // by the cutter's own finished stones; nil: not asked, or too few
}

// Stone is a stone with what it cost and what may be made of it.
type Stone struct {
	Stone      planner.Stone
	Currency   money.Currency
	Cost       *money.Amount // nil: not said
	RoughCarat float64
	PerCarat   *money.Amount // cost a rough carat; nil: not said
	Fits       []Fit
	Uncut      *Value   // as rough, at the weight now; nil: no price for that
	Bets       []Bet    // when marks are not sure and it was asked for
	Layouts    []Layout // when several stones from the rough were asked for
	OwnSaid    string   // how the cutter's own stones came out; "": no fit has an Own
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
		priced := Fit{Fit: f, Value: p.of(s, colour, f)}
		priced.BreakEven, priced.Margin = against(cost, f.Carat, priced.Value)
		out.Fits = append(out.Fits, priced)
	}
	return out
}

// of returns what a fit may bring; nil: no price is meant for it.
func (p Prices) of(s planner.Stone, colour func(search.Fit) Colour, f search.Fit) *Value {
	if len(p.Finished) == 0 {
		return nil
	}
	v, ok := p.Fit(s, colour(f), f)
	if !ok {
		return nil
	}
	return &v
}

// against holds finished carats and their worth against a cost: the price a carat
// at which it comes back, and the percent of the likely worth that is left over.
// Either is nil when what it takes is not known.
func against(cost *money.Amount, carat float64, v *Value) (even, margin *money.Amount) {
	if cost == nil {
		return nil, nil
	}
	back := BreakEven(*cost, Carats(carat))
	if v == nil || v.Likely.Sign() <= 0 {
		return &back, nil
	}
	left := money.Of(100).Times(v.Likely.Minus(*cost)).Over(v.Likely)
	return &back, &left
}

// Sort orders the fits by their likely worth, dearest first; what has no price
// comes last, and equal ones stay as they were.
func (s *Stone) Sort() {
	slices.SortStableFunc(s.Fits, func(a, b Fit) int { return CompareDearest(a.Value, b.Value) })
}

// Dearest returns the most that the rough is likely to bring cut: the dearest of
// its fits, or of its layouts, of which several is true. nil: nothing has a price.
func (s Stone) Dearest() (best *Value, several bool) {
	for _, f := range s.Fits {
		if CompareDearest(f.Value, best) < 0 {
			best = f.Value
		}
	}
	for _, l := range s.Layouts {
		if len(l.Fits) > 1 && CompareDearest(l.Value, best) < 0 {
			best, several = l.Value, true
		}
	}
	return best, several
}

// CompareDearest compares two worths for a list with the dearest first and what has
// none last.
func CompareDearest(a, b *Value) int {
	switch {
	case a == nil && b == nil:
		return 0
	case a == nil:
		return 1
	case b == nil:
		return -1
	}
	return b.Likely.Compare(a.Likely)
}
