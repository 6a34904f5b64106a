package worth

import (
	"slices"
	"strings"

	"cabwright/planner"
	"cabwright/planner/money"
	"cabwright/planner/search"
	"cabwright/presets"
)

// Value is what something may bring, unrounded.
type Value struct {
	Low, Likely, High money.Amount
	By                string // the name of the price it was taken from
}

// Times is the value of it when it comes off with that chance.
func (v Value) Times(chance float64) Value {
	c := money.Of(chance)
	return Value{Low: v.Low.Times(c), Likely: v.Likely.Times(c), High: v.High.Times(c), By: v.By}
}

// Plus adds two values.
func (v Value) Plus(w Value) Value {
	return Value{Low: v.Low.Plus(w.Low), Likely: v.Likely.Plus(w.Likely), High: v.High.Plus(w.High), By: v.By}
}

// Prices are the rows that may price a stone.
type Prices struct {
	Finished []presets.Price
	Rough    []presets.RoughPrice
	Currency money.Currency
}

// PricesIn returns the rows of the presets in one currency: nothing is converted.
func PricesIn(set *presets.Set, c money.Currency) Prices {
	p := Prices{Currency: c}
	for _, row := range set.Prices {
		if row.Currency == c.Code {
			p.Finished = append(p.Finished, row)
		}
	}
	for _, row := range set.RoughPrices {
		if row.Currency == c.Code {
			p.Rough = append(p.Rough, row)
		}
	}
	return p
}

// OnePrice is a price for whatever comes, as it is typed.
func OnePrice(s Span, c money.Currency) Prices {
	low, high := s.Low.Float(), s.High.Float()
	return Prices{Currency: c, Finished: []presets.Price{{
		Name: "as typed", PerCarat: presets.Range{Low: low, Typical: (low + high) / 2, High: high}, Currency: c.Code,
	}}}
}

// CurrencyFor returns the money a stone is counted in: that of its cost, else that
// of the first price there is, else none.
func CurrencyFor(s planner.Stone, set *presets.Set) money.Currency {
	codes := []string{}
	if s.Cost != nil {
		codes = append(codes, s.Cost.Currency)
	}
	for _, p := range set.Prices {
		codes = append(codes, p.Currency)
	}
	for _, code := range append(codes, money.None) {
		if c, ok := money.Lookup(code); ok {
			return c
		}
	}
	return money.Currency{}
}

// Carats is a weight as a plan prints it, to 0.0001 ct: what is worked out from it
// agrees with what anyone works out from the plan.
func Carats(ct float64) money.Amount { return money.Of(ct).Round(money.Currency{Digits: 4}) }

// Fit returns what a fit may bring: its low weight at the low price, its
// likely one at the likely, its high one at the high, by the first row that the
// stone satisfies. false: no row does.
func (p Prices) Fit(s planner.Stone, c Colour, f search.Fit) (Value, bool) {
	i := slices.IndexFunc(p.Finished, func(row presets.Price) bool { return satisfies(row, s, c, f) })
	if i < 0 {
		return Value{}, false
	}
	row := p.Finished[i]
	return Value{
		Low:    Carats(f.CaratLow).Times(money.Of(row.PerCarat.Low)),
		Likely: Carats(f.Carat).Times(money.Of(row.PerCarat.Typical)),
		High:   Carats(f.CaratHigh).Times(money.Of(row.PerCarat.High)),
		By:     row.Name,
	}, true
}

// satisfies reports whether a price is meant for a fit in a stone.
func satisfies(p presets.Price, s planner.Stone, c Colour, f search.Fit) bool {
	return (p.Material == "" || p.Material == s.Material) &&
		p.Carat.Holds(f.Carat) && p.Grade.Holds(c.Grade) && p.Colour.Holds(f.Colour) &&
		(p.Pattern == "" || strings.EqualFold(p.Pattern, c.Pattern)) &&
		(p.Sides == 0 || p.Sides == f.Solid.Sides) &&
		(p.Face == "" || p.Face == string(f.Face))
}

// AsRough returns what a stone may bring uncut, at its present weight in carats.
// false: no row does for its material.
func (p Prices) AsRough(s planner.Stone, carat float64) (Value, bool) {
	for _, row := range p.Rough {
		if row.Material == "" || row.Material == s.Material {
			ct := Carats(carat)
			return Value{
				Low: ct.Times(money.Of(row.PerCarat.Low)), Likely: ct.Times(money.Of(row.PerCarat.Typical)),
				High: ct.Times(money.Of(row.PerCarat.High)), By: "rough",
			}, true
		}
	}
	return Value{}, false
}
