package worthview

import (
	"fmt"
	"slices"

	"cabwright/planner/diary"
	"cabwright/planner/money"
	"cabwright/planner/odds"
	"cabwright/planner/worth"
	"cabwright/ui/style"
	"cabwright/ui/view"
)

// listHead is how many lines stand above the list.
const listHead = 2

// wideFigures is the width from which the figures have room for sentences and for
// four columns.
const wideFigures = 44

// Render draws the view in at most height lines of at most width cells: the fits
// with their worth, and beside them what the stone cost.
func (v *View) Render(s *view.State, width, height int) []string {
	if width <= 0 || height <= 0 {
		return nil
	}
	k := v.latest()
	if k == nil {
		return []string{s.Style.Paint(style.Faint, view.Fit("Being worked out…", min(width, 17)))}
	}
	cols, figures := view.Columns(width)
	var lines []string
	if cols == 0 {
		lines = append(v.costs(s, k, width).Lines(), "")
		lines = append(lines, v.list(s, k, width, max(3, height-len(lines)))...)
	} else {
		lines = view.Beside(v.list(s, k, cols, height), cols, v.costs(s, k, figures).Lines())
	}
	return lines[:min(len(lines), height)]
}

// list is the fits, one a line.
func (v *View) list(s *view.State, k *known, width, height int) []string {
	st := s.Style
	fits := v.fits()
	if len(fits) == 0 {
		words := "No fit has been found yet."
		if s.Current() && !s.Searching {
			words = "Nothing fits."
		}
		return []string{st.Paint(style.Faint, view.Fit(words, min(width, len(words))))}
	}
	cols := columns(width)
	head := " " + lineOf(cols, func(c column) string { return c.head })
	title := "By carats"
	if v.byWorth {
		title = "By likely worth"
	}
	if k.of.planOf != s.Revision() || k.of.priced.Revision != s.Revision() {
		title += ", of the stone before the last edit"
	}
	out := []string{
		st.Paint(style.Key, view.Fit(title, min(width, len(title)))),
		st.Paint(style.Faint, view.Fit(head, width)),
	}
	rows := max(1, height-listHead)
	at := v.at(s)
	if at >= 0 {
		v.first = min(max(v.first, at-rows+1), at)
	}
	v.first = max(0, min(v.first, len(fits)-rows))
	for i := v.first; i < min(len(fits), v.first+rows); i++ {
		role, mark := style.Text, " "
		if i == at {
			role, mark = style.Selected, "▸"
		}
		line := mark + lineOf(cols, func(c column) string { return c.text(fits[i], k.prices.Currency) })
		out = append(out, st.Paint(role, view.Fit(line, width)))
	}
	return out
}

// costs is what the stone cost, and what another may.
func (v *View) costs(s *view.State, k *known, width int) *view.FigureList {
	t := view.NewFigureList(s.Style, width)
	c := k.prices.Currency
	t.Head("Cost" + in(c))
	if k.stone.Cost == nil {
		t.Words(style.Faint, "Not said: c says it.")
	} else {
		t.Row("this stone", k.stone.Cost.Text(c))
		t.Row("a rough carat", k.stone.PerCarat.Text(c))
	}
	t.Row("rough, ct", fmt.Sprintf("%.2f", k.stone.RoughCarat))
	for _, r := range k.remarks {
		t.Words(style.Warn, r)
	}
	if m, ok := s.Presets.Material(s.Stone().Material); ok {
		if remark := diary.NotDry(s.Stone(), m.Porous, s.Presets.Defaults.ScaleDivision); remark != "" {
			t.Words(style.Warn, remark)
		}
	}
	t.Gap()
	switch {
	case s.Typed != nil:
		t.Row("price typed", s.Typed.Low.Decimal(2)+" - "+s.Typed.High.Decimal(2))
	case len(k.prices.Finished) == 0:
		t.Words(style.Faint, "No prices in your presets"+in(c)+": p gives one for now.")
	}
	if u := k.stone.Uncut; u != nil {
		name := "uncut, as rough"
		if width < wideFigures {
			name = "uncut"
		}
		t.Row(name, u.Low.Text(c)+" - "+u.High.Text(c))
		uncut(t, k.stone)
	}
	v.chosenRows(s, k, t)
	if cost := s.Stone().Cost; cost != nil && cost.Lot != nil {
		k.lotRows(t, *cost.Lot, width >= wideFigures)
	}
	v.bids(t, k, c)
	return t
}

