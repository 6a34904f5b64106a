package fits

import (
	"cabwright/planner"
	"cabwright/planner/search"
	"cabwright/ui/view"
)

// size tells the rows of a list apart: an outline in one size with one face up.
type size struct {
	face          planner.Face
	shape         string
	length, width float64
}

// sizeOf returns the row a candidate belongs to. The freeforms of one face are one
// row: their sizes are the stone's.
func sizeOf(c search.Candidate) size {
	o := c.Solid.Outline
	if view.Freeform(c) {
		return size{face: c.Face, shape: o.Shape}
	}
	return size{c.Face, o.Shape, o.Length, o.Width}
}

// line is one line of the list: the best of a size and face, or, under it when
// they are unfolded, one of its variants: other sides, domes and backs.
type line struct {
	fit     search.Fit
	variant bool
	more    int // variants folded away
}

// grouped folds fits into one line a size and face, in the order in which they
// come, and unfolds what open says, and the row in which chosen is a variant.
func grouped(fits []search.Fit, open map[size]bool, chosen *search.Fit) []line {
	at := map[size]int{}
	var rows [][]search.Fit
	for _, f := range fits {
		k := sizeOf(f.Candidate)
		i, there := at[k]
		if !there {
			i = len(rows)
			at[k] = i
			rows = append(rows, nil)
		}
		rows[i] = append(rows[i], f)
	}
	var out []line
	for _, r := range rows {
		unfolded := open[sizeOf(r[0].Candidate)]
		for i := 1; i < len(r) && chosen != nil; i++ {
			unfolded = unfolded || view.SameCut(r[i].Candidate, chosen.Candidate)
		}
		if !unfolded {
			out = append(out, line{fit: r[0], more: len(r) - 1})
			continue
		}
		out = append(out, line{fit: r[0]})
		for _, f := range r[1:] {
			out = append(out, line{fit: f, variant: true})
		}
	}
	return out
}

// lines is the list as it stands on the screen.
func (v *View) lines(s *view.State) []line {
	v.shown.follow(s)
	return grouped(v.filter.listed(v.shown.fits), v.unfolded, s.Chosen)
}

// lineOf returns the line of the chosen fit, or -1.
func lineOf(lines []line, chosen *search.Fit) int {
	if chosen == nil {
		return -1
	}
	for i, l := range lines {
		if view.SameCut(l.fit.Candidate, chosen.Candidate) {
			return i
		}
	}
	return -1
}

// unfold shows the variants of the chosen row, or folds them away.
func (v *View) unfold(s *view.State) {
	if s.Chosen == nil {
		return
	}
	k := sizeOf(s.Chosen.Candidate)
	lines := v.lines(s)
	at := lineOf(lines, s.Chosen)
	if at < 0 {
		return
	}
	if unfolded := lines[at].variant || at+1 < len(lines) && lines[at+1].variant; !unfolded {
		v.unfolded[k] = true
		return
	}
	delete(v.unfolded, k)
	for lines[at].variant {
		at--
	}
	v.choose(s, lines[at].fit)
}
