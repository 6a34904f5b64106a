package sawview

import (
	"cmp"
	"fmt"
	"slices"

	tea "github.com/charmbracelet/bubbletea"

	"cabwright/planner/cuts"
	"cabwright/planner/money"
	"cabwright/planner/worth"
	"cabwright/ui/keys"
	"cabwright/ui/style"
	"cabwright/ui/view"
)

// mostStonesFirst puts layouts with more stones before those with fewer: what was
// asked for comes first, the heaviest of it at the top.
func mostStonesFirst(layouts []cuts.Layout) {
	slices.SortStableFunc(layouts, func(a, b cuts.Layout) int { return cmp.Compare(len(b.Fits), len(a.Fits)) })
}

// worthsOf is what the worth of the layouts hangs on.
type worthsOf struct {
	answer *answer
	priced view.PricedOf
}

// worths is what each layout of an answer may bring.
type worths struct {
	layouts  []worth.Layout
	currency money.Currency
}

// followWorths puts a worth to the layouts, once there are any and prices.
func (v *View) followWorths(s *view.State) tea.Cmd {
	if v.answer == nil || v.answer.err != nil {
		return nil
	}
	priced, of := s.Priced()
	if len(priced.Prices.Finished) == 0 {
		return nil
	}
	layouts := v.answer.layouts
	return v.worths.Ask(worthsOf{v.answer, of}, func() worths {
		out := worths{currency: priced.Prices.Currency}
		for _, l := range layouts {
			out.layouts = append(out.layouts, worth.WeighLayout(priced.Stone, l, priced.Colour, nil, priced.Prices))
		}
		return out
	})
}

// priced returns the layouts with their worth, in the answer's order; nil while it
// is not known.
func (v *View) priced(s *view.State) []worth.Layout {
	_, of := s.Priced()
	known, fresh, _ := v.worths.Last(worthsOf{v.answer, of})
	if !fresh {
		return nil
	}
	return known.layouts
}

// order is the layouts as they are listed, by their place in the answer.
func (v *View) order(s *view.State) []int {
	if v.answer == nil {
		return nil
	}
	list := make([]int, len(v.answer.layouts))
	for i := range list {
		list[i] = i
	}
	if priced := v.priced(s); v.byWorth && priced != nil {
		slices.SortStableFunc(list, func(a, b int) int { return worth.CompareDearest(priced[a].Value, priced[b].Value) })
	}
	return list
}

// shown is the layout that is drawn and listed; nil while there is none.
func (v *View) shown(s *view.State) *cuts.Layout {
	list := v.order(s)
	if len(list) == 0 {
		return nil
	}
	return &v.answer.layouts[list[min(v.pick, len(list)-1)]]
}

// layoutActions choose among several layouts.
func (v *View) layoutActions(s *view.State) []keys.Action {
	n := 0
	if l := v.layout(s); l != nil && v.stones > 1 {
		n = len(v.answer.layouts)
	}
	none := keys.Unless(n > 1, "there is one way to lay the stones, or it is being worked out")
	unpriced := none
	if none == "" && v.priced(s) == nil {
		unpriced = "there are no prices: p in the view of worth gives one for now"
	}
	order := "by worth"
	if v.byWorth {
		order = "by carats"
	}
	return []keys.Action{
		{
			Name:     "Next layout",
			Keys:     []string{"l"},
			Short:    "next layout",
			Help:     "another way to lay stones into this rough",
			Disabled: none,
			Run:      keys.Do(func() { v.pick, v.at = (v.pick+1)%n, 0 }),
		},
		{
			Name:     "Layouts " + order,
			Keys:     []string{"w"},
			Help:     "the dearest or the heaviest first",
			Words:    "rank sort order price",
			Disabled: unpriced,
			Run:      keys.Do(func() { v.byWorth, v.pick, v.at = !v.byWorth, 0, 0 }),
		},
	}
}

// worthRows say what the stones may bring together.
func (v *View) worthRows(s *view.State, t *view.FigureList) {
	all := v.priced(s)
	if all == nil || v.layout(s) == nil {
		return
	}
	w := all[v.order(s)[min(v.pick, len(all)-1)]]
	if w.Value == nil {
		return
	}
	known, _, _ := v.worths.Last(worthsOf{})
	c := known.currency
	t.Row("worth, "+c.Code, w.Value.Low.Text(c)+" - "+w.Value.High.Text(c))
	likely := w.Value.Likely.Text(c)
	if n := w.Unpriced(); n > 0 {
		likely += fmt.Sprintf(", %d without a price", n)
	}
	t.Row("likely", likely)
}

// layoutList is the ways to lay several stones, the one shown marked.
func (v *View) layoutList(s *view.State, t *view.FigureList) {
	if v.stones < 2 || v.layout(s) == nil || len(v.answer.layouts) < 2 {
		return
	}
	t.Gap()
	title, priced := "Layouts, most stones first", v.priced(s)
	if v.byWorth && priced != nil {
		title = "Layouts, dearest first"
	}
	if v.busy {
		title += ", so far"
	}
	t.Head(title)
	known, _, _ := v.worths.Last(worthsOf{})
	for i, k := range v.order(s) {
		l := v.answer.layouts[k]
		words := fmt.Sprintf("%s, %.2f ct", counted(len(l.Fits), "stone"), l.Carat())
		if priced != nil && priced[k].Value != nil {
			words += ", likely " + priced[k].Value.Likely.Text(known.currency)
		}
		t.Item(style.Text, i == min(v.pick, len(v.answer.layouts)-1), words)
	}
}
