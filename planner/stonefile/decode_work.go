package stonefile

import (
	"bytes"
	"encoding/json"
	"slices"
	"strings"

	"cabwright/geometry"
	"cabwright/planner"
	"cabwright/planner/money"
)

// The keys of what is known of the work: cuts, cost and diary.
var (
	cutKeys   = []string{"id", "point", "normal", "kerf"}
	costKeys  = []string{"currency", "paid", "extra", "lot"}
	lotKeys   = []string{"name", "carat", "paid"}
	entryKeys = []string{"date", "stage", "carat", "state", "note", "photo", "treatments", "found", "planned", "stone"}
)

// span reads what a value that is not sure may be: [least, most], where most
// may be null. Null in place of the list is none.
func (d *decoder) span() *planner.Range {
	if d.null() {
		return nil
	}
	var r planner.Range
	count := 0
	d.array(func(i int) {
		switch {
		case i > 1:
			d.up() // the fault is the list's, not that of the number too many
			d.fail("should be [least, most], has more than 2 numbers")
			d.down(step{index: i})
			return
		case i == 0:
			r.Least = d.number()
		case d.null():
			r.Open = true
		default:
			r.Most = d.number()
		}
		count++
	})
	if d.err == nil && count < 2 {
		d.fail("should be [least, most], has %d of 2 numbers", count)
	}
	return &r
}

func (d *decoder) chance() *float64 {
	if d.null() {
		return nil
	}
	return new(d.number())
}

func (d *decoder) cut() planner.Cut {
	k := planner.Cut{}
	if saw, ok := d.set.Saw(d.set.Defaults.Saw); ok {
		k.Kerf = saw.Kerf
	}
	var placed, directed bool
	d.object(func(key string) {
		switch key {
		case "id":
			k.ID = d.text()
		case "point":
			placed, k.Point = true, d.vector()
		case "normal":
			directed, k.Normal = true, d.vector()
		case "kerf":
			k.Kerf = d.number()
		default:
			k.Unknown = append(k.Unknown, d.unknown(key, cutKeys))
		}
	})
	switch {
	case !placed:
		d.missing("point")
	case !directed:
		d.missing("normal")
	}
	return k
}

func (d *decoder) vector() geometry.Vec3 {
	v := d.numbers(3, "[x, y, z]")
	return geometry.Vec3{X: v[0], Y: v[1], Z: v[2]}
}

func (d *decoder) cost() *planner.Cost {
	var c planner.Cost
	var named bool
	d.object(func(key string) {
		switch key {
		case "currency":
			named, c.Currency = true, d.text()
		case "paid":
			c.Paid = d.money()
		case "extra":
			c.Extra = d.money()
		case "lot":
			c.Lot = d.lot()
		default:
			c.Unknown = append(c.Unknown, d.unknown(key, costKeys))
		}
	})
	if !named {
		d.missing("currency")
	}
	return &c
}

func (d *decoder) lot() *planner.Lot {
	var l planner.Lot
	d.object(func(key string) {
		switch key {
		case "name":
			l.Name = d.text()
		case "carat":
			l.Carat = d.number()
		case "paid":
			l.Paid = d.money()
		default:
			l.Unknown = append(l.Unknown, d.unknown(key, lotKeys))
		}
	})
	return &l
}

// money reads an amount and keeps its figures.
func (d *decoder) money() *money.Amount {
	if !d.wants("-0123456789", "a number") {
		return nil
	}
	text := d.numeral()
	if d.err != nil {
		return nil
	}
	m, err := money.ParseFigures(string(text))
	if err != nil {
		d.fail("%s: %v", showKey(string(text)), err)
	}
	return &m
}

func (d *decoder) diary() (entries []planner.Entry) {
	d.array(func(int) { entries = append(entries, d.entry()) })
	return entries
}

func (d *decoder) entry() planner.Entry {
	var e planner.Entry
	d.object(func(key string) {
		switch key {
		case "date":
			e.Date = d.text()
		case "stage":
			e.Stage = d.text()
		case "carat":
			e.Carat = d.number()
		case "state":
			e.State = d.text()
		case "note":
			e.Note = d.text()
		case "photo":
			e.Photo = d.text()
		case "treatments":
			d.array(func(int) { e.Treatments = append(e.Treatments, d.text()) })
		case "found":
			d.object(func(what string) {
				e.Found = append(e.Found, planner.Finding{What: what, Value: d.number()})
			})
		case "planned":
			e.Planned = d.raw(d.fit)
		case "stone":
			e.Stone = d.raw(d.pastStone)
		default:
			e.Unknown = append(e.Unknown, d.unknown(key, entryKeys))
		}
	})
	return e
}

// raw returns the text of the value that read consumes.
func (d *decoder) raw(read func()) json.RawMessage {
	d.peek()
	from := d.pos
	read()
	return bytes.Clone(d.data[from:d.pos])
}

// fit checks what a plan prints of one fit, as far as its keys are known.
func (d *decoder) fit() {
	var shape bool
	d.object(func(key string) {
		switch {
		case key == "shape":
			shape = true
			d.text()
		case key == "origin_mm" || strings.HasSuffix(key, "_axis"):
			d.vector()
		case slices.Contains(fitNumbers, key):
			d.number()
		default:
			d.value()
		}
	})
	if !shape {
		d.missing("shape")
	}
}

var fitNumbers = []string{"length_mm", "width_mm", "wall_mm", "wall_lean_deg", "dome_mm", "back_mm", "carat"}

// pastStone checks a stone as it was when an entry was made. What its file said
// that is not known here was warned of then.
func (d *decoder) pastStone() {
	warned := len(d.warnings)
	s := d.stone()
	d.warnings = d.warnings[:warned]
	if d.err == nil && s.Diary != nil {
		d.down(step{key: "diary", index: -1})
		d.fail("a stone in a diary has no diary of its own")
		d.up()
	}
}