// in names a currency, if there is one.
func in(c money.Currency) string {
	if c.Code == money.None {
		return ""
	}
	return ", " + c.Code
}

// chosenRows is what is known of the chosen fit besides its line: as the cutter's
// own stones came out, and as a bet where marks are not sure.
func (v *View) chosenRows(s *view.State, k *known, t *view.FigureList) {
	c := k.prices.Currency
	at := v.at(s)
	if at < 0 {
		return
	}
	f := v.fits()[at]
	if own := f.Own; own != nil && s.Folder.Own != nil {
		t.Gap()
		t.Head("By your own stones")
		t.Row("this fit, ct", fmt.Sprintf("%.2f - %.2f", own.Carat.Low, own.Carat.High))
		if own.Value != nil {
			t.Row("worth", own.Value.Low.Text(c)+" - "+own.Value.High.Text(c))
		}
		if t.Width() < wideFigures {
			t.Row(s.Folder.Own.Short())
		} else {
			t.Words(style.Faint, s.Folder.Own.Text()+".")
		}
	}
	i := slices.IndexFunc(k.stone.Bets, func(b worth.Bet) bool { return view.SameCut(b.Fit.Candidate, f.Candidate) })
	switch {
	case i < 0 && s.Unsure() && !s.Bets.Wanted:
		t.Gap()
		t.Words(style.Faint, "Marks are not sure: o weighs the odds.")
		return
	case i < 0 || k.stone.Bets[i].Value == nil:
		return
	}
	b := k.stone.Bets[i]
	t.Gap()
	t.Head("As a bet")
	t.Row("odds", odds.Percent(b.Odds))
	t.Row("if it holds", b.Value.Likely.Text(c))
	left := "nothing"
	if b.IfNot != nil {
		left = b.IfNot.Likely.Text(c)
	}
	t.Row("if not", left)
	mean := b.Expected()
	t.Row("on average", mean.Likely.Text(c))
	t.Row("low-high", mean.Low.Text(c)+" - "+mean.High.Text(c))
}

// uncut says when the rough may bring more than any stone out of it.
func uncut(t *view.FigureList, s worth.Stone) {
	best, _ := s.Dearest()
	if best == nil {
		return
	}
	if s.Uncut.Likely.Compare(best.Likely) >= 0 {
		t.Words(style.Warn, "Sell it uncut? It may bring more than the best stone.")
	}
}

// bids is what another piece of this weight may cost, at usual yields and at that
// of this stone's heaviest fit.
func (v *View) bids(t *view.FigureList, k *known, c money.Currency) {
	bids, here := k.stone.BidsForAnother(k.prices, worth.Terms{Extra: v.extra, Margin: v.margin})
	if len(bids) == 0 {
		return
	}
	t.Gap()
	t.Head("A bid for another like it")
	for i, b := range bids {
		name := b.Yield.Decimal(0) + "% yield"
		if here && i == len(bids)-1 {
			name = b.Yield.Decimal(0) + "%, here"
		}
		t.Row(name, b.Most.Low.Text(c)+" - "+b.Most.High.Text(c))
	}
	if v.extra.Sign() > 0 || v.margin.Sign() > 0 {
		t.Words(style.Faint, fmt.Sprintf("extras %s, margin %s%%", v.extra.Text(c), v.margin.Decimal(1)))
	}
}
