package fits

import (
	"fmt"
	"slices"
	"strings"

	"cabwright/planner/search"
	"cabwright/ui/canvas"
	"cabwright/ui/drawing"
	"cabwright/ui/style"
	"cabwright/ui/view"
)

// planRows returns how many rows of the drawing the plan takes; the section gets
// the rest where there is room for both.
func planRows(width, height int) int {
	if width >= 120 && height >= 30 {
		return height - height/3
	}
	return height
}

// Render draws the view in at most height lines of at most width cells.
func (v *View) Render(s *view.State, width, height int) []string {
	if width <= 0 || height <= 0 {
		return nil
	}
	drawn, figures := view.Columns(width)
	if v.mode == beside && drawn > 0 {
		return v.renderBeside(s, width, height)
	}
	if v.mode == beside {
		return v.stacked(s, width, height)
	}
	right := v.figures(s, figures, height)
	if drawn == 0 {
		return right
	}
	return view.Beside(v.drawing(s, drawn, width, height), drawn, right)
}

// drawing draws the chosen fit in the stone, or what cannot fit where it comes
// nearest, in plan and, where there is room, in section along its length.
func (v *View) drawing(s *view.State, cols, width, height int) []string {
	rows := planRows(width, height)
	v.cols, v.rows = cols, rows
	fit, words := s.Chosen, seenWords(s.Face)
	if v.mode == reasons {
		if fit = v.impossible(s); fit != nil {
			words = "where it comes nearest; " + strings.ReplaceAll(words, ";", ",")
		}
	}
	sc := scene(s, fit)
	c := canvas.New(cols, rows, s.Glyphs)
	c.SetView(s.Plane(cols, rows))
	cut := sc.LongAxis()
	if rows < height {
		sc.Line = &cut
	}
	sc.Caption = words
	drawing.Plan(c, sc)
	lines := c.Lines(s.Style.Canvas)
	if rows < height {
		c = canvas.New(cols, height-rows, s.Glyphs)
		c.SetView(sc.SectionWindow(cut, cols, height-rows, 2))
		sc.Caption = "section from A to B; top face above"
		drawing.Section(c, sc, cut)
		lines = append(lines, c.Lines(s.Style.Canvas)...)
	}
	return lines
}

// biggerRows is how many sizes that do not fit are named under the figures.
const biggerRows = 4

// figures are the list or the reasons, and the figures of the chosen fit.
func (v *View) figures(s *view.State, width, height int) []string {
	var lines []string
	switch v.mode {
	case reasons:
		lines = v.reasons(s, width, height)
	case bets:
		lines = v.betLines(s, width, height)
	default:
		under := v.details(s, width, height-listHead-fewestListed)
		if height >= 30 && width >= fullList {
			under = append(append(under, ""), v.biggerLines(s, width)...)
		}
		v.listed = max(1, height-listHead-len(under))
		lines = append(v.list(s, width, v.listed), under...)
	}
	if len(lines) > height {
		lines = lines[:height]
	}
	for i := range lines {
		lines[i] = view.Fit(lines[i], width)
	}
	return lines
}

// biggerLines name the nearest of the sizes that would be heavier than the chosen
// fit, and what is in their way.
func (v *View) biggerLines(s *view.State, width int) []string {
	if s.Chosen == nil || s.PlanOf != s.Revision() {
		return nil
	}
	all := bigger(v.refused(s), *s.Chosen)
	if len(all) == 0 {
		return nil
	}
	out := []string{s.Style.Paint(style.Key, view.Fit("Bigger, and why not (r tells more):", width))}
	for _, r := range all[:min(biggerRows, len(all))] {
		n := r.nearest()
		role := style.Bad
		if n.Verdict != search.CannotFit {
			role = style.Warn
		}
		name := fmt.Sprintf("  %-18s ", view.Size(n.Candidate)+" "+view.Shape(n.Candidate))
		out = append(out, name+s.Style.Paint(role, shortWords(n)))
	}
	return out
}

// spareWords says how much a fit has to spare, or breaks, in full and in short.
func spareWords(f search.Fit) (full, short string, role style.Role) {
	figure := fmt.Sprintf("%.2f", max(0, down2(f.Clearance)))
	switch {
	case f.Clearance < 0:
		full = fmt.Sprintf("%.2f mm too near", up2(-f.Clearance))
		return full, full, style.Bad
	case f.Clearance < view.LowSpare:
		return "spare " + figure + " mm, hardly any", "spare " + figure + "!", style.Warn
	}
	return "spare " + figure + " mm", "spare " + figure, style.Good
}

