package command

import (
	"fmt"
	"strings"

	"cabwright/planner"
	"cabwright/planner/money"
	"cabwright/planner/planjson"
	"cabwright/planner/worth"
)

// worthText lays the worth of stones out for people.
type worthText struct {
	all    planjson.Worth
	paths  []string
	prices worth.Prices
	top    int
}

func (t worthText) String() string {
	var b strings.Builder
	for i, s := range t.all.Stones {
		if i > 0 {
			b.WriteString("\n")
		}
		b.WriteString(t.stone(i, s))
	}
	if len(t.all.Stones) > 1 {
		b.WriteString("\n" + t.together())
	}
	if len(t.prices.Finished) == 0 {
		b.WriteString("\n" + t.noPrice())
	}
	return b.String()
}

func (t worthText) noPrice() string {
	if t.all.Currency.Code == money.None {
		return noPrices
	}
	return paragraph(fmt.Sprintf(
		"You have no prices in %s: rows go into the file that 'cabwright presets' names, or give --price LOW-HIGH.",
		t.all.Currency.Code,
	))
}

// stone is one stone with its fits.
func (t worthText) stone(i int, s worth.Stone) string {
	var b strings.Builder
	name := planner.Visible(s.Stone.Name)
	if name == "" {
		name = planner.Visible(t.paths[i])
	}
	head := fmt.Sprintf("%s: %.2f ct of rough", name, s.RoughCarat)
	switch {
	case s.Cost == nil:
		head += ", cost not known (the stone file's \"cost\" says it)"
	default:
		head += fmt.Sprintf(", cost %s, %s a rough carat", sumText(*s.Cost, t.all.Currency), s.PerCarat.Text(t.all.Currency))
	}
	b.WriteString(paragraph(head + lotText(s.Stone, t.all.Currency) + "."))
	for _, r := range s.Remarks {
		b.WriteString(paragraph(planner.Visible(r)))
	}
	if s.Uncut != nil {
		b.WriteString(paragraph(
			"Sold uncut, as rough: " + spanText(worth.Span{Low: s.Uncut.Low, High: s.Uncut.High}, t.all.Currency) + ".",
		))
	}
	if len(s.Fits) == 0 {
		return b.String() + "Nothing fits.\n"
	}
	return b.String() + t.fits(s) + t.own(s) + layoutsText(s.Layouts, t.all.Currency, t.top) +
		betsText(s.Bets, t.all.Currency, t.top) + t.uncutRemark(s) + t.bids(s)
}

// lotText says which lot a stone is of.
func lotText(s planner.Stone, c money.Currency) string {
	if s.Cost == nil || s.Cost.Lot == nil {
		return ""
	}
	lot := s.Cost.Lot
	text := ", of a lot"
	if lot.Name != "" {
		text += " " + planner.Visible(lot.Name)
	}
	if lot.Carat > 0 {
		text += fmt.Sprintf(" of %.2f ct", lot.Carat)
	}
	if lot.Paid != nil {
		text += " for " + sumText(*lot.Paid, c)
	}
	return text
}

func (t worthText) fits(s worth.Stone) string {
	tab := &table{tight: true, right: map[int]bool{0: true, 3: true, 4: true, 5: true, 6: true, 7: true, 8: true}}
	tab.add("#", "outline, mm", "face", "carat", "worth low", "likely", "high", "even at", "margin", "price")
	missing := false
	for i, f := range s.Fits[:min(t.top, len(s.Fits))] {
		row := []string{fmt.Sprint(i + 1), outlineName(f.Candidate), string(f.Face), weight(f.Carat)}
		if v := f.Value; v != nil {
			row = append(row, v.Low.Text(t.all.Currency), v.Likely.Text(t.all.Currency), v.High.Text(t.all.Currency))
		} else {
			row, missing = append(row, "-", "-", "-"), true
		}
		row = append(row, optional(f.BreakEven, t.all.Currency), percent(f.Margin))
		by := ""
		if f.Value != nil {
			by = planner.Visible(f.Value.By)
		}
		tab.add(append(row, by)...)
	}
	text := tab.String()
	if more := len(s.Fits) - t.top; more > 0 {
		text += fmt.Sprintf("and %d more: --top %d shows them all\n", more, len(s.Fits))
	}
	if s.Cost != nil {
		text += "even at: the price a finished carat at which the cost comes back\n"
	}
	if missing && len(t.prices.Finished) > 0 {
		text += "-: no price of yours is meant for it\n"
	}
	return text
}

