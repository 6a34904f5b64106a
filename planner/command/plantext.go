package command

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"cabwright/geometry"
	"cabwright/planner"
	"cabwright/planner/odds"
	"cabwright/planner/planjson"
	"cabwright/planner/search"
)

// The room of the drawing of the best fit, in cells: with the lines around it
// and a few rows of the table it still stands on one screen of 24 lines.
const (
	drawWidth  = 60
	drawHeight = 12
)

// othersShown is how many sizes are named of those that cannot fit, and of those
// left undecided.
const othersShown = 5

// planText lays a plan out for people.
type planText struct {
	*specimen
	plan search.Plan
	opt  search.Options
	own  taught
	top  int
	draw func(search.Fit) []string
}

func (t planText) String() string {
	var b strings.Builder
	b.WriteString(t.heading())
	if remark := t.notDry(); remark != "" {
		b.WriteString(paragraph(remark))
	}
	b.WriteString(paragraph(t.asked()))
	switch {
	case len(t.plan.Fits) == 0 && t.plan.HeaviestOpen > 0:
		b.WriteString("\nNothing was found that fits, and not every size is ruled out.\n")
	case len(t.plan.Fits) == 0:
		b.WriteString("\nNothing fits.\n")
	default:
		b.WriteString("\n" + t.best())
		b.WriteString("\n" + t.fits())
		b.WriteString(t.freeformRemark())
	}
	b.WriteString(t.misses())
	b.WriteString(t.undecided())
	if odds.Any(t.stone) {
		b.WriteString("\n" + paragraph("Some marks are not sure: cabwright odds says which of these to bet on."))
	}
	return b.String()
}

// heading says which stone it is and what it weighs.
func (s *specimen) heading() string {
	var b strings.Builder
	name := planner.Visible(s.stone.Name)
	if name == "" {
		name = "Unnamed stone"
	}
	b.WriteString(paragraph(fmt.Sprintf("%s: %s, SG %.2f", name, s.materialName(), s.gravity.Likely)))
	weight := fmt.Sprintf("%.1f ct as drawn", planner.Carat(s.rough.Volume(), s.gravity.Likely))
	if s.stone.ScaleCt > 0 {
		weight += fmt.Sprintf(", %.1f ct on the scale", s.stone.ScaleCt)
	}
	b.WriteString(paragraph(fmt.Sprintf("%s, %.0f mm3: %s", s.size(), s.rough.Volume(), weight)))
	if remark := s.remark(); remark != "" {
		b.WriteString(paragraph(remark))
	}
	return b.String()
}

// size is the stone's length, width and greatest thickness, and the range of its
// heights where that is not the same.
func (s *specimen) size() string {
	across := planner.Extent(s.stone.Outline)
	thick, _ := s.rough.Thickness()
	text := fmt.Sprintf("%.1f x %.1f x %.1f mm", across.Length, across.Width, thick)
	low, high := s.rough.Heights()
	if fmt.Sprintf("%.1f", high-low) != fmt.Sprintf("%.1f", thick) {
		text += fmt.Sprintf(" (z from %s to %s)", oneDecimal(low), oneDecimal(high))
	}
	return text
}

// oneDecimal writes a height; -0.04 is 0.0.
func oneDecimal(v float64) string { return fmt.Sprintf("%.1f", math.Round(v*10)/10+0) }

func (s *specimen) materialName() string {
	if s.named {
		return planner.Visible(s.material.Name)
	}
	return "material not named"
}

// remark says what would make the drawn and the scale weight agree, if they do not.
func (s *specimen) remark() string {
	area := geometry.Area(s.stone.Outline)
	return planner.WeightRemark(s.rough.Volume(), area, planner.UsualGravity(s.stone, s.set), s.stone.ScaleCt)
}

