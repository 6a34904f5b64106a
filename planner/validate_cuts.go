package planner

import (
	"math"
	"strings"
	"time"

	"cabwright/planner/money"
)

// leastNormal is the length under which a normal gives no direction: what
// edits round its parts to, a millionth.
const leastNormal = 1e-6

func (c *checker) cuts(cuts []Cut, id func(place, id string)) {
	if len(cuts) > MaxCuts {
		c.add("cuts", "%d cuts are more than %d", len(cuts), MaxCuts)
		return
	}
	for i, k := range cuts {
		place := at("cuts", i)
		id(place+".id", k.ID)
		c.cut(place, k)
	}
}

func (c *checker) cut(place string, k Cut) {
	c.reach(place+".point", k.Point.X, k.Point.Y, k.Point.Z)
	for _, v := range []float64{k.Normal.X, k.Normal.Y, k.Normal.Z} {
		if math.IsNaN(v) || math.Abs(v) > maxReach {
			c.add(place+".normal", "%v is too large for a direction", v)
			return
		}
	}
	if k.Normal.Norm() < leastNormal {
		c.add(place+".normal", "gives no direction: say which way the cut faces, such as [1, 0, 0]")
	}
	c.length(place+".kerf", k.Kerf)
}

// cost checks what a stone cost. Whether there is enough to share a lot by is
// for those who share it.
func (c *checker) cost(cost *Cost) {
	if cost == nil {
		return
	}
	if _, known := money.Lookup(cost.Currency); !known {
		c.add("cost.currency", "%q is not a currency code of ISO 4217, such as EUR", Visible(cost.Currency))
	}
	c.money("cost.paid", cost.Paid)
	c.money("cost.extra", cost.Extra)
	if lot := cost.Lot; lot != nil {
		c.text("cost.lot.name", lot.Name)
		c.weight("cost.lot.carat", lot.Carat)
		c.money("cost.lot.paid", lot.Paid)
	}
}

func (c *checker) money(place string, m *money.Amount) {
	if m == nil {
		return
	}
	if _, err := money.ParseFigures(m.Figures()); err != nil {
		c.add(place, "%v", err)
	}
}

// entry checks an entry of the diary. What it holds as JSON is for the reader
// of the file.
func (c *checker) entry(place string, e Entry) {
	switch {
	case e.Date == "":
		c.add(place+".date", "missing: write it as 2026-05-02")
	case !isDate(e.Date):
		c.add(place+".date", "%q is not a date: write it as 2026-05-02", Visible(e.Date))
	}
	if strings.TrimSpace(e.Stage) == "" {
		c.add(place+".stage", "missing: say how far the work was, such as \"first grind\"")
	}
	c.weight(place+".carat", e.Carat)
	for _, t := range []struct{ key, text string }{
		{".stage", e.Stage}, {".state", e.State}, {".note", e.Note}, {".photo", e.Photo},
	} {
		c.text(place+t.key, t.text)
	}
	for i, t := range e.Treatments {
		c.text(at(place+".treatments", i), t)
	}
	seen := map[string]bool{}
	for _, f := range e.Found {
		key := place + ".found." + Visible(f.What)
		c.text(key, f.What)
		if math.IsNaN(f.Value) || math.IsInf(f.Value, 0) {
			c.add(key, "%v is not a number", f.Value)
		}
		if seen[f.What] {
			c.add(key, "found twice in one entry")
		}
		seen[f.What] = true
	}
}

func isDate(text string) bool {
	for _, form := range []string{time.DateOnly, time.RFC3339} {
		if _, err := time.Parse(form, text); err == nil {
			return true
		}
	}
	return false
}
