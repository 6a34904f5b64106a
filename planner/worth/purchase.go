package worth

import (
	"strings"

	"cabwright/planner"
	"cabwright/planner/money"
)

// Bought is the stage of the diary at which a stone weighs what was paid for.
const Bought = "bought"

// PurchaseOf returns what the stone file says the stone cost. Its weight is the
// one as bought, if the diary has it, else the one on the scale, else modelCt, as
// drawn. A stone with no cost costs nothing that is known, in no currency.
func PurchaseOf(s planner.Stone, modelCt float64) Purchase {
	none, _ := money.Lookup(money.None)
	p := Purchase{Currency: none, Carat: RoughCarat(s, modelCt)}
	c := s.Cost
	if c == nil {
		return p
	}
	if known, ok := money.Lookup(c.Currency); ok {
		p.Currency = known
	}
	if c.Extra != nil {
		p.Extra = *c.Extra
	}
	p.Paid = c.Paid
	if c.Lot != nil {
		p.Lot = &Lot{Name: c.Lot.Name, Carat: c.Lot.Carat}
		if c.Lot.Paid != nil {
			p.Lot.Paid = *c.Lot.Paid
		}
	}
	return p
}

// RoughCarat is the weight that a stone's cost is counted against: as bought, on
// the scale, or as drawn.
func RoughCarat(s planner.Stone, modelCt float64) float64 {
	for _, e := range s.Diary {
		if strings.EqualFold(strings.TrimSpace(e.Stage), Bought) && e.Carat > 0 {
			return e.Carat
		}
	}
	if s.ScaleCt > 0 {
		return s.ScaleCt
	}
	return modelCt
}
