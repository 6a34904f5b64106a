package worth

import "cabwright/planner/money"

// Yields are those that rough is bid for at, percent: a sandy nodule, an ordinary
// one, a good seam (see the reference of trade facts: 4.7, about 20 and 34.4%).
var Yields = []float64{5, 20, 35}

// Span returns the prices a finished carat that may come to count for a material,
// from the lowest to the highest. false: there is none.
func (p Prices) Span(material string) (span Span, ok bool) {
	low, high := 0.0, 0.0
	for _, row := range p.Finished {
		if row.Material != "" && row.Material != material {
			continue
		}
		if !ok {
			low, high, ok = row.PerCarat.Low, row.PerCarat.High, true
		}
		low, high = min(low, row.PerCarat.Low), max(high, row.PerCarat.High)
	}
	return Span{Low: money.Of(low), High: money.Of(high)}, ok
}

// BidsForAnother returns what another piece of rough as heavy as the stone was may
// cost, at the usual yields and, last and with here true, at that of the stone's own
// heaviest fit. The price of the terms is that of the stone's material; none: there
// is no price, or the stone weighs nothing.
func (s Stone) BidsForAnother(p Prices, t Terms) (bids []Bid, here bool) {
	price, ok := p.Span(s.Stone.Material)
	if !ok || s.RoughCarat <= 0 {
		return nil, false
	}
	t.Price = price
	rough := Rough{Carat: Carats(s.RoughCarat)}
	for _, y := range Yields {
		bids = append(bids, MostToPay(rough, money.Of(y), t))
	}
	heaviest := 0.0
	for _, f := range s.Fits {
		heaviest = max(heaviest, f.Carat)
	}
	if heaviest == 0 {
		return bids, false
	}
	return append(bids, MostToPay(rough, money.Of(100*heaviest/s.RoughCarat), t)), true
}
