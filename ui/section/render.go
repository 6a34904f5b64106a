package section

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/charmbracelet/x/ansi"

	"cabwright/geometry"
	"cabwright/planner"
	"cabwright/ui/canvas"
	"cabwright/ui/drawing"
	"cabwright/ui/style"
	"cabwright/ui/view"
)

// Render draws the view in at most height lines of at most width cells: the
// plan with the cut's line, the cut under it, and its figures beside them.
func (v *View) Render(s *view.State, width, height int) []string {
	if width <= 0 || height <= 0 {
		return nil
	}
	cols, figures := view.Columns(width)
	right := v.figures(s, figures, height)
	if cols == 0 {
		return right
	}
	k := v.line(s)
	rows := planRows(s, cols, height)
	left := v.plan(s, k, cols, rows)
	left = append(left, v.section(s, k, cols, height-rows)...)
	return view.Beside(left, cols, right)
}

// around is how many cells stay free around a section: its figures stand there.
const around = 2

// window returns the view of the section on so many cells.
func window(s *view.State, k drawing.Cut, cols, rows int) canvas.View {
	return scene(s).SectionWindow(k, cols, rows, around)
}

// scene returns what there is to draw.
func scene(s *view.State) drawing.Scene {
	sc := s.Scene()
	sc.Rough, sc.Fit, sc.Ticks = rough(s), s.Chosen, s.Ticks(s.Chosen)
	return sc
}

// planRows returns how many rows the plan takes: what a section along the
// stone's longer side leaves when it is drawn as large as the width allows, but
// a third at least. It does not hang on the cut, so that the plan stays where it
// is while a cut is drawn in it.
func planRows(s *view.State, cols, height int) int {
	r := rough(s)
	if r == nil || cols <= 2*around {
		return height / 2
	}
	lo, hi := geometry.Bounds(s.Stone().Outline)
	low, high := r.Heights()
	scale := math.Max(hi.X-lo.X, hi.Y-lo.Y) / float64(cols-2*around) // mm a cell
	need := math.Ceil((high-low)/(scale*canvas.CellAspect)) + 2*around
	third := float64(height / 3)
	return int(math.Max(third, float64(height)-math.Max(need, third)))
}

// roomy is how many rows a plan must have for names and a grid to help.
const roomy = 14

// plane returns the view of the plan: always the whole stone.
func plane(s *view.State, cols, rows int) canvas.View {
	margin := 0
	if rows >= roomy {
		margin = 1
	}
	return scene(s).Window(cols, rows, margin)
}

func (v *View) plan(s *view.State, k drawing.Cut, cols, rows int) []string {
	c := canvas.New(cols, rows, s.Glyphs)
	c.SetView(plane(s, cols, rows))
	sc := scene(s)
	sc.Bare = rows < roomy
	sc.Names = !sc.Bare
	sc.Line, sc.WholeLine = &k, true
	sc.Spots = []drawing.Spot{{At: k.At(v.look * length(k)), Mark: canvas.CursorMark, Class: canvas.Cursor}}
	sc.Caption = "seen from the top"
	if s.Face == planner.Base {
		sc.Caption = "seen from the base; turned over"
	}
	drawing.Plan(c, sc)
	return c.Lines(s.Style.Canvas)
}

// section draws the cut, and through the place looked at an upright line.
func (v *View) section(s *view.State, k drawing.Cut, cols, rows int) []string {
	c := canvas.New(cols, rows, s.Glyphs)
	r := rough(s)
	if r == nil {
		words := "The stone's surfaces are being laid…"
		if s.RoughErr != nil {
			words = planner.Visible(s.RoughErr.Error())
		}
		for i, l := range strings.Split(ansi.Wrap(words, max(1, cols-2), ""), "\n") {
			c.Text(1, i+1, l, canvas.Label)
		}
		return c.Lines(s.Style.Canvas)
	}
	c.SetView(window(s, k, cols, rows))
	t := v.look * length(k)
	p := k.At(t)
	low, high := geometry.Vec2{X: t, Y: r.Base(p.X, p.Y)}, geometry.Vec2{X: t, Y: r.Top(p.X, p.Y)}
	sc := scene(s)
	sc.Caption = "A to B; top face above; figures: thickness, mm"
	sc.Over = func(c *canvas.Canvas) { c.Line(low, high, canvas.Pen{Class: canvas.Cursor, Stroke: canvas.Dotted}) }
	sc.Spots = []drawing.Spot{{At: high, Mark: canvas.CursorMark, Class: canvas.Cursor}}
	drawing.Section(c, sc, k)
	return c.Lines(s.Style.Canvas)
}

// coordinates writes a point as it can be typed.
func coordinates(p geometry.Vec2) string { return fmt.Sprintf("%.2f, %.2f", p.X, p.Y) }

// figures are the cut in numbers: exactly as many lines as there are, at most height.
func (v *View) figures(s *view.State, width, height int) []string {
	k := v.line(s)
	lines := []string{
		s.Style.Paint(style.Selected, view.Fit(fmt.Sprintf("Section of %.1f mm", length(k)), width)),
		"A " + coordinates(k.A),
		"B " + coordinates(k.B),
	}
	r := rough(s)
	if r != nil {
		least, most := thickness(r, k)
		lines = append(lines, fmt.Sprintf("thick %.1f to %.1f mm", least, most), "")
		lines = append(lines, v.here(s, r, k, width)...)
	}
	lines = append(lines, "")
	lines = append(lines, v.met(s, k)...)
	if fit := fitLines(s, width); len(lines)+1+len(fit) <= height {
		lines = append(append(lines, ""), fit...)
	}
	if r != nil {
		lines = append(lines, along(s, r, k, height-len(lines))...)
	}
	lines = lines[:min(len(lines), height)]
	for i := range lines {
		lines[i] = view.Fit(lines[i], width)
	}
	return lines
}

