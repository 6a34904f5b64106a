package planjson

import (
	"io"

	"cabwright/planner/money"
	"cabwright/planner/worth"
)

// Worth is what some stones cost and may bring, in one currency.
type Worth struct {
	Currency money.Currency
	Stones   []worth.Stone
	Top      int // fits a stone, at most; 0: all
}

type worthStone struct {
	Stone     text       `json:"stone"`
	Cost      *figure    `json:"cost"` // null: not known, here and below
	Rough     measured   `json:"rough_carat"`
	PerCarat  *figure    `json:"cost_per_rough_carat"`
	Fits      []worthFit `json:"fits"`
	UncutLow  *figure    `json:"uncut_low,omitempty"`
	UncutHigh *figure    `json:"uncut_high,omitempty"`
	Bets      []worthBet `json:"bets,omitempty"`
	Remarks   []text     `json:"remarks,omitempty"`
}

// worthBet is a place with its odds; the worths are what it brings on average.
type worthBet struct {
	fit
	Odds   exact   `json:"odds"`
	Low    *figure `json:"expected_worth_low"`
	Likely *figure `json:"expected_worth_likely"`
	High   *figure `json:"expected_worth_high"`
}

type worthFit struct {
	fit
	Low       *figure `json:"worth_low"`
	High      *figure `json:"worth_high"`
	BreakEven *figure `json:"break_even_per_carat"`
	Likely    *figure `json:"worth_likely,omitempty"`
	Margin    *figure `json:"margin_pct,omitempty"` // of the likely worth
	Price     text    `json:"price,omitempty"`      // the row it was taken from
}

// WriteWorth writes the worth of stones as one JSON object, a line for each fit.
func WriteWorth(w io.Writer, all Worth) error {
	c := all.Currency
	sum := func(a *money.Amount) *figure {
		if a == nil {
			return nil
		}
		f := moneyFigure(*a, c)
		return &f
	}
	b := &builder{}
	b.raw("{\"format\": \"cabwright-worth\", \"version\": 1, \"currency\": ")
	b.value(text(c.Code))
	b.raw(", \"stones\": [")
	for i, s := range all.Stones {
		if i > 0 {
			b.raw(",")
		}
		b.raw("\n  ")
		line := worthStone{
			Stone:    text(s.Stone.Name),
			Cost:     sum(s.Cost),
			Rough:    measured(s.RoughCarat),
			PerCarat: sum(s.PerCarat),
			Fits:     []worthFit{},
			Remarks:  texts(s.Remarks),
		}
		if s.Uncut != nil {
			line.UncutLow, line.UncutHigh = sum(&s.Uncut.Low), sum(&s.Uncut.High)
		}
		fits := s.Fits
		if all.Top > 0 && len(fits) > all.Top {
			fits = fits[:all.Top]
		}
		for k, f := range fits {
			line.Fits = append(line.Fits, worthFitOf(k+1, f, sum))
		}
		for k, bet := range s.Bets {
			out := worthBet{fit: fitOf(k+1, bet.Fit), Odds: exact(bet.Odds)}
			if v := bet.Expected(); v != nil {
				out.Low, out.Likely, out.High = sum(&v.Low), sum(&v.Likely), sum(&v.High)
			}
			line.Bets = append(line.Bets, out)
		}
		b.value(line)
	}
	b.raw("\n]}\n")
	if b.err != nil {
		return b.err
	}
	_, err := w.Write(b.Bytes())
	return err
}

func worthFitOf(rank int, f worth.Fit, sum func(*money.Amount) *figure) worthFit {
	out := worthFit{fit: fitOf(rank, f.Fit), BreakEven: sum(f.BreakEven)}
	if f.Value != nil {
		out.Low, out.High, out.Likely = sum(&f.Value.Low), sum(&f.Value.High), sum(&f.Value.Likely)
		out.Price = text(f.Value.By)
	}
	if f.Margin != nil {
		percent := figure(f.Margin.Decimal(1))
		out.Margin = &percent
	}
	return out
}
