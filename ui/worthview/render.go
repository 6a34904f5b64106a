package worthview

import (
	"fmt"

	"cabwright/planner"
	"cabwright/planner/diary"
	"cabwright/planner/money"
	"cabwright/planner/worth"
	"cabwright/ui/style"
	"cabwright/ui/view"
)

// listHead is how many lines stand above the list.
const listHead = 2

// Render draws the view in at most height lines of at most width cells: the fits
// with their worth, and beside them what the stone cost.
func (v *View) Render(s *view.State, width, height int) []string {
	if width <= 0 || height <= 0 {
		return nil
	}
	k := v.stone(s)
	cols, figures := view.Columns(width)
	if cols == 0 {
		lines := v.costs(s, k, width).Lines()
		lines = append(lines, "")
		return append(lines, v.list(s, k, width, max(3, height-len(lines)))...)
	}
	return view.Beside(v.list(s, k, cols, height), cols, v.costs(s, k, figures).Lines())
}

// list is the fits, one a line.
func (v *View) list(s *view.State, k *known, width, height int) []string {
	st := s.Style
	if len(k.stone.Fits) == 0 {
		words := "No fit has been found yet."
		if s.PlanOf == s.Revision() && !s.Searching {
			words = "Nothing fits."
		}
		return []string{st.Paint(style.Faint, words)}
	}
	wide := width >= 64
	head := fmt.Sprintf("%-17s %5s %9s %9s %8s", "  fit, mm", "ct", "worth low", "high", "even at")
	if wide {
		head = fmt.Sprintf(
			"%-20s %-5s %6s %10s %10s %10s %9s %7s  %s",
			"  fit, mm",
			"face",
			"ct",
			"worth low",
			"likely",
			"high",
			"even at",
			"margin",
			"price",
		)
	}
	title := "By carats"
	if v.byWorth {
		title = "By likely worth"
	}
	if s.PlanOf != s.Revision() {
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
	v.first = max(0, min(v.first, len(k.stone.Fits)-rows))
	for i := v.first; i < min(len(k.stone.Fits), v.first+rows); i++ {
		role, mark := style.Text, "  "
		if i == at {
			role, mark = style.Selected, "▸ "
		}
		out = append(out, st.Paint(role, view.Fit(mark+row(k.stone.Fits[i], k.prices.Currency, wide), width)))
	}
	return out
}

// row is one fit, behind the sign of the choice.
func row(f worth.Fit, c money.Currency, wide bool) string {
	name := view.Size(f.Candidate) + " " + view.Shape(f.Candidate)
	low, likely, high, by := "-", "-", "-", ""
	if f.Value != nil {
		low, likely, high, by = f.Value.Low.Text(c), f.Value.Likely.Text(c), f.Value.High.Text(c), planner.Visible(f.Value.By)
	}
	even, margin := "-", "-"
	if f.BreakEven != nil {
		even = f.BreakEven.Text(c)
	}
	if f.Margin != nil {
		margin = f.Margin.Decimal(0) + "%"
	}
	if !wide {
		return fmt.Sprintf("%s %5.2f %9s %9s %8s", view.Fit(name, 15), f.Carat, low, high, even)
	}
	return fmt.Sprintf(
		"%s %s %6.2f %10s %10s %10s %9s %7s  %s",
		view.Fit(name, 18),
		view.Fit(view.FaceUp(f.Candidate), 5),
		f.Carat,
		low,
		likely,
		high,
		even,
		margin,
		by,
	)
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
	if cost := s.Stone().Cost; cost != nil && cost.Lot != nil {
		lot(t, *cost.Lot, c)
	}
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
	case v.typed != nil:
		t.Row("price typed", v.typed.Low.Decimal(2)+" - "+v.typed.High.Decimal(2))
	case len(k.prices.Finished) == 0:
		t.Words(style.Faint, "No prices in your presets"+in(c)+": p gives one for now.")
	}
	if u := k.stone.Uncut; u != nil {
		t.Row("uncut, as rough", u.Low.Text(c)+" - "+u.High.Text(c))
		uncut(t, k.stone)
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

func lot(t *view.FigureList, l planner.Lot, c money.Currency) {
	name := "lot"
	if l.Name != "" {
		name = "lot " + planner.Visible(l.Name)
	}
	value := ""
	if l.Paid != "" {
		value = money.Exactly(l.Paid.Rat()).Text(c)
	}
	t.Row(name, value)
	if l.Carat > 0 {
		t.Row("its weight, ct", fmt.Sprintf("%.2f", l.Carat))
	}
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

// yields are those that rough is bid for at, percent: a sandy nodule, an ordinary
// one, a good seam (see the reference of trade facts: 4.7, about 20 and 34.4%).
var yields = []float64{5, 20, 35}

// bids is what another piece of this weight may cost, at usual yields and at that
// of this stone's heaviest fit.
func (v *View) bids(t *view.FigureList, k *known, c money.Currency) {
	price, ok := priceOf(k)
	if !ok || k.stone.RoughCarat <= 0 {
		return
	}
	t.Gap()
	t.Head("A bid for another like it")
	terms := worth.Terms{Price: price, Extra: v.extra, Margin: v.margin}
	list := append([]float64(nil), yields...)
	if len(k.stone.Fits) > 0 {
		heaviest := 0.0
		for _, f := range k.stone.Fits {
			heaviest = max(heaviest, f.Carat)
		}
		list = append(list, 100*heaviest/k.stone.RoughCarat)
	}
	for i, y := range list {
		name := fmt.Sprintf("%.0f%% yield", y)
		if i >= len(yields) {
			name = fmt.Sprintf("%.0f%%, as here", y)
		}
		b := worth.MostToPay(worth.Rough{Carat: money.Of(k.stone.RoughCarat)}, money.Of(y), terms)
		t.Row(name, b.Most.Low.Text(c)+" - "+b.Most.High.Text(c))
	}
	if v.extra.Sign() > 0 || v.margin.Sign() > 0 {
		t.Words(style.Faint, fmt.Sprintf("extras %s, margin %s%%", v.extra.Text(c), v.margin.Decimal(1)))
	}
}

// priceOf is the price a finished carat from the lowest to the highest that counts.
func priceOf(k *known) (worth.Span, bool) {
	if len(k.prices.Finished) == 0 {
		return worth.Span{}, false
	}
	low, high := k.prices.Finished[0].PerCarat.Low, k.prices.Finished[0].PerCarat.High
	for _, p := range k.prices.Finished[1:] {
		low, high = min(low, p.PerCarat.Low), max(high, p.PerCarat.High)
	}
	return worth.Span{Low: money.Of(low), High: money.Of(high)}, true
}
