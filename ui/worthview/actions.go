package worthview

import (
	"errors"
	"fmt"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"cabwright/planner"
	"cabwright/planner/money"
	"cabwright/planner/worth"
	"cabwright/ui/keys"
	"cabwright/ui/style"
	"cabwright/ui/view"
	"cabwright/ui/widget"
)

// Actions returns what can be done now.
func (v *View) Actions(s *view.State) []keys.Action {
	none := keys.Unless(len(s.Plan.Fits) > 0, "no fit has been found yet")
	order := "by worth"
	if v.byWorth {
		order = "by carats"
	}
	return []keys.Action{
		{
			Name:     "Next fit",
			Keys:     []string{"down", "j"},
			Short:    "next fit",
			Help:     "the one below in the list",
			Disabled: none,
			Run:      keys.Do(func() { v.move(s, 1) }),
		},
		{
			Name:     "Fit before",
			Keys:     []string{"up", "k"},
			Help:     "the one above in the list",
			Disabled: none,
			Run:      keys.Do(func() { v.move(s, -1) }),
		},
		{
			Name:  "Say what it cost",
			Keys:  []string{"c"},
			Short: "cost",
			Help:  "paid, extras, and the lot it was bought in",
			Words: "paid price lot parcel money currency",
			Run:   keys.Do(func() { askCost(s) }),
		},
		{
			Name:  "Give a price for now",
			Keys:  []string{"p"},
			Short: "price",
			Help:  "money a finished carat, in place of the prices in your presets; it is not kept",
			Words: "carat worth sell",
			Run:   keys.Do(func() { askPrice(s) }),
		},
		{
			Name:     "Sort " + order,
			Keys:     []string{"w"},
			Short:    order,
			Help:     "the dearest or the heaviest first",
			Words:    "rank order",
			Disabled: none,
			Run:      keys.Do(func() { v.byWorth = !v.byWorth }),
		},
		{
			Name:     "Weigh the odds",
			Keys:     []string{"o"},
			Help:     "what each place brings on average, where marks are not sure",
			Words:    "bet expected worth unsure",
			Disabled: keys.Unless(s.Unsure(), "every mark is sure"),
			Run: func() tea.Cmd {
				s.Say(style.Text, "The odds are weighed once the search has ended.")
				return func() tea.Msg { return view.WeighMsg{} }
			},
		},
		{
			Name:  "Terms of the next bid",
			Keys:  []string{"b"},
			Short: "bid",
			Help:  "extras and margin that the bids for another like it count with",
			Words: "buy rough margin shipping tax",
			Run:   func() tea.Cmd { v.askTerms(s); return nil },
		},
	}
}

// mostMoney is the most that a sum can be: more than any rough has cost.
const mostMoney = 1e12

// sum is a field for an amount of money.
func sum(label, value, blank string) *widget.Field {
	f := &widget.Field{Label: label, Kind: widget.Plain, Max: mostMoney, Step: 1, Optional: blank}
	if value != "" {
		f.With(value)
	}
	return f
}

// read takes the sum of a field; none when it is blank.
func read(f *widget.Form, i int) (*money.Amount, error) {
	if f.Blank(i) {
		return nil, nil
	}
	a, err := money.Parse(f.Text(i))
	if err != nil {
		return nil, widget.Wrong{Field: i, Err: err}
	}
	return &a, nil
}

// askPrice asks for a price that holds until the workbench is left.
func askPrice(s *view.State) {
	const low, high = 0, 1
	code := worth.CurrencyFor(s.Stone(), s.Presets).Code
	was := [2]string{}
	if s.Typed != nil {
		was = [2]string{s.Typed.Low.Decimal(6), s.Typed.High.Decimal(6)}
	}
	s.Ask(&widget.Form{
		Title: "Price of a finished carat, for now",
		Fields: []*widget.Field{
			low:  sum("Low, "+moneyName(code), was[low], "the prices of your presets"),
			high: sum("High, "+moneyName(code), was[high], "as the low one"),
		},
		Done: func(f *widget.Form) error {
			from, err := read(f, low)
			if err != nil {
				return err
			}
			to, err := read(f, high)
			if err != nil {
				return err
			}
			switch {
			case from == nil:
				s.Typed = nil
				s.Say(style.Text, "The prices of your presets count again.")
				return nil
			case to == nil:
				to = from
			case to.Compare(*from) < 0:
				return widget.Wrong{Field: high, Err: errors.New("the high price is below the low one")}
			}
			s.Typed = &worth.Span{Low: *from, High: *to}
			s.Say(style.Text, "Priced at %s to %s a finished carat.", from.Decimal(6), to.Decimal(6))
			return nil
		},
	})
}

