package planjson

import (
	"io"

	"cabwright/planner/learn"
	"cabwright/planner/money"
	"cabwright/planner/search"
	"cabwright/planner/worth"
)

// BenchStone is one stone of a folder.
type BenchStone struct {
	File, Name   string
	Wrong        string // why it cannot be read; empty: it can
	Stage, Since string
	Carat        float64 // on the scale, or as drawn
	Weighed      bool
	Waits        []string
	Best         *search.Fit // nil: not planned, or nothing fits
	Planned      bool        // just now, not taken from the diary
	Finished     float64     // carats; 0: not finished, or not weighed
	Currency     money.Currency
	Cost         *money.Amount
	Worth        *worth.Value
}

type stonesFile struct {
	Format  string       `json:"format"`
	Version int          `json:"version"`
	Stones  []benchStone `json:"stones"`
	Learned learned      `json:"learned"`
}

type benchStone struct {
	File      text       `json:"file"`
	Stone     text       `json:"stone"`
	Error     text       `json:"error,omitempty"`
	Stage     text       `json:"stage,omitempty"`
	Since     text       `json:"since,omitempty"`
	Carat     *measured  `json:"carat,omitempty"`
	Weighed   bool       `json:"weighed"`
	Waits     []text     `json:"waits"`
	Best      *fit       `json:"best_fit"`
	Finished  *measured  `json:"finished_carat,omitempty"`
	Currency  text       `json:"currency,omitempty"`
	Cost      *figure    `json:"cost"`
	WorthLow  *figure    `json:"worth_low"`
	WorthHigh *figure    `json:"worth_high"`
	BandByOwn []measured `json:"carat_by_your_stones,omitempty"` // low, likely, high
	BestIsNew bool       `json:"planned_now"`
}

type learned struct {
	RangesHeld int          `json:"ranges_held"`
	RangesOf   int          `json:"ranges_of"`
	RangesPct  *[2]measured `json:"ranges_pct"` // 95%, Jeffreys
	BandsHeld  int          `json:"bands_held"`
	BandsOf    int          `json:"bands_of"`
	BandsPct   *[2]measured `json:"bands_pct"`
	Correction *correction  `json:"correction"`
}

type correction struct {
	Stones int      `json:"stones"`
	Low    measured `json:"low"`
	Middle measured `json:"middle"`
	High   measured `json:"high"`
}

// WriteStones writes the stones of a folder and what the finished ones teach as
// one JSON object.
func WriteStones(w io.Writer, stones []BenchStone, r learn.Record) error {
	c, corrected := r.Correction()
	out := stonesFile{Format: "cabwright-stones", Version: 1, Stones: []benchStone{}, Learned: learnedOf(r)}
	for _, s := range stones {
		line := benchStone{
			File:      text(s.File),
			Stone:     text(s.Name),
			Error:     text(s.Wrong),
			Stage:     text(s.Stage),
			Since:     text(s.Since),
			Weighed:   s.Weighed,
			Waits:     texts(s.Waits),
			BestIsNew: s.Planned,
		}
		if s.Wrong == "" {
			carat := measured(s.Carat)
			line.Carat, line.Currency = &carat, text(s.Currency.Code)
		}
		if s.Best != nil {
			best := fitOf(1, *s.Best)
			line.Best = &best
			if corrected {
				line.BandByOwn = bandOf(c.Band(s.Best.Carat))
			}
		}
		if s.Finished > 0 {
			finished := measured(s.Finished)
			line.Finished = &finished
		}
		if s.Cost != nil {
			cost := moneyFigure(*s.Cost, s.Currency)
			line.Cost = &cost
		}
		if s.Worth != nil {
			low, high := moneyFigure(s.Worth.Low, s.Currency), moneyFigure(s.Worth.High, s.Currency)
			line.WorthLow, line.WorthHigh = &low, &high
		}
		out.Stones = append(out.Stones, line)
	}
	b := &builder{}
	b.value(out)
	b.raw("\n")
	if b.err != nil {
		return b.err
	}
	_, err := w.Write(b.Bytes())
	return err
}

func learnedOf(r learn.Record) learned {
	var out learned
	percent := func(held, of int) *[2]measured {
		if of == 0 {
			return nil
		}
		i := learn.Jeffreys(held, of)
		return &[2]measured{measured(100 * i.Low), measured(100 * i.High)}
	}
	out.RangesHeld, out.RangesOf = r.RangesHeld()
	out.BandsHeld, out.BandsOf = r.BandsHeld()
	out.RangesPct, out.BandsPct = percent(out.RangesHeld, out.RangesOf), percent(out.BandsHeld, out.BandsOf)
	if c, ok := r.Correction(); ok {
		out.Correction = &correction{
			Stones: c.Stones,
			Low:    measured(c.Low),
			Middle: measured(c.Middle),
			High:   measured(c.High),
		}
	}
	return out
}

func correctionOf(c learn.Correction) *correction {
	return &correction{Stones: c.Stones, Low: measured(c.Low), Middle: measured(c.Middle), High: measured(c.High)}
}

// YourStones returns the member that says how a cutter's finished stones came out:
// a planned weight times its middle is likely, times low to high is to be expected
// of four in five. The weights of the fits are as planned.
func YourStones(c learn.Correction) Member {
	return Member{name: "your_stones", object: correctionOf(c)}
}
