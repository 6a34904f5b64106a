package planner

import (
	"fmt"
	"strconv"
)

// Differences lists, one line each, what is not alike in two stones: for
// choosing between two versions of one.
func Differences(before, after Stone) []string {
	var d differences
	d.value("name", strconv.Quote(Visible(before.Name)), strconv.Quote(Visible(after.Name)))
	d.value("material", Visible(before.Material), Visible(after.Material))
	d.value("sg", fmt.Sprint(before.SG), fmt.Sprint(after.SG))
	d.value("scale weight, ct", fmt.Sprint(before.ScaleCt), fmt.Sprint(after.ScaleCt))
	points(&d, "outline", "corners", before.Outline, after.Outline)
	points(&d, "top", "readings", before.Top, after.Top)
	points(&d, "base", "readings", before.Base, after.Base)
	marks(&d, "crack", before.Cracks, after.Cracks, func(k Crack) string { return k.ID }, Crack.equal)
	marks(&d, "pocket", before.Pockets, after.Pockets, func(p Pocket) string { return p.ID }, Pocket.equal)
	marks(&d, "colour zone", before.Colour, after.Colour, func(z Zone) string { return z.ID }, Zone.equal)
	if !before.Allowances.equal(after.Allowances) {
		d.add("allowances changed")
	}
	marks(&d, "cut", before.Cuts, after.Cuts, func(k Cut) string { return k.ID }, Cut.equal)
	if !(Stone{Cost: before.Cost}).Equal(Stone{Cost: after.Cost}) {
		d.add("cost changed")
	}
	if !sameFunc(before.Diary, after.Diary, Entry.equal) {
		d.add("diary: %d entries, then %d", len(before.Diary), len(after.Diary))
	}
	if !sameFunc(before.Unknown, after.Unknown, UnknownKey.equal) {
		d.add("keys that this program does not know changed")
	}
	return d
}

type differences []string

func (d *differences) add(format string, args ...any) { *d = append(*d, fmt.Sprintf(format, args...)) }

func (d *differences) value(what, before, after string) {
	if before != after {
		d.add("%s: %s, then %s", what, before, after)
	}
}

func points[E comparable](d *differences, what, items string, before, after []E) {
	switch {
	case same(before, after):
	case len(before) != len(after):
		d.add("%s: %d %s, then %d", what, len(before), items, len(after))
	default:
		n := 0
		for i := range before {
			if before[i] != after[i] {
				n++
			}
		}
		d.add("%s: %d of %d %s differ", what, n, len(before), items)
	}
}

func marks[E any](d *differences, what string, before, after []E, id func(E) string, equal func(E, E) bool) {
	left := map[string]E{}
	for _, e := range before {
		left[id(e)] = e
	}
	for _, e := range after {
		old, there := left[id(e)]
		switch {
		case !there:
			d.add("%s %s: only in the second", what, Visible(id(e)))
		case !equal(old, e):
			d.add("%s %s: differs", what, Visible(id(e)))
		}
		delete(left, id(e))
	}
	for _, e := range before {
		if _, there := left[id(e)]; there {
			d.add("%s %s: only in the first", what, Visible(id(e)))
		}
	}
}
