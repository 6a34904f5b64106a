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

// detailRows is how many rows the figures of the chosen fit take in the tally.
const detailRows = 11

// listRows returns how many rows of the list a view of so many rows shows, under
// its heading and above the figures.
func listRows(height int) int { return max(1, height-1-detailRows) }

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
	drawn, tally := view.Columns(width)
	if v.mode == beside && drawn > 0 {
		return v.renderBeside(s, width, height)
	}
	if v.mode == beside {
		return v.stacked(s, width, height)
	}
	right := v.tally(s, tally, height)
	if drawn == 0 {
		return right
	}
	return view.Beside(v.drawing(s, drawn, width, height), drawn, right)
}

// drawing draws the chosen fit in the stone, in plan and, where there is room,
// in section along its length.
func (v *View) drawing(s *view.State, cols, width, height int) []string {
	rows := planRows(width, height)
	v.cols, v.rows = cols, rows
	sc := scene(s, s.Chosen)
	c := canvas.New(cols, rows, s.Glyphs)
	c.SetView(s.Plane(cols, rows))
	cut := sc.LongAxis()
	if rows < height {
		sc.Line = &cut
	}
	sc.Caption = caption(s)
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

// caption says which face is seen.
func caption(s *view.State) string {
	if s.Face == planner.Base {
		return "seen from the base; turned over"
	}
	return "seen from the top"
}

// tally is the list or the reasons, and the figures of the chosen fit.
func (v *View) tally(s *view.State, width, height int) []string {
	var lines []string
	switch {
	case v.mode == reasons:
		lines = v.reasons(s, width, height)
	default:
		lines = append(v.list(s, width, listRows(height)), v.details(s, width)...)
	}
	if len(lines) > height {
		lines = lines[:height]
	}
	for i := range lines {
		lines[i] = view.Fit(lines[i], width)
	}
	return lines
}

// first returns the first row shown of a list of n rows so that row at is among
// the rows shown, in the middle where it can be.
func first(at, n, rows int) int { return max(0, min(at-rows/2, n-rows)) }

// list is the heading and the rows around the chosen fit: exactly rows + 1 lines.
func (v *View) list(s *view.State, width, rows int) []string {
	listed := v.filter.listed(s.Plan)
	heading := fmt.Sprintf("%d fit: %s", len(listed), v.filter.words())
	if len(s.Plan.Fits) == 0 && (s.Searching || s.PlanOf < 0) {
		heading = "no fit found yet"
	}
	if s.PlanOf >= 0 && s.PlanOf != s.Revision() {
		heading = "before the edit: " + heading
	}
	lines := []string{s.Style.Paint(style.Faint, view.Fit(heading, width))}
	at := index(listed, s.Chosen)
	from := first(at, len(listed), rows)
	for i := from; i < len(listed) && i < from+rows; i++ {
		lines = append(lines, v.row(s, listed[i], i == at, width))
	}
	if len(listed) == 0 {
		lines = append(lines, nothing(s, v.filter, width)...)
	}
	for len(lines) < rows+1 {
		lines = append(lines, "")
	}
	return lines[:rows+1]
}

// nothing says why the list is empty and what to do.
func nothing(s *view.State, f filter, width int) []string {
	switch {
	case s.RoughErr != nil:
		return wrapped(s, style.Warn, planner.Visible(s.RoughErr.Error()), width)
	case s.Searching || s.PlanOf < 0:
		return wrapped(s, style.Text, "Searching…", width)
	case f != (filter{}) && len(s.Plan.Fits) > 0:
		return wrapped(s, style.Text, "None of these. x lists all.", width)
	default:
		return wrapped(s, style.Warn, "Nothing fits. r says why; smaller allowances in the stone's details, or fewer marks, may leave room.", width)
	}
}

// row is one line of the list: chosen, proved, pinned, carats, size, outline,
// face and sides.
func (v *View) row(s *view.State, f search.Fit, chosen bool, width int) string {
	mark, role := " ", style.Text
	if chosen {
		mark, role = ">", style.Selected
	}
	pin := " "
	for _, p := range s.Pinned {
		if view.SameCut(p.Candidate, f.Candidate) {
			pin = "*"
		}
	}
	o := f.Solid.Outline
	text := fmt.Sprintf("%s%s%s%5.2f %-5s %-9s %s", mark, provedSign(f, s.Glyphs), pin, f.Carat,
		fmt.Sprintf("%.0fx%.0f", o.Length, o.Width), shapeWord(f.Candidate), shortFace(f.Candidate))
	if width >= 47 { // the tally's width at 160 columns
		text += fmt.Sprintf(" %-14s%5.2f", styles(f.Candidate), f.Clearance)
	}
	return s.Style.Paint(role, view.Fit(text, width))
}

// styles names dome and back in one word: "medium/flat".
func styles(c search.Candidate) string {
	back := "flat"
	if c.Solid.Sides == 2 {
		back = planner.Visible(c.BackStyle)
	}
	return planner.Visible(c.DomeStyle) + "/" + back
}

// shortFace is T or B for the face up and 1 or 2 for the sides polished.
func shortFace(c search.Candidate) string {
	face := "T"
	if c.Face == planner.Base {
		face = "B"
	}
	return fmt.Sprintf("%s%d", face, max(1, c.Solid.Sides))
}

// details are the figures of the chosen fit: at most detailRows lines.
func (v *View) details(s *view.State, width int) []string {
	f := s.Chosen
	if f == nil {
		return []string{s.Style.Paint(style.Faint, "no fit chosen")}
	}
	title := sizeWords(f.Candidate)
	if v.hand.on {
		title = "by hand: " + title
	}
	clear, role := fmt.Sprintf("clearance %.2f mm", f.Clearance), style.Good
	if f.Clearance < 0 {
		clear, role = fmt.Sprintf("%.2f mm too near", -f.Clearance), style.Bad
	}
	proved := style.Warn
	if f.Proved {
		proved = style.Good
	}
	where := nearest(s.Stone(), rough(s), *f).Where
	state := provedSign(*f, s.Glyphs) + " " + provedWords(*f, s.Plan.Tolerance)
	if v.hand.found != nil && f.Clearance >= 0 {
		state = "~ moved by hand"
	}
	lines := []string{
		s.Style.Paint(style.Selected, view.Fit(title, width)),
		faceWords(f.Face) + ", " + sidesWords(f.Candidate),
		formWords(f.Candidate),
		fmt.Sprintf("height %s, dome %s mm", mm(f.Solid.Height()), mm(f.Solid.Dome)),
		caratWords(*f),
		lossWords(*f, rough(s)),
		s.Style.Paint(role, clear),
		s.Style.Paint(style.Limit, view.Fit("by "+limitWords(f.LimitedBy, where), width)),
		fmt.Sprintf("colour share %.0f%%", 100*f.Colour),
		s.Style.Paint(proved, view.Fit(state, width)),
		poseWords(*f),
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
