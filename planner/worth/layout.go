package worth

import (
	"slices"

	"cabwright/planner"
	"cabwright/planner/cuts"
	"cabwright/planner/money"
	"cabwright/planner/search"
)

// Layout is several stones of one rough with what they may bring together.
type Layout struct {
	cuts.Layout
	Values    []*Value      // of each stone, in the layout's order; nil: no price is meant for it
	Value     *Value        // of those that have a price, together; nil: none has
	BreakEven *money.Amount // a finished carat, of all of them; nil: nothing is known of the cost
	Margin    *money.Amount // percent of the likely worth that is left over the cost; nil: not both are known
}

// Unpriced is how many of a layout's stones no price is meant for.
func (l Layout) Unpriced() int {
	n := 0
	for _, v := range l.Values {
		if v == nil {
			n++
		}
	}
	return n
}

// WeighLayout puts a worth to a layout. colour looks under each of its stones, and
// is asked only when there are prices; cost is that of the whole rough, and may be
// nil.
func WeighLayout(
	s planner.Stone, l cuts.Layout, colour func(search.Fit) Colour, cost *money.Amount, p Prices,
) Layout {
	out := Layout{Layout: l}
	for _, f := range l.Fits {
		v := p.of(s, colour, f.Fit)
		out.Values = append(out.Values, v)
		switch {
		case v == nil:
		case out.Value == nil:
			sum := *v
			sum.By = ""
			out.Value = &sum
		default:
			sum := out.Value.Plus(*v)
			out.Value = &sum
		}
	}
	out.BreakEven, out.Margin = against(cost, l.Carat(), out.Value)
	return out
}

// SortLayouts orders layouts by their likely worth, dearest first; those without a
// price come last, and equal ones stay as they were.
func SortLayouts(layouts []Layout) {
	slices.SortStableFunc(layouts, func(a, b Layout) int { return CompareDearest(a.Value, b.Value) })
}
