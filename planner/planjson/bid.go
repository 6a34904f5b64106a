package planjson

import (
	"io"

	"cabwright/planner"
	"cabwright/planner/money"
	"cabwright/planner/worth"
)

// Bids is what `bid` works out: a row a yield, and the pieces when there are
// several or their weights are estimates.
type Bids struct {
	Currency money.Currency
	Rows     []Bid
	Pieces   []Piece
}

// Bid is the most to pay at one yield and, when a price is asked, what a finished
// carat will then have cost.
type Bid struct {
	worth.Bid
	BreakEven *money.Amount // nil: no price asked
}

// Piece is one piece of what is for sale.
type Piece struct {
	Name  string
	Rough worth.Rough
	Band  *planner.Band // its weight by size, carats; nil: it was weighed
	Pays  []worth.Pays  // for the whole parcel, at each row's yield; nil: no price asked
}

type bids struct {
	Format   string  `json:"format"`
	Version  int     `json:"version"`
	Currency text    `json:"currency"`
	Rows     []row   `json:"rows"`
	Pieces   []piece `json:"pieces,omitempty"`
}

type row struct {
	Yield        figure  `json:"yield_pct"`
	Finished     figure  `json:"finished_carat"`
	Low          figure  `json:"bid_low"`
	High         figure  `json:"bid_high"`
	PerCaratLow  figure  `json:"bid_per_carat_low"`
	PerCaratHigh figure  `json:"bid_per_carat_high"`
	BreakEven    *figure `json:"break_even_per_carat,omitempty"`
}

type piece struct {
	Name  text      `json:"name"`
	Carat figure    `json:"carat"`
	Potch figure    `json:"potch_carat"`
	Low   *measured `json:"carat_low,omitempty"`
	High  *measured `json:"carat_high,omitempty"`
	Pays  []pays    `json:"pays_for_all,omitempty"`
}

type pays struct {
	Yield figure `json:"yield_pct"`
	Pays  string `json:"pays"`
}

// figure is a number that is written out already: money with all the digits of
// its unit, 128.00, or an exact weight.
type figure string

// MarshalJSON writes the digits as they are.
func (f figure) MarshalJSON() ([]byte, error) { return []byte(f), nil }

func moneyFigure(a money.Amount, c money.Currency) figure { return figure(a.Text(c)) }

// exactFigure writes a weight or a percentage to a millionth.
func exactFigure(a money.Amount) figure { return figure(a.Decimal(6)) }

// paysWords are the answers to "does this piece pay for the parcel?": no, at the
// high price, at the low one already.
var paysWords = map[worth.Pays]string{worth.PaysNever: "no", worth.PaysAtHigh: "high", worth.PaysAtLow: "yes"}

// WriteBids writes the bids as one JSON object.
func WriteBids(w io.Writer, b Bids) error {
	out := bids{Format: "cabwright-bid", Version: 1, Currency: text(b.Currency.Code)}
	for _, r := range b.Rows {
		line := row{
			Yield: exactFigure(r.Yield), Finished: exactFigure(r.Finished),
			Low: moneyFigure(r.Most.Low, b.Currency), High: moneyFigure(r.Most.High, b.Currency),
			PerCaratLow: moneyFigure(r.PerCarat.Low, b.Currency), PerCaratHigh: moneyFigure(r.PerCarat.High, b.Currency),
		}
		if r.BreakEven != nil {
			even := moneyFigure(*r.BreakEven, b.Currency)
			line.BreakEven = &even
		}
		out.Rows = append(out.Rows, line)
	}
	for _, p := range b.Pieces {
		line := piece{Name: text(p.Name), Carat: exactFigure(p.Rough.Carat), Potch: exactFigure(p.Rough.Potch)}
		if p.Band != nil {
			low, high := measured(p.Band.Low), measured(p.Band.High)
			line.Low, line.High = &low, &high
		}
		for i, word := range p.Pays {
			line.Pays = append(line.Pays, pays{Yield: exactFigure(b.Rows[i].Yield), Pays: paysWords[word]})
		}
		out.Pieces = append(out.Pieces, line)
	}
	doc := &builder{}
	doc.value(out)
	doc.raw("\n")
	if doc.err != nil {
		return doc.err
	}
	_, err := w.Write(doc.Bytes())
	return err
}
