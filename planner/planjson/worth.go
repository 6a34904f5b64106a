package planjson

import (
	"io"

	"cabwright/planner"
	"cabwright/planner/money"
	"cabwright/planner/worth"
)

// Worth is what some stones cost and may bring, in one currency.
type Worth struct {
	Currency money.Currency
	Stones   []worth.Stone
	SG       []float64 // of each stone: what its weights are taken with
	Top      int       // fits a stone, at most; 0: all
}

type worthStone struct {
	Stone     text          `json:"stone"`
	Cost      *figure       `json:"cost"` // null: not known, here and below
	Rough     measured      `json:"rough_carat"`
	PerCarat  *figure       `json:"cost_per_rough_carat"`
	Fits      []worthFit    `json:"fits"`
	UncutLow  *figure       `json:"uncut_low,omitempty"`
	UncutHigh *figure       `json:"uncut_high,omitempty"`
	Bets      []worthBet    `json:"bets,omitempty"`
	Layouts   []worthLayout `json:"layouts,omitempty"`     // when several stones were asked for
	OwnSaid   text          `json:"your_stones,omitempty"` // how they came out, in words
	Remarks   []text        `json:"remarks,omitempty"`
}

// worthBet is a place with its odds; the worths are what it brings on average.
type worthBet struct {
	fit
	Odds   exact   `json:"odds"`
	Low    *figure `json:"expected_worth_low"`
	Likely *figure `json:"expected_worth_likely"`
	High   *figure `json:"expected_worth_high"`
}

// worthLayout is a layout as a plan has it, with what its stones may bring.
type worthLayout struct {
	Rank      int          `json:"rank"`
	Carat     measured     `json:"carat"`
	Low       *figure      `json:"worth_low"` // of the stones that have a price, together
	High      *figure      `json:"worth_high"`
	Likely    *figure      `json:"worth_likely,omitempty"`
	Unpriced  int          `json:"without_price,omitempty"` // stones that no price is meant for
	BreakEven *figure      `json:"break_even_per_carat"`
	Margin    *figure      `json:"margin_pct,omitempty"`
	Fits      []worthLaid  `json:"fits"`
	Pieces    []uncutPiece `json:"pieces"`
	Cuts      []cut        `json:"cuts"`
}

type worthLaid struct {
	laidFit
	Low    *figure `json:"worth_low"`
	High   *figure `json:"worth_high"`
	Likely *figure `json:"worth_likely,omitempty"`
	Price  text    `json:"price,omitempty"`
}

type worthFit struct {
	fit
	Low       *figure `json:"worth_low"`
	High      *figure `json:"worth_high"`
	BreakEven *figure `json:"break_even_per_carat"`
	Likely    *figure `json:"worth_likely,omitempty"`
	Margin    *figure `json:"margin_pct,omitempty"` // of the likely worth
	Price     text    `json:"price,omitempty"`      // the row it was taken from

	OwnCarat []measured `json:"carat_by_your_stones,omitempty"` // low, likely, high
	OwnWorth []figure   `json:"worth_by_your_stones,omitempty"`
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
			OwnSaid:  text(s.OwnSaid),
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
		for k, l := range s.Layouts {
			line.Layouts = append(line.Layouts, worthLayoutOf(k+1, l, all.SG[i], sum))
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
	out.Margin = percentFigure(f.Margin)
	if own := f.Own; own != nil {
		out.OwnCarat = bandOf(own.Carat)
		if v := own.Value; v != nil {
			out.OwnWorth = []figure{*sum(&v.Low), *sum(&v.Likely), *sum(&v.High)}
		}
	}
	return out
}

func bandOf(b planner.Band) []measured {
	return []measured{measured(b.Low), measured(b.Likely), measured(b.High)}
}

// worthLayoutOf is a layout with its worth; sg is what its weights are taken with.
func worthLayoutOf(rank int, l worth.Layout, sg float64, sum func(*money.Amount) *figure) worthLayout {
	plain := layoutOf(rank, l.Layout, sg)
	out := worthLayout{
		Rank: rank, Carat: plain.Carat, Unpriced: l.Unpriced(), BreakEven: sum(l.BreakEven), Margin: percentFigure(l.Margin),
		Fits: []worthLaid{}, Pieces: plain.Pieces, Cuts: plain.Cuts,
	}
	if v := l.Value; v != nil {
		out.Low, out.High, out.Likely = sum(&v.Low), sum(&v.High), sum(&v.Likely)
	}
	for i, f := range plain.Fits {
		laid := worthLaid{laidFit: f}
		if v := l.Values[i]; v != nil {
			laid.Low, laid.High, laid.Likely, laid.Price = sum(&v.Low), sum(&v.High), sum(&v.Likely), text(v.By)
		}
		out.Fits = append(out.Fits, laid)
	}
	return out
}

func percentFigure(a *money.Amount) *figure {
	if a == nil {
		return nil
	}
	f := figure(a.Decimal(1))
	return &f
}
