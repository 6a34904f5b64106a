package fits

import (
	"fmt"

	"cabwright/planner"
	"cabwright/planner/search"
	"cabwright/ui/canvas"
	"cabwright/ui/drawing"
	"cabwright/ui/style"
	"cabwright/ui/view"
)

// figureRows is how many rows of figures stand under each fit's drawing.
const figureRows = 6

// roomy is how many rows a plan must have for names to help.
const roomy = 14

// across returns how many of so many fits stand beside each other in a width of
// cells, and how wide each is with two cells between them.
func across(width, fits int) (n, each int) {
	n = min(4, fits, (width+2)/40) // 38 cells are the least the figures fit into
	n = max(1, n)
	return n, (width - 2*(n-1)) / n
}

// compared returns the fits to show beside each other: those of the ready
// comparison, or the chosen one and then the pinned ones.
func (v *View) compared(s *view.State) []search.Fit {
	if v.ready != noReady {
		return v.ready.pair(s.Plan, s.Chosen)
	}
	var out []search.Fit
	if s.Chosen != nil {
		out = append(out, *s.Chosen)
	}
	for _, p := range s.Pinned {
		if s.Chosen == nil || !view.SameFit(p, *s.Chosen) {
			out = append(out, p)
		}
	}
	return out
}

// renderBeside draws as many fits as there is room for beside each other.
func (v *View) renderBeside(s *view.State, width, height int) []string {
	fits := v.compared(s)
	if len(fits) < 2 {
		lines := v.lonely(s, width)
		if len(fits) == 1 && height > len(lines)+figureRows+1 {
			lines = append(lines, v.tile(s, fits[0], fits[0], 0, min(width, 80), height-len(lines))...)
		}
		return lines[:min(len(lines), height)]
	}
	n, each := across(width, len(fits))
	more := len(fits) - n
	fits = fits[:min(n, len(fits))]
	var out []string
	for i, f := range fits {
		tile := v.tile(s, f, fits[0], i, each, height)
		if i == 0 {
			out = tile
			continue
		}
		for row := range out {
			out[row] = view.Fit(out[row], i*(each+2)-2) + "  " + tile[row]
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
		lines = v.lonely(s, width)
	}
	for i, f := range fits {
		lines = append(lines, v.tile(s, f, fits[0], i, width, 1+figureRows)...)
	}
	return lines[:min(len(lines), height)]
}

// lonely says what is missing for a comparison.
func (v *View) lonely(s *view.State, width int) []string {
	if v.ready != noReady {
		return wrapped(s, style.Warn, fmt.Sprintf("To compare %s, one of each is needed; the list holds no such pair.", v.ready.words()), width)
	}
	return wrapped(s, style.Warn, "Only one fit to show. Step back with esc, choose another and pin it with p; F, T and C compare without pins.", width)
}

// tile is one fit of a comparison: its name, plan and section, and its figures,
// those that differ from the first fit's marked. It is exactly height lines of
// at most width cells.
func (v *View) tile(s *view.State, f, against search.Fit, i, width, height int) []string {
	mark, role := " ", style.Text
	if s.Chosen != nil && view.SameFit(f, *s.Chosen) {
		mark, role = ">", style.Selected
	}
	lines := []string{s.Style.Paint(role, view.Fit(fmt.Sprintf("%s%d: %s", mark, i+1, sizeWords(f.Candidate)), width))}
	if rows := height - 1 - figureRows; rows > 0 {
		lines = append(lines, tileDrawing(s, &f, width, rows)...)
	}
	for _, l := range figures(s, f, against, i == 0) {
		lines = append(lines, view.Fit(l, width))
	}
	if len(lines) > height {
		lines = lines[:height]
	}
	return lines
}

// tileDrawing draws the plan from the face the dome comes out of, and under it
// the section along the fit's length.
func tileDrawing(s *view.State, f *search.Fit, width, rows int) []string {
	sc := scene(s, f)
	under := rows * 5 / 14
	sc.Face, sc.Bare, sc.Names = f.Face, true, rows-under >= roomy
	// A free row keeps the two apart.
	c := canvas.New(width, rows-under-1, s.Glyphs)
	c.SetView(sc.Window(width, rows-under-1, 0))
	drawing.Plan(c, sc)
	lines := append(c.Lines(s.Style.Canvas), "")
	cut := sc.LongAxis()
	c = canvas.New(width, under, s.Glyphs)
	c.SetView(sc.SectionWindow(cut, width, under, 0))
	if sc.Names {
		sc.Caption = "section; top face above"
	}
	drawing.Section(c, sc, cut)
	return append(lines, c.Lines(s.Style.Canvas)...)
}

// figures are the rows under a fit's drawing. A row that differs from the first
// fit's has a sign before it, and numbers the difference behind them.
func figures(s *view.State, f, against search.Fit, own bool) []string {
	differs := "≠"
	if s.Glyphs == canvas.ASCII {
		differs = "#"
	}
	r := rough(s)
	rows := [figureRows]func(search.Fit) string{
		func(f search.Fit) string { return faceWords(f.Face) + ", " + sidesWords(f.Candidate) },
		func(f search.Fit) string {
			return fmt.Sprintf("%s, height %s", domeWords(f), mm(f.Solid.Height()))
		},
		caratWords,
		func(f search.Fit) string {
			return fmt.Sprintf("%s, colour %.0f%%", lossWords(f, r), 100*f.Colour)
		},
		func(f search.Fit) string { return fmt.Sprintf("clearance %.2f mm", f.Clearance) },
		func(f search.Fit) string { return limitWords(f.LimitedBy, "") + "; " + provedWords(f, 0) },
	}
	change := [figureRows]float64{2: f.Carat - against.Carat, 4: f.Clearance - against.Clearance}
	out := make([]string, 0, figureRows)
	for i, row := range rows {
		text := row(f)
		if own || text == row(against) {
			out = append(out, "  "+text)
			continue
		}
		if change[i] != 0 {
			text += fmt.Sprintf(" %+.2f", change[i])
		}
		out = append(out, s.Style.Paint(style.Selected, differs+" "+text))
	}
	return out
}

// domeWords gives the dome's style and height.
func domeWords(f search.Fit) string {
	if style := planner.Visible(f.DomeStyle); style != "" {
		return fmt.Sprintf("%s dome %s mm", style, mm(f.Solid.Dome))
	}
	return fmt.Sprintf("dome %s mm", mm(f.Solid.Dome))
}

// pick chooses the fit that was clicked in a comparison.
func (v *View) pick(s *view.State, m view.Mouse) {
	if m.Kind != view.Press {
		return
	}
	fits := v.compared(s)
	n, each := across(m.Width, len(fits))
	if i := m.Col / (each + 2); i < min(n, len(fits)) {
		f := fits[i]
		if v.ready == noReady && s.Chosen != nil && pinned(s, *s.Chosen) < 0 {
			// What was chosen and not pinned would drop out of the comparison.
			s.Pinned = append(append([]search.Fit(nil), s.Pinned...), *s.Chosen)
		}
		v.choose(s, f)
	}
}
