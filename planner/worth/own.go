package worth

import (
	"cabwright/planner"
	"cabwright/planner/money"
	"cabwright/planner/search"
)

// Own is what a fit comes to as a cutter's own finished stones came out, beside
// what is planned.
type Own struct {
	Carat     planner.Band
	Value     *Value        // nil: no price is meant for such a stone
	BreakEven *money.Amount // a finished carat; nil: nothing is known of the cost
}

// ByOwn puts beside each fit what it comes to by a cutter's own stones, of which
// band makes the weights: what is planned stays as it is.
func (s *Stone) ByOwn(band func(carat float64) planner.Band, colour func(search.Fit) Colour, p Prices) {
	for i := range s.Fits {
		own := OwnOf(s.Stone, s.Fits[i].Fit, band, colour, p)
		own.BreakEven, _ = against(s.Cost, own.Carat.Likely, nil)
		s.Fits[i].Own = &own
	}
}

// OwnOf is what one fit in a stone comes to by a cutter's own stones, its
// break-even aside.
func OwnOf(
	s planner.Stone, f search.Fit, band func(carat float64) planner.Band, colour func(search.Fit) Colour, p Prices,
) Own {
	b := band(f.Carat)
	f.CaratLow, f.Carat, f.CaratHigh = b.Low, b.Likely, b.High
	return Own{Carat: b, Value: p.of(s, colour, f)}
}
