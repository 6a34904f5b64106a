package command

import (
	"fmt"
	"strings"

	"cabwright/planner/cuts"
	"cabwright/planner/money"
	"cabwright/planner/worth"
)

// layoutsText is the table of several stones from one rough with what they may
// bring, in the order they are in.
func layoutsText(layouts []worth.Layout, c money.Currency, top int) string {
	if len(layouts) == 0 {
		return ""
	}
	tab := &table{tight: true, right: map[int]bool{0: true, 1: true, 2: true, 3: true, 4: true, 5: true, 6: true}}
	tab.add("#", "carat", "worth low", "likely", "high", "even at", "margin", "stones")
	missing := false
	for i, l := range layouts[:min(top, len(layouts))] {
		row := []string{fmt.Sprint(i + 1), weight(l.Carat()), "-", "-", "-"}
		if v := l.Value; v != nil {
			row = append(row[:2], v.Low.Text(c), v.Likely.Text(c), v.High.Text(c))
		}
		missing = missing || l.Unpriced() > 0
		tab.add(append(row, optional(l.BreakEven, c), percent(l.Margin), stonesOf(l))...)
	}
	text := "Several stones from this rough, sawn apart (not proved to be the most):\n" + tab.String()
	if missing {
		text += "*: no price of yours is meant for it, and it is counted at nothing\n"
	}
	return text
}

// stonesOf names the stones of a layout; one without a price carries a mark.
func stonesOf(l worth.Layout) string {
	var names []string
	for i, f := range l.Fits {
		name := outlineName(f.Candidate) + " " + weight(f.Carat)
		if l.Values[i] == nil {
			name += "*"
		}
		names = append(names, name)
	}
	return strings.Join(names, ", ")
}

// weighLayouts puts a worth to layouts, in the order they are in.
func (s *specimen) weighLayouts(layouts []cuts.Layout, cost *money.Amount, p worth.Prices) []worth.Layout {
	var out []worth.Layout
	for _, l := range layouts {
		out = append(out, worth.WeighLayout(s.stone, l, s.colourUnder, cost, p))
	}
	return out
}