// asked says in a sentence what was looked for and how it ended.
func (t planText) asked() string {
	faces, sides := "either face", "flat or domed back"
	if len(t.opt.Faces) == 1 {
		faces = "the " + string(t.opt.Faces[0])
	}
	if len(t.opt.Sides) == 1 {
		sides = map[int]string{1: "flat back", 2: "domed back"}[t.opt.Sides[0]]
	}
	tilt := "level"
	if !t.opt.Level {
		tilt = fmt.Sprintf("tilted up to %g degrees", t.plan.TiltMaxDeg)
	}
	out, open := 0, 0
	for _, r := range t.plan.RuledOut {
		if r.Verdict == search.CannotFit {
			out++
		} else {
			open++
		}
	}
	found := fmt.Sprintf("%d fit, %d cannot", len(t.plan.Fits), out)
	if open > 0 {
		found += fmt.Sprintf(", %d undecided", open)
	}
	return fmt.Sprintf("Asked: %d sizes, dome out of %s, %s, %s. %s (%.1f s).",
		t.plan.Sizes, faces, sides, tilt, found, t.plan.Elapsed.Seconds())
}

// best describes the first fit, with a drawing of it.
func (t planText) best() string {
	f := t.plan.Fits[0]
	var b strings.Builder
	b.WriteString(paragraph("Best: " + described(f)))
	size := [3]float64{f.Solid.Outline.Length, f.Solid.Outline.Width, f.Solid.Height()}
	rule := planner.RuleCarat(size[0], size[1], size[2], t.gravity.Likely, planner.RuleK)
	b.WriteString(paragraph(fmt.Sprintf("%.2f ct (%.2f to %.2f); the handbook rule, %g x L x W x H x SG, gives %.2f. %s",
		f.Carat, f.CaratLow, f.CaratHigh, planner.RuleK, rule, kept(f, t.plan))))
	if t.draw == nil {
		return b.String()
	}
	for _, line := range t.draw(f) {
		b.WriteString(strings.TrimRight(line, " ") + "\n")
	}
	return b.String()
}

// kept says how much room a fit has and what takes the rest.
func kept(f search.Fit, plan search.Plan) string {
	s := fmt.Sprintf("Clearance %.2f mm beyond the allowances", floor2(f.Clearance))
	if by := limits(f.LimitedBy); by != "" {
		s += ", held by " + by
	}
	if f.Proved {
		return s + fmt.Sprintf("; proved within %g mm of the most it can have.", plan.Tolerance)
	}
	return s + "; a pose with more may exist."
}

// clearance is a fit's clearance with its marks: ! for none at all, * for what was
// asked for, + where a pose with more may exist.
func (t planText) clearance(f search.Fit) string {
	s := fmt.Sprintf("%.2f", floor2(f.Clearance))
	if floor2(f.Clearance) <= 0 {
		s += "!"
	}
	if t.opt.Spare > 0 && f.HasSpare(t.opt.Spare) {
		s += "*"
	}
	if !f.Proved {
		s += "+"
	}
	return s
}

