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

// filter says which fits are listed, and in which order. The zero filter lists
// all, the heaviest first.
type filter struct {
	shape    string       // an outline's name, "" for any
	sides    int          // 1 or 2, 0 for any
	face     planner.Face // "" for either
	from, to float64      // length in mm; to 0 is no limit
	spare    float64      // the clearance wanted beyond the allowances, mm
	only     bool         // list only what has it
	rank     search.Rank  // "" is by carats
}

// passes reports whether a candidate is listed.
func (f filter) passes(c search.Candidate) bool {
	l := c.Solid.Outline.Length
	return (f.shape == "" || f.shape == c.Solid.Outline.Shape) &&
		(f.sides == 0 || f.sides == c.Solid.Sides) &&
		(f.face == "" || f.face == c.Face) &&
		l >= f.from && (f.to == 0 || l <= f.to)
}

// narrows reports whether it leaves anything out.
func (f filter) narrows() bool {
	f.rank = ""
	if !f.only {
		f.spare = 0
	}
	return f != filter{}
}

// enough reports whether a fit has the spare that is wanted.
func (f filter) enough(x search.Fit) bool { return x.HasSpare(f.spare) }

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
		out = append(out, string(f.face)+" up")
	}
	switch {
	case f.to > 0:
		out = append(out, fmt.Sprintf("%s-%s mm", mm(f.from), mm(f.to)))
	case f.from > 0:
		out = append(out, mm(f.from)+" mm up")
	}
	if f.only && f.spare > 0 {
		out = append(out, fmt.Sprintf("%.2f mm to spare", f.spare))
	}
	if len(out) == 0 {
		out = []string{"all"}
	}
	if f.rank != "" {
		out = append(out, "by "+rankWords[slices.Index(ranks, f.rank)])
	}
	return strings.Join(out, ", ")
}

// The orders of the list, and how the menu calls them.
var (
	ranks     = []search.Rank{search.ByCarat, search.ByClearance, search.ByColour}
	rankWords = []string{"carats", "spare", "colour"}
)

// listed returns the fits that pass, best first; where some spare is wanted, those
// that have it come before those that have not.
func (f filter) listed(fits []search.Fit) []search.Fit {
	out := fits
	if f.narrows() {
		out = nil
		for _, x := range fits {
			if f.passes(x.Candidate) && (!f.only || f.enough(x)) {
				out = append(out, x)
			}
		}
	}
	if f.rank == "" && f.spare <= 0 {
		return out
	}
	out = slices.Clone(out) // the plan's own order is left alone
	if f.rank != "" {
		search.SortFits(out, f.rank)
	}
	search.SpareFirst(out, f.spare)
	return out
}

// shapes returns the outlines that were asked about, in the order of the alphabet.
func shapes(plan search.Plan) []string {
	seen := map[string]bool{}
	for _, x := range plan.Fits {
		seen[x.Solid.Outline.Shape] = true
	}
	for _, x := range plan.RuledOut {
		seen[x.Solid.Outline.Shape] = true
	}
	var out []string
	for s := range seen {
		out = append(out, s)
	}
	slices.Sort(out)
	return out
}

// lengthMax is the longest stone a filter can ask for, mm: what a stone file holds.
const lengthMax = 1000

// spareMax is the most spare that can be asked for, mm: more than any setting or
// wheel takes.
const spareMax = 20

// The words of the menu's choices: the first of each is the one of the zero filter.
var (
	sidesChoices = []string{"either", "single-sided", "double-sided"}
	faceChoices  = []string{"either", "top up", "base up"}
	faces        = []planner.Face{"", planner.Top, planner.Base}
	onlyChoices  = []string{"all", "only with the spare wanted"}
)

// The fields of the menu, in their order.
const (
	shapeField = iota
	fromField
	toField
	sidesField
	faceField
	rankField
	spareField
	onlyField
)

// askFilter is the menu of what is listed and in which order.
func (v *View) askFilter(s *view.State) {
	now := v.filter
	names := append([]string{"any"}, shapes(s.Plan)...)
	shape := now.shape
	if !slices.Contains(names, shape) {
		shape = "any"
	}
	choose := func(label string, choices []string, at int) *widget.Field {
		return (&widget.Field{Label: label, Kind: widget.Choose, Choices: choices}).With(choices[max(0, at)])
	}
	number := func(label, without string, most, value float64) *widget.Field {
		f := &widget.Field{Label: label, Kind: widget.Length, Max: most, Optional: without}
		if value > 0 {
			f.WithNumber(value)
		}
		return f
	}
	only := 0
	if now.only {
		only = 1
	}
	s.Ask(&widget.Form{
		Title: "What to list",
		Fields: []*widget.Field{
			shapeField: choose("Outline", names, slices.Index(names, shape)),
			fromField:  number("Length from", "any", lengthMax, now.from),
			toField:    number("Length to", "any", lengthMax, now.to),
			sidesField: choose("Sides", sidesChoices, now.sides),
			faceField:  choose("Face up", faceChoices, slices.Index(faces, now.face)),
			rankField:  choose("Best first by", rankWords, slices.Index(ranks, now.rank)),
			spareField: number("Spare wanted", "none", spareMax, now.spare),
			onlyField:  choose("List", onlyChoices, only),
		},
		Done: func(f *widget.Form) error { return v.setFilter(s, f, names) },
	})
}

// setFilter takes the menu's answers.
func (v *View) setFilter(s *view.State, f *widget.Form, names []string) error {
	next := filter{
		from: f.Number(fromField), to: f.Number(toField), sides: f.Choice(sidesField), face: faces[f.Choice(faceField)],
		spare: f.Number(spareField), only: f.Choice(onlyField) == 1,
	}
	if next.to > 0 && next.to < next.from {
		return widget.Wrong{Field: toField, Err: errors.New("less than the length it starts from")}
	}
	if i := f.Choice(shapeField); i > 0 {
		next.shape = names[i]
	}
	if i := f.Choice(rankField); i > 0 {
		next.rank = ranks[i]
	}
	v.filter = next
	v.refilter(s)
	v.askForSpare(s)
	return nil
}

// askForSpare asks the search for the spare that is wanted beyond the allowances, as
// the command's --spare does: it begins anew when that has changed.
func (v *View) askForSpare(s *view.State) {
	if o := s.Options(); o.Spare != v.filter.spare {
		o.Spare = v.filter.spare
		s.SetOptions(o)
	}
}
