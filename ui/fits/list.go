package fits

import (
	"fmt"
	"math"
	"strings"

	"github.com/charmbracelet/x/ansi"

	"cabwright/planner"
	"cabwright/planner/search"
	"cabwright/ui/canvas"
	"cabwright/ui/style"
	"cabwright/ui/view"
)

// column is one column of the list.
type column struct {
	head  string
	width int
	right bool // figures stand at the right
	text  func(l line) string
	role  func(l line) style.Role // nil: that of the whole line
}

// fullList is the width from which the list has whole words and a column of spare.
const fullList = 42

// columns returns the columns that a width of cells has room for, each with a free
// cell before it. The first cell of a line is the choice's and the pins'.
func (v *View) columns(s *view.State, width int, most float64) []column {
	if width < fullList {
		return v.narrowColumns(s)
	}
	carat := column{head: "ct", width: 6, right: true, text: caratText}
	rest := []column{
		{head: "outline", width: 9, text: shapeText},
		{head: "size", width: 9, text: func(l line) string { return view.Size(l.fit.Candidate) }},
		{head: "up", width: 4, text: faceText},
		{head: "sides", width: 6, text: func(l line) string { return view.Sides(l.fit.Candidate) }},
		{head: "spare ", width: 6, text: func(l line) string { return v.spareText(s, l.fit) }, role: spareRole},
	}
	room := width - 1 - carat.width
	for _, c := range rest {
		room -= 1 + c.width
	}
	if chance := oddsColumn(s); s.Unsure() && room > chance.width {
		rest = append(rest, chance)
		room -= 1 + chance.width
	}
	more := column{width: 2, text: moreText, role: faint}
	if room < 0 {
		rest[0].width, rest[1].width = 8, 5
		rest[0].text = func(l line) string {
			if text := shapeText(l); ansi.StringWidth(text) <= rest[0].width {
				return text
			}
			return shortShape(l.fit.Candidate)
		}
		rest[1].text = func(l line) string { return shortSize(l.fit.Candidate) }
		return append([]column{carat}, rest...)
	}
	out := []column{carat}
	if room -= 1 + more.width; room < 0 {
		return append(out, rest...)
	}
	if wide := min(12, room-1); wide >= 3 {
		out = append(out, column{width: wide, role: faint, text: func(l line) string {
			return bar(figure(v.filter.rank, l.fit)/most, wide, s.Glyphs)
		}})
	}
	return append(append(out, rest...), more)
}

// oddsColumn has the odds of the fits where the plan lays them, as far as they are known.
func oddsColumn(s *view.State) column {
	return column{
		head: "odds", width: 4, right: true,
		text: func(l line) string {
			if p := s.Bet(l.fit); p != nil {
				return shortOdds(p.Odds)
			}
			return ""
		},
		role: func(l line) style.Role {
			if p := s.Bet(l.fit); p != nil {
				return oddsRole(p.Odds)
			}
			return style.Faint
		},
	}
}

// narrowColumns are those beside a drawing at 80 columns: 27 cells in all.
func (v *View) narrowColumns(s *view.State) []column {
	return []column{
		{head: "ct", width: 5, right: true, text: caratText},
		{head: "size", width: 5, text: func(l line) string { return shortSize(l.fit.Candidate) }},
		{head: "shape", width: 6, text: func(l line) string { return shortShape(l.fit.Candidate) }},
		{head: "up", width: 4, text: faceText},
		{width: 2, text: func(l line) string { return fmt.Sprint(max(1, l.fit.Solid.Sides)) + v.narrowSign(s, l) }},
	}
}

// caratText is a weight in at most five cells, up to 20 kg.
func caratText(l line) string {
	switch c := l.fit.Carat; {
	case c >= 999.95:
		return fmt.Sprintf("%.0f", c)
	case c >= 99.995:
		return fmt.Sprintf("%.1f", c)
	default:
		return fmt.Sprintf("%.2f", c)
	}
}

