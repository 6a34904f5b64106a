package fits

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"cabwright/planner"
	"cabwright/planner/search"
	"cabwright/ui/canvas"
	"cabwright/ui/drawing"
	"cabwright/ui/style"
	"cabwright/ui/view"
)

// tileLeast is the least width of a fit beside others, in cells: two of them and
// the gap make 60.
const tileLeast = 29

// tileGap is how many cells are free between two.
const tileGap = 2

// roomy is how many rows a plan must have for names to help.
const roomy = 14

// across returns how many of so many fits stand beside each other in a width of
// cells, and how wide each is.
func across(width, fits int) (n, each int) {
	n = max(1, min(4, fits, (width+tileGap)/(tileLeast+tileGap)))
	return n, (width - tileGap*(n-1)) / n
}

// compared returns the fits to show beside each other: those of the ready
// comparison, or the chosen one and then the pinned ones.
func (v *View) compared(s *view.State) []compared {
	if v.ready != noReady {
		return v.ready.tiles(s.Plan.Fits, s.Chosen)
	}
	var out []compared
	if s.Chosen != nil {
		out = append(out, compared{Fit: *s.Chosen})
	}
	for _, p := range s.Pinned {
		if s.Chosen == nil || !view.SameFit(p, *s.Chosen) {
			out = append(out, compared{Fit: p})
		}
	}
	return out
}

// renderBeside draws as many fits as there is room for beside each other.
func (v *View) renderBeside(s *view.State, width, height int) []string {
	fits := v.compared(s)
	if len(fits) < 2 {
		lines := v.onlyOne(s, width)
		if len(fits) == 1 && height > len(lines)+figureRows(s)+tileHead {
			lines = append(lines, v.tile(s, fits[0], fits[0], 0, min(width, 80), height-len(lines), height < lowTile)...)
		}
		return lines[:min(len(lines), height)]
	}
	n, each := across(width, len(fits))
	more := len(fits) - n
	fits = fits[:n]
	var out []string
	for i, f := range fits {
		tile := v.tile(s, f, fits[0], i, each, height, height < lowTile)
		if i == 0 {
			out = tile
			continue
		}
		for row := range out {
			out[row] = view.Fit(out[row], i*(each+tileGap)-tileGap) + "  " + tile[row]
		}
	}
	if more > 0 && len(out) > 0 {
		last := len(out) - 1
		out[last] = view.Fit(out[last], width-12) + fmt.Sprintf(" %d more", more)
	}
	return out
}

// stacked lists the figures of the fits under each other, where there is no room
// for drawings.
func (v *View) stacked(s *view.State, width, height int) []string {
	fits := v.compared(s)
	var lines []string
	if len(fits) < 2 {
		lines = v.onlyOne(s, width)
	}
	for i, f := range fits {
		lines = append(lines, v.tile(s, f, fits[0], i, width, tileHead+figureRows(s), false)...)
	}
	return lines[:min(len(lines), height)]
}

// onlyOne says what is missing for a comparison.
func (v *View) onlyOne(s *view.State, width int) []string {
	if v.ready != noReady {
		left, right := v.ready.names()
		return wrapped(s, style.Warn, fmt.Sprintf("Nothing to compare: no %s beside %s in the list.", left, right), width)
	}
	return wrapped(s, style.Warn,
		"Only one fit to show. Step back with esc, choose another and pin it with p; F, T and C compare without pins.", width)
}

// tileHead is how many lines stand above a tile's drawing.
const tileHead = 2

// tile is one fit of a comparison: its name, plan and section, and its figures,
// those that differ from the first fit's marked; low leaves the least of them out.
// It is at most height lines, the same for every fit, of at most width cells.
func (v *View) tile(s *view.State, f, against compared, i, width, height int, low bool) []string {
	mark, role := " ", style.Text
	if s.Chosen != nil && view.SameFit(f.Fit, *s.Chosen) {
		mark, role = "▸", style.Selected
	}
	as := f.as
	if as == "" {
		as = "pinned"
		if mark != " " {
			as = "chosen"
		}
	}
	lines := []string{
		s.Style.Paint(role, view.Fit(fmt.Sprintf("%s%d: %s", mark, i+1, sizeWords(f.Candidate)), width)),
		s.Style.Paint(style.Faint, view.Fit("  "+as, width)),
	}
	under := figures(s, f.Fit, against.Fit, i == 0, low)
	if rows := height - tileHead - len(under); rows > 0 {
		lines = append(lines, tileDrawing(s, &f.Fit, width, rows)...)
	}
	for _, l := range under {
		lines = append(lines, view.Fit(l, width))
	}
	if len(lines) > height {
		lines = lines[:height]
	}
	return lines
}

