package view

import (
	"cabwright/planner"
	"cabwright/planner/search"
	"cabwright/planner/worth"
	"cabwright/presets"
)

// Priced is what worths hang on besides the fits: the stone, its solid and the
// prices. It is a copy that work beside the event loop may keep.
type Priced struct {
	Stone  planner.Stone
	Rough  *planner.Rough // nil: not made yet; colour then counts whatever its depth
	Prices worth.Prices
}

// PricedOf names what a Priced was made of: two that are equal give equal worths.
type PricedOf struct {
	Revision int
	Rough    bool
	Typed    *worth.Span
}

// Priced returns what worths hang on now, and its name.
func (s *State) Priced() (Priced, PricedOf) {
	stone := s.Stone()
	of := PricedOf{Revision: s.Revision(), Rough: s.Rough != nil && s.RoughOf == s.Revision(), Typed: s.Typed}
	p := Priced{Stone: stone, Prices: PricesFor(stone, s.Presets, s.Typed)}
	if of.Rough {
		p.Rough = s.Rough
	}
	return p, of
}

// PricesFor returns the prices that a stone's fits count with: the one typed for
// now, else the presets' in the stone's money.
func PricesFor(stone planner.Stone, set *presets.Set, typed *worth.Span) worth.Prices {
	currency := worth.CurrencyFor(stone, set)
	prices := worth.PricesIn(set, currency)
	if typed != nil {
		rough := prices.Rough
		prices = worth.OnePrice(*typed, currency)
		prices.Rough = rough
	}
	return prices
}

// Colour is what lies under the face of a fit.
func (p Priced) Colour(f search.Fit) worth.Colour { return worth.ColourUnder(p.Stone, p.Rough, f) }

// Worth is what a fit may bring; nil: no price is meant for it.
func (p Priced) Worth(f search.Fit) *worth.Value {
	v, ok := p.Prices.Fit(p.Stone, p.Colour(f), f)
	if !ok {
		return nil
	}
	return &v
}