func shapeText(l line) string {
	if l.variant {
		return " " + view.Shape(l.fit.Candidate)
	}
	return view.Shape(l.fit.Candidate)
}

func faceText(l line) string { return view.FaceUp(l.fit.Candidate) }

func faint(line) style.Role { return style.Faint }

func spareRole(l line) style.Role {
	if l.fit.Clearance < view.LowSpare {
		return style.Warn
	}
	return style.Text
}

// narrowSign is the one sign that a narrow line has room for: that there is little
// to spare, or else that there is as much as is wanted, or that variants are folded
// away.
func (v *View) narrowSign(s *view.State, l line) string {
	switch {
	case l.fit.Clearance < view.LowSpare:
		return "!"
	case v.filter.spare > 0 && v.filter.enough(l.fit):
		return hasSpareSign(s)
	case l.more > 0:
		return "+"
	}
	return ""
}

func moreText(l line) string {
	if l.more > 0 {
		return fmt.Sprintf("+%d", l.more)
	}
	return ""
}

// spareText is a fit's spare; where some is wanted, a sign says which fits have it.
func (v *View) spareText(s *view.State, f search.Fit) string {
	text := view.Spare(f.Clearance)
	if v.filter.spare > 0 && v.filter.enough(f) {
		return text + hasSpareSign(s)
	}
	return text
}

// hasSpareSign stands beside a fit that has the spare wanted.
func hasSpareSign(s *view.State) string {
	if s.Glyphs == canvas.ASCII {
		return "*"
	}
	return "✓"
}

// shortSize is a size in at most five cells: a freeform's is rounded.
func shortSize(c search.Candidate) string {
	o := c.Solid.Outline
	if text := view.Size(c); len(text) <= 5 {
		return text
	}
	return fmt.Sprintf("%.0fx%.0f", o.Length, o.Width)
}

// shortShapes are the outlines whose names are longer than six cells.
var shortShapes = map[string]string{
	"cushion": "cushn", "octagon": "octag", "rectangle": "rect",
	"marquise": "marq", "triangle": "triang", "freeform": "free",
}

func shortShape(c search.Candidate) string {
	name := view.Shape(c)
	if short, ok := shortShapes[name]; ok {
		return short
	}
	return name
}

// figure is what a rank orders by: carats, mm or carats of colour.
func figure(rank search.Rank, f search.Fit) float64 {
	switch rank {
	case search.ByClearance:
		return f.Clearance
	case search.ByColour:
		return f.Carat * f.Colour
	}
	return f.Carat
}

// bar is a share, 0 to 1, of so many cells, to half a cell where the font has such
// signs.
func bar(share float64, cells int, glyphs canvas.Mode) string {
	share = math.Max(0, math.Min(1, share))
	if math.IsNaN(share) {
		share = 0
	}
	if glyphs == canvas.ASCII {
		return strings.Repeat("=", int(math.Round(share*float64(cells))))
	}
	halves := int(math.Round(share * float64(2*cells)))
	return strings.Repeat("━", halves/2) + strings.Repeat("╸", halves%2)
}

// written lays a line's texts out in columns.
func written(columns []column, text func(column) string) string {
	var b strings.Builder
	for i, c := range columns {
		if i > 0 {
			b.WriteString(" ")
		}
		t := view.Fit(text(c), c.width)
		if c.right {
			t = strings.TrimRight(t, " ")
			t = strings.Repeat(" ", max(0, c.width-ansi.StringWidth(t))) + t
		}
		b.WriteString(t)
	}
	return b.String()
}

// list is the heading, the names of the columns and the rows around the chosen
// fit: exactly rows + listHead lines.
func (v *View) list(s *view.State, width, rows int) []string {
	lines := v.lines(s)
	out := []string{v.heading(s, len(lines), width)}
	most := 0.0
	for _, l := range lines {
		most = math.Max(most, figure(v.filter.rank, l.fit))
	}
	columns := v.columns(s, width, most)
	out = append(out, s.Style.Paint(style.Faint, " "+written(columns, func(c column) string { return c.head })))
	at := lineOf(lines, s.Chosen)
	v.top = scrolled(v.top, at, len(lines), rows)
	for i := v.top; i < len(lines) && i < v.top+rows; i++ {
		out = append(out, v.row(s, columns, lines[i], i == at, width))
	}
	if len(lines) == 0 {
		out = append(out, nothing(s, v.filter, width)...)
	}
	for len(out) < rows+listHead {
		out = append(out, "")
	}
	return out[:rows+listHead]
}