// fitLines name the fit that is cut.
func fitLines(s *view.State, width int) []string {
	f := s.Chosen
	if f == nil {
		return nil
	}
	c := f.Candidate
	return []string{
		s.Style.Paint(style.Fit, view.Fit(view.Size(c)+" "+view.Shape(c)+", "+view.FaceUp(c)+" up", width)),
		fmt.Sprintf("%.2f ct, spare %s", f.Carat, view.Spare(f.Clearance)),
	}
}

// fewestAlong is how many lines a table along the section must have room for to help.
const fewestAlong = 8

// along is a table of thicknesses at even steps along the section, in at most so many
// lines with a free one before it; nothing where there is little room.
func along(s *view.State, r *planner.Rough, k drawing.Cut, room int) []string {
	rows := room - 2 // a free line and the heads
	if rows < fewestAlong {
		return nil
	}
	step := 0.5 // mm; the finest that calipers are set down at
	for _, wider := range []float64{1, 2, 3, 4, 5, 10, 20, 50, 100} {
		if length(k)/step >= float64(rows) {
			step = wider
		}
	}
	out := []string{"", s.Style.Paint(style.Faint, " from A  rough    fit  above  below")}
	for t := 0.0; t <= length(k) && len(out) < room; t += step {
		p := k.At(t)
		low, high := r.Base(p.X, p.Y), r.Top(p.X, p.Y)
		line := fmt.Sprintf("%7.1f %6.2f", t, math.Max(0, high-low))
		if a, b, ok := drawing.Upright(s.Chosen, p); ok {
			line += fmt.Sprintf(" %6.2f %6.2f %6.2f", b-a, high-b, a-low)
		}
		out = append(out, line)
	}
	return out
}

// thickness returns the least and the greatest thickness along a cut, looked at
// every quarter of a millimetre: a caliper's jaw is wider.
func thickness(r *planner.Rough, k drawing.Cut) (least, most float64) {
	least = math.Inf(1)
	n := int(math.Min(4000, math.Ceil(length(k)/0.25)))
	for i := 0; i <= n; i++ {
		p := k.At(length(k) * float64(i) / math.Max(1, float64(n)))
		d := math.Max(0, r.Top(p.X, p.Y)-r.Base(p.X, p.Y))
		least, most = math.Min(least, d), math.Max(most, d)
	}
	return least, most
}

// here says how thick rough and fit are at the place looked at, and how much
// there is to take off over and under the fit.
func (v *View) here(s *view.State, r *planner.Rough, k drawing.Cut, width int) []string {
	t := v.look * length(k)
	p := k.At(t)
	low, high := r.Base(p.X, p.Y), r.Top(p.X, p.Y)
	lines := []string{
		s.Style.Paint(style.Cursor, view.Fit(fmt.Sprintf("%s %.1f mm from A", sign(s), t), width)),
		fmt.Sprintf("rough %.2f mm thick", math.Max(0, high-low)),
		fmt.Sprintf("  z %.2f to %.2f", low, high),
	}
	a, b, ok := drawing.Upright(s.Chosen, p)
	if !ok {
		return append(lines, "no fit here", "", "")
	}
	return append(lines,
		fmt.Sprintf("fit %.2f mm thick", b-a),
		fmt.Sprintf("  %.2f mm above it", high-b),
		fmt.Sprintf("  %.2f mm below it", a-low))
}

// sign is the mark of the place looked at.
func sign(s *view.State) string {
	if s.Glyphs == canvas.ASCII {
		return string(canvas.CursorMark.Plain)
	}
	return canvas.CursorMark.Sign
}

// met says what the cut runs through.
func (v *View) met(s *view.State, k drawing.Cut) []string {
	ids := drawing.Met(scene(s), k)
	if len(ids) == 0 {
		return []string{s.Style.Paint(style.Faint, "no marks in this section")}
	}
	stone := s.Stone()
	lines := []string{s.Style.Paint(style.Faint, "in this section:")}
	add := func(id string, role style.Role, words string) {
		if slices.Contains(ids, id) {
			lines = append(lines, s.Style.Paint(role, planner.Visible(id)+" "+words))
		}
	}
	for _, c := range stone.Cracks {
		kind, role := "crack", style.Crack
		if c.Sealed {
			kind, role = "sealed crack", style.Sealed
		}
		words := kind + into(c.Face, c.Depth, c.DepthRange)
		if c.Through {
			words = kind + " right through"
		}
		add(c.ID, role, words)
	}
	for _, p := range stone.Pockets {
		add(p.ID, style.Pocket, pocketWords(p))
	}
	for _, z := range stone.Colour {
		words := fmt.Sprintf("colour, %s, %.1f mm", z.Face, z.Depth)
		if z.Depth == 0 {
			words = fmt.Sprintf("colour, %s", z.Face)
		}
		add(z.ID, style.Zone, words)
	}
	return lines
}

func pocketWords(p planner.Pocket) string {
	switch p.Face {
	case planner.Through:
		return "pocket right through"
	case planner.Inside:
		return fmt.Sprintf("pocket, z %s to %s", drawing.Ranged(p.Low, p.BottomRange), drawing.Ranged(p.High, p.TopRange))
	default:
		return "pocket" + into(p.Face, p.Depth, p.DepthRange)
	}
}

// into says how deep a mark goes; a range leaves no room for the face, which is seen.
func into(face planner.Face, depth float64, r *planner.Range) string {
	if r != nil {
		return ", " + drawing.Ranged(depth, r) + " mm"
	}
	return fmt.Sprintf(", %s, %.1f mm", face, depth)
}