// tileDrawing draws the plan from the face the dome comes out of, and under it
// the section along the fit's length. It says which face is seen, and that the
// base is seen with left and right exchanged.
func tileDrawing(s *view.State, f *search.Fit, width, rows int) []string {
	sc := scene(s, f)
	under := rows * 5 / 14
	if under < 3 {
		under = 0 // too low to show anything
	}
	sc.Face, sc.Bare, sc.Names = f.Face, true, rows-under >= roomy
	// A free row keeps the two apart, and says what they are.
	c := canvas.New(width, rows-under-1, s.Glyphs)
	c.SetView(sc.Window(width, rows-under-1, 0))
	drawing.Plan(c, sc)
	lines := append(
		c.Lines(s.Style.Canvas),
		s.Style.Paint(style.Faint, view.Fit("  "+strings.ReplaceAll(seenWords(f.Face), ";", ","), width)),
	)
	if under == 0 {
		return lines
	}
	cut := sc.LongAxis()
	c = canvas.New(width, under, s.Glyphs)
	c.SetView(sc.SectionWindow(cut, width, under, 0))
	drawing.Section(c, sc, cut)
	return append(lines, c.Lines(s.Style.Canvas)...)
}

// seenWords says which face a plan is seen from.
func seenWords(f planner.Face) string {
	if f == planner.Base {
		return "base; left-right mirrored"
	}
	return "seen from the top"
}

// mostFigures is how many rows of figures can stand under each fit's drawing, and
// lowTile the height of a tile under which some are left out.
const mostFigures, lowTile = 8, 18

// figureRows is how many do: where every mark is sure the odds are left out.
func figureRows(s *view.State) int {
	if s.Unsure() {
		return mostFigures
	}
	return mostFigures - 1
}

// figures are the rows under a fit's drawing; the least of them are left out where
// it is low. A row in which it really differs from the first fit has a sign before
// it, and numbers the difference behind them.
func figures(s *view.State, f, first search.Fit, own, low bool) []string {
	differs := "≠"
	if s.Glyphs == canvas.ASCII {
		differs = "#"
	}
	tolerance := math.Max(s.Plan.Tolerance, view.LowSpare) // a smaller difference may be the search's own
	carat, spare, colour := f.Carat-first.Carat, f.Clearance-first.Clearance, f.Colour-first.Colour
	_, spareText, _ := spareWords(f)
	rows := []struct {
		text    string
		differs bool
		by      string
		minor   bool
	}{
		{
			text:    faceWords(f.Face) + ", " + sidesWords(f.Candidate),
			differs: f.Face != first.Face || f.Solid.Sides != first.Solid.Sides,
		},
		{
			text:    fmt.Sprintf("%s, height %s", domeWords(f), mm(f.Solid.Height())),
			differs: domeWords(f) != domeWords(first) || mm(f.Solid.Height()) != mm(first.Solid.Height()),
		},
		{
			text:    strings.Replace(caratWords(f), " to ", "-", 1),
			differs: math.Abs(carat) >= 0.005,
			by:      fmt.Sprintf(" %+.2f", carat),
		},
		{text: lossWords(f, s.Stone(), rough(s)), minor: true}, // the weight says the same
		{
			text:    fmt.Sprintf("colour share %.0f%%", 100*f.Colour),
			differs: math.Abs(colour) >= 0.01,
			by:      fmt.Sprintf(" %+.0f", 100*colour),
			minor:   true,
		},
		{text: spareText, differs: math.Abs(spare) > tolerance, by: fmt.Sprintf(" %+.2f", spare)},
		{text: "held by " + limitWords(f.LimitedBy, ""), differs: !sameNames(f.LimitedBy, first.LimitedBy)},
		{},
	}
	if s.Unsure() {
		bet := betFigure(s, f)
		rows[mostFigures-1].text, rows[mostFigures-1].differs = bet, bet != betFigure(s, first)
	}
	var out []string
	for _, r := range rows[:figureRows(s)] {
		switch {
		case low && r.minor:
		case own || !r.differs:
			out = append(out, "  "+r.text)
		default:
			out = append(out, s.Style.Paint(style.Selected, differs+" "+r.text+r.by))
		}
	}
	return out
}

// betFigure is a fit's odds, short.
func betFigure(s *view.State, f search.Fit) string {
	p := s.Bet(f)
	switch {
	case p == nil:
		return "odds not known yet"
	case p.Sure():
		return "sure"
	}
	return "odds " + shortOdds(p.Odds) + ": " + p.Because()
}

// sameNames reports whether two lists hold the same names, in whatever order.
func sameNames(a, b []string) bool {
	a, b = slices.Clone(a), slices.Clone(b)
	slices.Sort(a)
	slices.Sort(b)
	return slices.Equal(a, b)
}

// domeWords gives the dome's style and height.
func domeWords(f search.Fit) string {
	if style := planner.Visible(f.DomeStyle); style != "" {
		return fmt.Sprintf("%s dome %s", style, mm(f.Solid.Dome))
	}
	return fmt.Sprintf("dome %s", mm(f.Solid.Dome))
}

// pick chooses the fit that was clicked in a comparison.
func (v *View) pick(s *view.State, m view.Mouse) {
	if m.Kind != view.Press {
		return
	}
	fits := v.compared(s)
	n, each := across(m.Width, len(fits))
	if i := m.Col / (each + tileGap); i < min(n, len(fits)) {
		f := fits[i].Fit
		if v.ready == noReady && s.Chosen != nil && pinned(s, *s.Chosen) < 0 {
			// What was chosen and not pinned would drop out of the comparison.
			s.Pinned = append(append([]search.Fit(nil), s.Pinned...), *s.Chosen)
		}
		v.choose(s, f)
	}
}