// own is the table of the same fits as the cutter's own finished stones came out.
func (t worthText) own(s worth.Stone) string {
	if s.OwnSaid == "" {
		return ""
	}
	c := t.all.Currency
	tab := &table{tight: true, right: map[int]bool{0: true, 3: true, 4: true, 5: true, 6: true, 7: true, 8: true}}
	tab.add("#", "outline, mm", "face", "carat", "low-high", "worth low", "likely", "high", "even at")
	for i, f := range s.Fits[:min(t.top, len(s.Fits))] {
		ct := f.Own.Carat
		row := []string{fmt.Sprint(i + 1), outlineName(f.Candidate), string(f.Face), weight(ct.Likely), bandText(ct)}
		if v := f.Own.Value; v != nil {
			row = append(row, v.Low.Text(c), v.Likely.Text(c), v.High.Text(c))
		} else {
			row = append(row, "-", "-", "-")
		}
		tab.add(append(row, optional(f.Own.BreakEven, c))...)
	}
	return paragraph("By your own stones: "+s.OwnSaid+".") + tab.String()
}

// bids is the table of what another piece of this weight may cost.
func (t worthText) bids(s worth.Stone) string {
	bids, here := s.BidsForAnother(t.prices, worth.Terms{})
	if len(bids) == 0 {
		return ""
	}
	c := t.all.Currency
	tab := &table{right: map[int]bool{0: true, 1: true, 2: true}}
	tab.add("yield", "finished ct", "bid in all", "")
	for i, b := range bids {
		as := ""
		if here && i == len(bids)-1 {
			as = "as the heaviest of this one"
		}
		tab.add(b.Yield.Decimal(0)+"%", b.Finished.Decimal(2), b.Most.Low.Text(c)+" - "+b.Most.High.Text(c), as)
	}
	const head = "The most to pay for another of %.2f ct, margin and extras not counted (cabwright bid does):"
	return paragraph(fmt.Sprintf(head, s.RoughCarat)) + tab.String()
}

func optional(a *money.Amount, c money.Currency) string {
	if a == nil {
		return "-"
	}
	return a.Text(c)
}

func percent(a *money.Amount) string {
	if a == nil {
		return "-"
	}
	return a.Decimal(0) + "%"
}

// uncutRemark compares the best worth, of one stone or of several, with that of the
// rough.
func (t worthText) uncutRemark(s worth.Stone) string {
	best, many := s.Dearest()
	if s.Uncut == nil || best == nil {
		return ""
	}
	what := "the best stone"
	if many {
		what = "the best stones"
	}
	switch {
	case s.Uncut.Low.Compare(best.High) >= 0:
		return "Sell it uncut: the rough brings more than " + what + " at best.\n"
	case s.Uncut.Likely.Compare(best.Likely) >= 0:
		return "Sell it uncut? The rough may bring more than " + what + " likely will.\n"
	}
	return ""
}

// together adds the stones of several files up, and says which one alone pays for
// all of them.
func (t worthText) together() string {
	c := t.all.Currency
	tab := &table{right: map[int]bool{1: true, 2: true, 3: true, 4: true}}
	tab.add("stone", "rough ct", "cost", "best ct", "likely worth", "")
	rough, cost, best, likely := 0.0, money.Amount{}, 0.0, money.Amount{}
	for i, s := range t.all.Stones {
		name := planner.Visible(s.Stone.Name)
		if name == "" {
			name = planner.Visible(t.paths[i])
		}
		row := []string{name, fmt.Sprintf("%.2f", s.RoughCarat), optional(s.Cost, c), "-", "-", ""}
		rough += s.RoughCarat
		if s.Cost != nil {
			cost = cost.Plus(*s.Cost)
		}
		s.Sort()
		if len(s.Fits) > 0 {
			f := s.Fits[0]
			row[3] = weight(f.Carat)
			best += f.Carat
			if f.Value != nil {
				row[4] = f.Value.Likely.Text(c)
				likely = likely.Plus(f.Value.Likely)
				if total := t.cost(); total.Sign() > 0 && f.Value.Low.Compare(total) >= 0 {
					row[5] = "pays for all of them"
				}
			}
		}
		tab.add(row...)
	}
	tab.add("together", fmt.Sprintf("%.2f", rough), cost.Text(c), weight(best), likely.Text(c), "")
	return tab.String()
}

// cost is what all the stones cost together.
func (t worthText) cost() money.Amount {
	sum := money.Amount{}
	for _, s := range t.all.Stones {
		if s.Cost != nil {
			sum = sum.Plus(*s.Cost)
		}
	}
	return sum
}
