package worthview

import (
	"cmp"
	"fmt"

	"cabwright/planner"
	"cabwright/planner/folder"
	"cabwright/planner/money"
	"cabwright/planner/planjson"
	"cabwright/planner/search"
	"cabwright/planner/worth"
	"cabwright/ui/style"
	"cabwright/ui/view"
)

// lotStone is one stone of a lot.
type lotStone struct {
	name  string
	carat float64       // of rough
	cost  *money.Amount // its share; nil: not known
	best  *search.Fit   // this stone's heaviest, of another the fit that its diary kept last; nil: none
	value *worth.Value  // of that; nil: no price is meant for it
	here  bool          // the stone that is open
	pays  worth.Pays    // whether it alone brings back what all of the lot cost
}

// lot shares the cost of the stone's lot among the stones of the folder that are of
// it. mine is what the open stone cost.
func (w work) lot(model float64) (mine *money.Amount, lot []lotStone, remarks []string) {
	own := worth.PurchaseOf(w.what.Stone, model)
	purchases := []worth.Purchase{own}
	var others []folder.Stone
	for _, o := range w.folder.Stones {
		if o.Err != nil || o.Stone.Cost == nil || o.Stone.Cost.Lot == nil || own.Lot == nil {
			continue
		}
		p := worth.PurchaseOf(o.Stone, 0)
		if !worth.OneLot(own, p) {
			continue
		}
		if p.Carat == 0 {
			p = worth.PurchaseOf(o.Stone, drawnCt(o.Stone, w))
		}
		others, purchases = append(others, o), append(purchases, p)
	}
	costs, remarks := worth.Costs(purchases)
	if len(others) == 0 {
		return costs[0], nil, remarks
	}
	first := lotStone{name: nameOf(w.what.Stone.Name, "this stone"), carat: purchases[0].Carat, cost: costs[0], here: true}
	if len(w.fits) > 0 {
		first.best, first.value = &w.fits[0], w.what.Worth(w.fits[0])
	}
	lot = []lotStone{first}
	for i, o := range others {
		s := lotStone{
			name: nameOf(o.Stone.Name, o.File), carat: purchases[i+1].Carat, cost: costs[i+1], best: planjson.Planned(o.Stone),
		}
		if s.best != nil {
			s.value = w.worthOf(o.Stone, *s.best)
		}
		lot = append(lot, s)
	}
	whole := own.Lot.Paid
	for i := range lot {
		if v := lot[i].value; v != nil && whole.Sign() > 0 {
			lot[i].pays = worth.PaysBack(*v, whole)
		}
	}
	return costs[0], lot, remarks
}

func drawnCt(s planner.Stone, w work) float64 {
	rough, err := planner.NewRough(s)
	if err != nil {
		return 0
	}
	return modelCt(s, rough, w.set)
}

// worthOf is what a fit in another stone of the lot may bring.
func (w work) worthOf(s planner.Stone, f search.Fit) *worth.Value {
	p := view.Priced{Stone: s, Prices: w.what.Prices}
	if rough, err := planner.NewRough(s); err == nil {
		p.Rough = rough
	}
	return p.Worth(f)
}

func nameOf(name, other string) string { return planner.Visible(cmp.Or(name, other)) }

// lotRows is the lot with all its stones that lie in this folder.
func (k *known) lotRows(t *view.FigureList, l planner.Lot, wide bool) {
	c := k.prices.Currency
	name := "Lot"
	if l.Name != "" {
		name += " " + planner.Visible(l.Name)
	}
	t.Gap()
	t.Head(name)
	if l.Paid != nil {
		paid := l.Paid.Text(c)
		if l.Carat > 0 {
			paid += fmt.Sprintf(" for %.2f ct", l.Carat)
		}
		t.Row("paid", paid)
	}
	if len(k.lot) == 0 {
		t.Words(style.Faint, "No other stone of it lies in this folder.")
		return
	}
	k.lotStones(t, wide)
}

// lotLine is one line of the lot's table.
func lotLine(t *view.FigureList, wide bool, name, rough, cost, likely string) string {
	if wide {
		return fmt.Sprintf("%s %7s %9s %10s", view.Fit(name, max(8, t.Width()-29)), rough, cost, likely)
	}
	return fmt.Sprintf("%s %6s %8s", view.Fit(name, max(6, t.Width()-16)), rough, cost)
}

// lotStones is one line for each stone of the lot: its rough, its share, and what is
// planned of it may bring.
func (k *known) lotStones(t *view.FigureList, wide bool) {
	c := k.prices.Currency
	t.Line(style.Faint, lotLine(t, wide, "  stone", "rough", "cost", "likely"))
	carat, cost, likely, counted := 0.0, money.Amount{}, money.Amount{}, 0
	for _, s := range k.lot {
		share, value := "-", "-"
		if s.cost != nil {
			share, cost = s.cost.Text(c), cost.Plus(*s.cost)
		}
		if s.value != nil {
			value, likely = s.value.Likely.Text(c), likely.Plus(s.value.Likely)
			counted++
		}
		carat += s.carat
		mark := "  "
		if s.here {
			mark = "▸ "
		}
		t.Line(style.Text, lotLine(t, wide, mark+s.name, fmt.Sprintf("%.2f", s.carat), share, value))
	}
	all := "-"
	if counted > 0 {
		all = likely.Text(c)
	}
	t.Line(style.Text, lotLine(t, wide, "  together", fmt.Sprintf("%.2f", carat), cost.Text(c), all))
	if !wide && counted > 0 {
		t.Row("likely worth", all)
	}
	if missing := len(k.lot) - counted; missing > 0 {
		t.Words(style.Faint, fmt.Sprintf("%d of them not planned, or without a price", missing))
	}
	for _, s := range k.lot {
		switch s.pays {
		case worth.PaysAtLow:
			t.Words(style.Good, s.name+" alone pays for the lot.")
		case worth.PaysAtHigh:
			t.Words(style.Text, s.name+" alone may pay for the lot.")
		}
	}
}
