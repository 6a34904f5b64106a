package stonefile

import (
	"strings"

	"cabwright/geometry"
	"cabwright/planner"
	"cabwright/planner/money"
)

// span adds what a value that is not sure may be; nothing when it is sure.
func (f *fields) span(key string, r *planner.Range) {
	if r == nil {
		return
	}
	most := "null"
	if !r.Open {
		most = number(r.Most)
	}
	f.add(key, "["+number(r.Least)+", "+most+"]")
}

func (f *fields) chance(p *float64) {
	if p != nil {
		f.add("chance", number(*p))
	}
}

func cutFields(k planner.Cut) fields {
	var f fields
	f.add("id", quote(k.ID))
	f.add("point", vector(k.Point))
	f.add("normal", vector(k.Normal))
	f.add("kerf", number(k.Kerf))
	f.unknown(k.Unknown)
	return f
}

func vector(v geometry.Vec3) string {
	return "[" + number(v.X) + ", " + number(v.Y) + ", " + number(v.Z) + "]"
}

func costFields(c planner.Cost) fields {
	var f fields
	f.add("currency", quote(c.Currency))
	f.money("paid", c.Paid)
	f.money("extra", c.Extra)
	if c.Lot != nil {
		f.add("lot", lotFields(*c.Lot).object(4))
	}
	f.unknown(c.Unknown)
	return f
}

func lotFields(l planner.Lot) fields {
	var f fields
	if l.Name != "" {
		f.add("name", quote(l.Name))
	}
	if l.Carat != 0 {
		f.add("carat", number(l.Carat))
	}
	f.money("paid", l.Paid)
	f.unknown(l.Unknown)
	return f
}

func (f *fields) money(key string, m *money.Amount) {
	if m != nil {
		f.add(key, m.Figures())
	}
}

func entryFields(e planner.Entry) fields {
	var f fields
	f.add("date", quote(e.Date))
	f.add("stage", quote(e.Stage))
	if e.Carat != 0 {
		f.add("carat", number(e.Carat))
	}
	for _, t := range []struct{ key, text string }{{"state", e.State}, {"note", e.Note}, {"photo", e.Photo}} {
		if t.text != "" {
			f.add(t.key, quote(t.text))
		}
	}
	if len(e.Treatments) > 0 {
		items := make([]string, len(e.Treatments))
		for i, t := range e.Treatments {
			items[i] = quote(t)
		}
		f.add("treatments", "["+strings.Join(items, ", ")+"]")
	}
	if len(e.Found) > 0 {
		var found fields
		for _, one := range e.Found {
			found.add(one.What, number(one.Value))
		}
		f.add("found", found.object(6))
	}
	if e.Planned != nil {
		f.add("planned", string(e.Planned))
	}
	if e.Stone != nil {
		f.add("stone", string(e.Stone))
	}
	f.unknown(e.Unknown)
	return f
}