func moneyName(code string) string {
	if code == money.None {
		return "money"
	}
	return code
}

// askTerms asks for what bids count with.
func (v *View) askTerms(s *view.State) {
	const extra, margin = 0, 1
	s.Ask(&widget.Form{
		Title: "Bids for another like it",
		Fields: []*widget.Field{
			extra: sum("Shipping, tax, platform", v.extra.Decimal(6), "none"),
			margin: (&widget.Field{Label: "Margin, percent of the sale", Kind: widget.Plain, Max: 99.9, Step: 5}).WithNumber(
				v.margin.Float(),
			),
		},
		Done: func(f *widget.Form) error {
			more, err := read(f, extra)
			if err != nil {
				return err
			}
			v.extra, v.margin = money.Amount{}, money.Of(f.Number(margin))
			if more != nil {
				v.extra = *more
			}
			return nil
		},
	})
}

// askCost asks for what the stone cost.
func askCost(s *view.State) {
	const currency, paid, extra, lotPaid, lotCarat, lotName = 0, 1, 2, 3, 4, 5
	was := planner.Cost{Currency: worth.CurrencyFor(s.Stone(), s.Presets).Code}
	if c := s.Stone().Cost; c != nil {
		was = *c
	}
	lot := planner.Lot{}
	if was.Lot != nil {
		lot = *was.Lot
	}
	carat := &widget.Field{Label: "Weight of the whole lot", Kind: widget.Carat, Max: 1e6, Optional: "not known"}
	if lot.Carat > 0 {
		carat.WithNumber(lot.Carat)
	}
	code := &widget.Field{
		Label:    "Currency, its code (EUR, USD, ...)",
		Kind:     widget.Words,
		MaxLen:   3,
		Optional: "as it is, " + was.Currency,
	}
	name := &widget.Field{Label: "Name of the lot", Kind: widget.Words, Optional: "none"}
	name.With(lot.Name)
	s.Ask(&widget.Form{
		Title: "What it cost",
		Fields: []*widget.Field{
			currency: code,
			paid:     sum("Paid for this stone", figures(was.Paid), "its share of the lot"),
			extra:    sum("Extras for it: shipping, tax", figures(was.Extra), "none"),
			lotPaid:  sum("Paid for the whole lot", figures(lot.Paid), "bought alone"),
			lotCarat: carat,
			lotName:  name,
		},
		Done: func(f *widget.Form) error {
			cost := planner.Cost{Currency: strings.ToUpper(f.Text(currency))}
			if f.Blank(currency) {
				cost.Currency = was.Currency
			}
			whole := planner.Lot{Name: f.Text(lotName), Carat: f.Number(lotCarat)}
			for i, to := range map[int]**money.Amount{paid: &cost.Paid, extra: &cost.Extra, lotPaid: &whole.Paid} {
				a, err := read(f, i)
				if err != nil {
					return err
				}
				*to = a
			}
			if whole.Paid != nil || whole.Carat > 0 || whole.Name != "" {
				cost.Lot = &whole
			}
			if _, known := money.Lookup(cost.Currency); !known {
				return widget.Wrong{Field: currency, Err: fmt.Errorf("%q is no code of ISO 4217", planner.Visible(cost.Currency))}
			}
			return s.Do("Say what it cost", func(st planner.Stone) (planner.Stone, error) { return planner.SetCost(st, &cost) })
		},
	})
}

// figures is a sum as the stone's file has it, "" for none.
func figures(a *money.Amount) string {
	if a == nil {
		return ""
	}
	return a.Figures()
}
