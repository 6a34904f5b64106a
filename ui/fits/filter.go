package fits

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"cabwright/planner"
	"cabwright/planner/search"
	"cabwright/ui/view"
	"cabwright/ui/widget"
)

// filter says which fits are listed. The zero filter lists all.
type filter struct {
	shape    string       // an outline's name, "" for any
	sides    int          // 1 or 2, 0 for any
	face     planner.Face // "" for either
	from, to float64      // length in mm; to 0 is no limit
}

// passes reports whether a candidate is listed.
func (f filter) passes(c search.Candidate) bool {
	l := c.Solid.Outline.Length
	return (f.shape == "" || f.shape == c.Solid.Outline.Shape) &&
		(f.sides == 0 || f.sides == c.Solid.Sides) &&
		(f.face == "" || f.face == c.Face) &&
		l >= f.from && (f.to == 0 || l <= f.to)
}

// words says what is listed; "all" for everything.
func (f filter) words() string {
	var out []string
	if f.shape != "" {
		out = append(out, planner.Visible(f.shape))
	}
	switch f.sides {
	case 1:
		out = append(out, "single-sided")
	case 2:
		out = append(out, "double-sided")
	}
	if f.face != "" {
		out = append(out, string(f.face))
	}
	switch {
	case f.to > 0:
		out = append(out, fmt.Sprintf("%s-%s mm", mm(f.from), mm(f.to)))
	case f.from > 0:
		out = append(out, mm(f.from)+" mm up")
	}
	if len(out) == 0 {
		return "all"
	}
	return strings.Join(out, ", ")
}

// listed returns the fits that pass, best first.
func (f filter) listed(plan search.Plan) []search.Fit {
	if f == (filter{}) {
		return plan.Fits
	}
	var out []search.Fit
	for _, x := range plan.Fits {
		if f.passes(x.Candidate) {
			out = append(out, x)
		}
	}
	return out
}

// refused returns the candidates that pass and do not fit, and then those that
// are not decided.
func (f filter) refused(plan search.Plan) []search.RuledOut {
	var out, open []search.RuledOut
	for _, x := range plan.RuledOut {
		switch {
		case !f.passes(x.Candidate):
		case x.Verdict == search.CannotFit:
			out = append(out, x)
		default:
			open = append(open, x)
		}
	}
	return append(out, open...)
}

// nextShape goes on to the next outline among those asked about, and after the
// last to any.
func (f *filter) nextShape(plan search.Plan) {
	var shapes []string
	note := func(c search.Candidate) {
		if s := c.Solid.Outline.Shape; !slices.Contains(shapes, s) {
			shapes = append(shapes, s)
		}
	}
	for _, x := range plan.Fits {
		note(x.Candidate)
	}
	for _, x := range plan.RuledOut {
		note(x.Candidate)
	}
	slices.Sort(shapes)
	// Index is -1 for any, so that the next is the first.
	if i := slices.Index(shapes, f.shape) + 1; i < len(shapes) {
		f.shape = shapes[i]
	} else {
		f.shape = ""
	}
}

func (f *filter) nextSides() { f.sides = (f.sides + 1) % 3 }

func (f *filter) nextFace() {
	f.face = map[planner.Face]planner.Face{"": planner.Top, planner.Top: planner.Base}[f.face]
}

// lengthMax is the longest stone a filter can ask for, mm: what a stone file holds.
const lengthMax = 1000

// askSize asks for the lengths to list.
func (v *View) askSize(s *view.State) {
	from := (&widget.Field{Label: "Length from", Kind: widget.Length, Max: lengthMax, Optional: "any"})
	to := (&widget.Field{Label: "Length to", Kind: widget.Length, Max: lengthMax, Optional: "any"})
	if v.filter.from > 0 {
		from.WithNumber(v.filter.from)
	}
	if v.filter.to > 0 {
		to.WithNumber(v.filter.to)
	}
	s.Ask(&widget.Form{Title: "Sizes to list", Fields: []*widget.Field{from, to}, Done: func(f *widget.Form) error {
		low, high := f.Number(0), f.Number(1)
		if high > 0 && high < low {
			return widget.Wrong{Field: 1, Err: errors.New("less than the length it starts from")}
		}
		v.filter.from, v.filter.to = low, high
		v.refilter(s)
		return nil
	}})
}