// fewestListed is how many lines the list keeps, however little room there is.
const fewestListed = 5

// details are the figures of the chosen fit, in a narrow list at most room of them.
func (v *View) details(s *view.State, width, room int) []string {
	f := s.Chosen
	if f == nil {
		return []string{s.Style.Paint(style.Faint, "no fit chosen")}
	}
	title := sizeWords(f.Candidate)
	if v.hand.on {
		title = "by hand: " + title
	}
	spare, short, role := spareWords(*f)
	skin := skinPart(s.Scene().Nearest, rough(s), s.Stone(), *f)
	held := "held by " + limitWords(f.LimitedBy, skin)
	proved := style.Warn
	if f.Proved {
		proved = style.Good
	}
	state := provedSign(*f, s.Glyphs) + " " + provedWords(*f, s.Plan.Tolerance)
	if v.hand.found != nil && f.Clearance >= 0 {
		state = "~ moved by hand"
	}
	faceAndSides := faceWords(f.Face) + ", " + sidesWords(f.Candidate)
	heights := fmt.Sprintf("height %s, dome %s mm", mm(f.Solid.Height()), mm(f.Solid.Dome))
	colour := fmt.Sprintf("colour share %.0f%%", 100*f.Colour)
	paint := s.Style.Paint
	bet, betRole, isBet := oddsLine(s)
	if width >= fullList {
		lines := []string{""}
		add := func(parts ...string) { lines = append(lines, flowed(parts, width)...) }
		add(paint(style.Selected, title), faceAndSides)
		add(formWords(f.Candidate), heights)
		add(caratWords(*f), paint(style.Faint, lossWords(*f, s.Stone(), rough(s))+byScale(s.Stone())))
		add(bandLines(s, *f, width)...)
		add(append([]string{paint(role, spare)}, wrapped(s, style.Limit, held, width)...)...)
		add(colour, paint(style.Faint, poseWords(*f)))
		add(paint(proved, state))
		if most := s.Plan.FreeformMost; most > f.Carat && view.Freeform(f.Candidate) {
			add(paint(style.Faint, fmt.Sprintf("level freeforms over %.2f ct ruled out", most)))
		}
		if isBet {
			add(paint(betRole, bet))
		}
		return lines
	}
	lines := []string{
		paint(style.Selected, view.Fit(title, width)),
		faceAndSides,
		formWords(f.Candidate),
		heights,
		paint(proved, provedSign(*f, s.Glyphs)) + " " + caratWords(*f), // the status line has it in words
	}
	band, lost := bandLines(s, *f, width), lossWords(*f, s.Stone(), rough(s))+byScale(s.Stone())
	lines = append(append(lines, band...), lost,
		paint(role, short)+fmt.Sprintf(", colour %.0f%%", 100*f.Colour),
		paint(style.Limit, view.Fit(narrowLimits(f.LimitedBy, skin), width)),
		poseWords(*f))
	if isBet {
		lines[len(lines)-1] = paint(betRole, view.Fit(bet, width)) // how it is turned is seen
	}
	lesser := append(slices.Clone(band), lost, poseWords(*f), formWords(f.Candidate), faceAndSides, heights)
	return mostOf(lines, room, lesser)
}

// flowed puts parts beside each other, two cells apart, on as few lines as a width
// allows.
func flowed(parts []string, width int) (lines []string) {
	for _, p := range parts {
		if n := len(lines); n > 0 && view.Width(lines[n-1])+2+view.Width(p) <= width {
			lines[n-1] += "  " + p
			continue
		}
		lines = append(lines, p)
	}
	return lines
}

// mostOf returns lines in their order, as many as there is room for: those that are
// named first in lesser are left out first.
func mostOf(lines []string, room int, lesser []string) []string {
	for _, l := range lesser {
		if len(lines) <= max(1, room) {
			break
		}
		lines = slices.DeleteFunc(lines, func(line string) bool { return line == l })
	}
	return lines
}

// wrapped breaks words over lines of a width, in one look.
func wrapped(s *view.State, role style.Role, text string, width int) []string {
	var lines []string
	for _, l := range wrap(text, width) {
		lines = append(lines, s.Style.Paint(role, l))
	}
	return lines
}