// listHead is how many lines stand above the rows of a list.
const listHead = 2

// scrolled returns the first row shown of a list of n rows: as it was, but for what
// row at needs to be in sight.
func scrolled(top, at, n, rows int) int {
	if at >= 0 {
		top = max(min(top, at), at-rows+1)
	}
	return max(0, min(top, n-rows))
}

// heading says what is listed, and whether that is still so.
func (v *View) heading(s *view.State, rows, width int) string {
	switch {
	case len(s.Plan.Fits) == 0 && (s.Searching || s.PlanOf < 0):
		return s.Style.Paint(style.Faint, view.Fit("no fit found yet", width))
	case s.PlanOf >= 0 && s.PlanOf != s.Revision():
		return s.Style.Paint(style.Warn, view.Fit("being checked again: "+v.filter.words(), width))
	}
	n := len(v.filter.listed(v.shown.fits))
	text := fmt.Sprintf("%d fit: %s", n, v.filter.words())
	if w := v.shown.waiting; w > 0 {
		if wait := fmt.Sprintf(", %d new (a)", w); ansi.StringWidth(text+wait) <= width {
			text += wait
		} else {
			text = fmt.Sprintf("%d new: a lists them", w)
		}
		return s.Style.Paint(style.Warn, view.Fit(text, width))
	}
	if width >= fullList && rows < n {
		text = fmt.Sprintf("%d fit in %d sizes and ways up: %s", n, rows, v.filter.words())
	}
	if v.filter.spare > 0 && !v.filter.only {
		have := fmt.Sprintf("; %d with %g to spare", v.withSpare(), v.filter.spare)
		if width >= fullList {
			have = fmt.Sprintf("; %d have %g mm to spare (%s)", v.withSpare(), v.filter.spare, hasSpareSign(s))
		}
		if ansi.StringWidth(text+have) <= width {
			text += have
		}
	}
	return s.Style.Paint(style.Faint, view.Fit(text, width))
}

// withSpare counts the listed fits that have the spare wanted.
func (v *View) withSpare() int {
	n := 0
	for _, f := range v.filter.listed(v.shown.fits) {
		if v.filter.enough(f) {
			n++
		}
	}
	return n
}

// nothing says why the list is empty and what to do.
func nothing(s *view.State, f filter, width int) []string {
	switch {
	case s.RoughErr != nil:
		return wrapped(s, style.Warn, planner.Visible(s.RoughErr.Error()), width)
	case s.Searching || s.PlanOf < 0:
		return wrapped(s, style.Text, "Searching…", width)
	case f.narrows() && len(s.Plan.Fits) > 0:
		return wrapped(s, style.Text, "None of these. x lists all.", width)
	default:
		return wrapped(s, style.Warn,
			"Nothing fits. r says why; smaller allowances in the stone's details, or fewer marks, may leave room.", width)
	}
}

// row is one line of the list.
func (v *View) row(s *view.State, columns []column, l line, chosen bool, width int) string {
	mark, role := " ", style.Text
	for _, p := range s.Pinned {
		if view.SameCut(p.Candidate, l.fit.Candidate) {
			mark = "*"
		}
	}
	switch {
	case chosen:
		mark, role = "▸", style.Selected
	case s.PlanOf != s.Revision():
		role = style.Faint
	}
	own := role == style.Text
	return view.Fit(s.Style.Paint(role, mark)+written(columns, func(c column) string {
		if own && c.role != nil {
			return s.Style.Paint(c.role(l), c.text(l))
		}
		return s.Style.Paint(role, c.text(l))
	}), width)
}