// fits is the table of what fits, best first.
func (t planText) fits() string {
	colour := len(t.stone.Colour) > 0
	tab := table{tight: true, right: map[int]bool{0: true, 3: true, 5: true, 6: true, 7: true}}
	head := []string{"#", "outline, mm", "dome", "back", "face", "carat", "low-high", "clear"}
	if t.own.correction != nil {
		head = slices.Insert(head, ownColumn, "yours")
		tab.right[len(head)-1] = true
	}
	if colour {
		tab.right[len(head)] = true
		head = append(head, "col.")
	}
	tab.add(append(head, "held by")...)
	open, none := false, false
	for i, f := range t.plan.Fits[:min(t.top, len(t.plan.Fits))] {
		clear := t.clearance(f)
		open = open || !f.Proved
		none = none || floor2(f.Clearance) <= 0
		row := []string{
			fmt.Sprint(i + 1), outlineName(f.Candidate), domeName(f.Candidate), backName(f.Candidate), string(f.Face),
			weight(f.Carat), weight(f.CaratLow) + "-" + weight(f.CaratHigh), clear,
		}
		if c := t.own.correction; c != nil {
			row = slices.Insert(row, ownColumn, bandText(c.Band(f.Carat)))
		}
		if colour {
			row = append(row, fmt.Sprintf("%.0f%%", 100*f.Colour))
		}
		tab.add(append(row, limits(f.LimitedBy))...)
	}
	s := tab.String()
	s += paragraph(
		"low-high: " + t.gravity.Basis + fmt.Sprintf("; %g mm off or on at every size", planner.DimensionTolerance),
	)
	s += t.ownWords()
	if colour {
		s += "col.: share of dome and wall with colour under them, times grade/5\n"
	}
	if t.opt.Spare > 0 {
		s += fmt.Sprintf("* has the %g mm to spare that were asked for\n", t.opt.Spare)
	}
	if none {
		s += "! nothing to spare: the first slip goes into an allowance\n"
	}
	if open {
		s += "+ not proved to be the most: a pose with more clearance may exist\n"
	}
	if more := len(t.plan.Fits) - t.top; more > 0 {
		s += fmt.Sprintf("and %d more: --top %d shows them all\n", more, len(t.plan.Fits))
	}
	return s
}

// ownColumn is where in the table a fit's weight by the cutter's own stones stands:
// behind its band.
const ownColumn = 7

// ownWords says what the column of the cutter's own stones shows, or that there are
// too few of them where they were asked for.
func (t planText) ownWords() string {
	switch {
	case t.own.correction != nil:
		return paragraph("yours: " + t.own.correction.Text())
	case t.own.said != "":
		return paragraph(t.own.said)
	}
	return ""
}

// misses names the next sizes up from the best fit, by weight, that are proved
// not to fit, and what is in their way.
func (t planText) misses() string {
	least := 0.0
	if len(t.plan.Fits) > 0 {
		least = t.plan.Fits[0].Volume
	}
	list, rest := t.pick(search.CannotFit, func(volume float64) bool { return volume > least })
	if len(list) == 0 {
		return ""
	}
	slices.SortStableFunc(list, func(a, b search.RuledOut) int { return cmp.Compare(a.Solid.Volume(), b.Solid.Volume()) })
	return t.others("The next sizes up cannot fit; in the way", list, rest, func(search.RuledOut) string { return "" })
}

// undecided names what the search could not settle, the heaviest first.
func (t planText) undecided() string {
	list, _ := t.pick(search.Undecided, func(float64) bool { return true })
	if len(list) == 0 {
		return ""
	}
	slices.SortStableFunc(list, func(a, b search.RuledOut) int { return cmp.Compare(b.Solid.Volume(), a.Solid.Volume()) })
	return t.others("Undecided", list, 0, func(r search.RuledOut) string { return planjson.WhyOpen(r, t.plan) })
}

// pick returns what ended with a verdict and has a volume that is wanted, and
// how many more had that verdict.
func (t planText) pick(v search.Verdict, wanted func(volume float64) bool) (list []search.RuledOut, rest int) {
	for _, r := range t.plan.RuledOut {
		switch {
		case r.Verdict != v:
		case wanted(r.Solid.Volume()):
			list = append(list, r)
		default:
			rest++
		}
	}
	return list, rest
}

func (t planText) others(title string, list []search.RuledOut, rest int, say func(search.RuledOut) string) string {
	tab := table{tight: true, right: map[int]bool{3: true, 5: true}}
	for _, r := range list[:min(othersShown, len(list))] {
		tab.add(" ", outlineName(r.Candidate), domeName(r.Candidate), backName(r.Candidate), string(r.Face),
			weight(planner.Carat(r.Solid.Volume(), t.gravity.Likely)), strings.TrimSpace(limits(r.LimitedBy)+" "+say(r)))
	}
	s := "\n" + title + ":\n" + tab.String()
	if more := len(list) + rest - othersShown; more > 0 {
		s += fmt.Sprintf("and %d more: --json lists them all\n", more)
	}
	return s
}
