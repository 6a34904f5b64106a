package sawview

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/charmbracelet/x/ansi"

	"cabwright/planner"
	"cabwright/planner/cuts"
	"cabwright/ui/canvas"
	"cabwright/ui/drawing"
	"cabwright/ui/style"
	"cabwright/ui/view"
)

// Render draws the view.
func (v *View) Render(s *view.State, width, height int) []string {
	if width <= 0 || height <= 0 {
		return nil
	}
	cols, figures := view.Columns(width)
	right := v.figuresWithin(s, figures, height)
	for i, l := range right {
		if view.Width(l) > figures {
			right[i] = view.Fit(l, figures) // a word longer than the figures is wide
		}
	}
	if cols == 0 {
		return right
	}
	rows := planRows(height)
	left := v.plan(s, cols, rows)
	if height > rows {
		left = append(left, v.section(s, cols, height-rows)...)
	}
	return view.Beside(left, cols, right)
}

// planRows is how much of the height the drawing from above takes: the rest
// shows the section, where there is room for one.
func planRows(height int) int {
	if height < 18 {
		return height
	}
	return height * 2 / 3
}

func (v *View) plane(s *view.State, cols, rows int) canvas.View {
	return v.scene(s).Window(cols, rows, 1)
}

func (v *View) plan(s *view.State, cols, rows int) []string {
	c := canvas.New(cols, rows, s.Glyphs)
	c.SetView(v.plane(s, cols, rows))
	sc := v.scene(s)
	sc.Corners = true
	sc.Caption = "seen from the top"
	if s.Face == planner.Base {
		sc.Caption = "seen from the base; turned over"
	}
	if k, ok := v.sectionLine(s); ok {
		sc.Line = &k
	}
	drawing.Plan(c, sc)
	return c.Lines(s.Style.Canvas)
}

// sectionLine runs square to the chosen cut through the middle of the nearest
// stone.
func (v *View) sectionLine(s *view.State) (drawing.Cut, bool) {
	k, _, ok := v.chosen(s)
	if !ok || s.Chosen == nil {
		return drawing.Cut{}, false
	}
	n := planeOf(k).Normal.XY()
	if n.Norm() < 0.2 {
		n = s.Chosen.Pose.Axes.U.XY()
	}
	p, least := s.Chosen.Pose.Origin.XY(), math.Inf(1)
	for _, f := range v.fits(s) {
		if d := math.Abs(planeOf(k).Height(f.Pose.Origin)); d < least {
			p, least = f.Pose.Origin.XY(), d
		}
	}
	line := drawing.Cut{A: p.Sub(n), B: p.Add(n)}
	if !line.Inside(s.Stone().Outline) {
		return drawing.Cut{}, false
	}
	return line.Across(s.Stone().Outline), true
}

func (v *View) section(s *view.State, cols, rows int) []string {
	c := canvas.New(cols, rows, s.Glyphs)
	k, ok := v.sectionLine(s)
	sc := v.scene(s)
	if !ok || sc.Rough == nil {
		words := "No cut: a adds one through the cursor."
		switch _, asked := v.question(s); {
		case v.busy || sc.Rough == nil:
			words = "Being worked out…"
		case v.stones > 1 && !asked:
			words = v.waiting(s)
		}
		c.Text(1, 1, ansi.Truncate(words, max(0, cols-2), "…"), canvas.Label)
		return c.Lines(s.Style.Canvas)
	}
	c.SetView(sc.SectionWindow(k, cols, rows, 1))
	sc.Caption = "A to B, square to the chosen cut"
	drawing.Section(c, sc, k)
	return c.Lines(s.Style.Canvas)
}

// listed returns the cut on a row of the figures.
func (v *View) listed(s *view.State, row int) (int, bool) {
	if row < v.listRow {
		return 0, false
	}
	i := row - v.listRow + v.listFrom
	return i, i < min(len(v.kept(s)), v.listFrom+v.listShown)
}

// figuresWithin leaves out what can be missed most easily until the figures go into the
// height, so that the chosen cut's marks are always to be read: empty lines, the stones'
// sizes and worth, and the cuts that are far from the chosen one.
func (v *View) figuresWithin(s *view.State, width, height int) []string {
	lines := v.figures(s, width, height)
	bare := func(l string) bool { return l == "" }
	for _, shown := range []int{3, 1} {
		if len(slices.DeleteFunc(slices.Clone(lines), bare)) > height {
			lines = v.figures(s, width, shown)
		}
	}
	if len(lines) > height {
		for _, l := range lines[:v.listRow] {
			if bare(l) {
				v.listRow-- // the row that a click on the list is counted from
			}
		}
		lines = slices.DeleteFunc(lines, bare)
	}
	return lines[:min(len(lines), height)]
}

// figures is the stones, the order, and the chosen cut in figures; of more than so many
// cuts only those about the chosen one, and then no stone by itself.
func (v *View) figures(s *view.State, width, shown int) []string {
	t := view.NewFigureList(s.Style, width)
	v.listRow, v.listFrom, v.listShown = 0, 0, 0
	fits := v.fits(s)
	if len(fits) == 0 {
		t.Words(style.Faint, "No fit is chosen yet: the cuts are made for one.")
		return t.Lines()
	}
	sum := 0.0
	for _, f := range fits {
		sum += f.Carat
	}
	t.Head(fmt.Sprintf("%s, %.2f ct", counted(len(fits), "stone"), sum))
	all := v.drawn(s)
	tight := shown < tightFrom
	if !tight {
		for _, f := range fits {
			t.Row(sizeOf(f.Solid.Outline.Shape, f.Solid.Outline.Length, f.Solid.Outline.Width), fmt.Sprintf("%.2f ct", f.Carat))
		}
		v.worthRows(s, t)
	}
	layout := v.layout(s)
	title := "Cuts, proposed"
	if len(s.Stone().Cuts) > 0 {
		title = "Cuts, kept"
	}
	_, at, chosen := v.chosen(s)
	if shown < len(all) {
		title += fmt.Sprintf(" (%d of %d)", at+1, len(all))
	}
	t.Head(title)
	v.listRow = len(t.Lines())
	v.listShown = shown
	v.listFrom = max(0, min(at-shown/2, len(all)-shown))
	for i, k := range all {
		if i < v.listFrom || i >= v.listFrom+shown {
			continue
		}
		words := planner.Visible(k.ID)
		if layout != nil && i < len(layout.Steps) {
			words += " " + layout.Steps[i].Task()
		}
		t.Item(style.Text, i == at, words)
	}
	switch {
	case !chosen && v.pending(s):
		t.Words(style.Faint, v.waiting(s))
	case !chosen && v.answer != nil && v.answer.err != nil:
		t.Words(style.Bad, v.answer.err.Error())
	case !chosen:
		t.Words(style.Faint, "No cut takes enough off to be worth setting up.")
	default:
		v.one(s, t, all[at], at, layout)
	}
	if layout != nil && v.answer != nil {
		for _, n := range v.answer.notes {
			t.Words(style.Faint, n)
		}
	}
	v.layoutList(s, t)
	return t.Lines()
}

// tightFrom is below how many cuts the figures are short of room.
const tightFrom = 4

func (v *View) waiting(s *view.State) string {
	if v.stones > 1 && s.Searching && !s.Plan.Settled {
		return "Several stones start from the best fits: they are still being looked for."
	}
	return "Being worked out…"
}

// one writes what there is to know of the chosen cut.
func (v *View) one(s *view.State, t *view.FigureList, k planner.Cut, at int, layout *cuts.Layout) {
	t.Gap()
	room := v.room(s, k)
	role, words := style.Text, "to spare"
	if room < 0 {
		role, words = style.Bad, "too near"
	}
	t.Words(role, fmt.Sprintf("%s: %.2f mm %s", planner.Visible(k.ID), math.Abs(room), words))
	if layout == nil || at >= len(layout.Steps) || v.drag != nil && v.drag.moved {
		t.Words(style.Faint, "the rest is being worked out…")
		return
	}
	step := layout.Steps[at]
	sg := v.answer.body.SG
	if step.Offcut > 0 {
		t.Row("takes off", fmt.Sprintf("%.2f ct", planner.Carat(step.Offcut, sg)))
	}
	t.Row("kerf "+fmt.Sprintf("%g mm", step.Kerf), fmt.Sprintf("%.2f ct", planner.Carat(step.KerfLost, sg)))
	t.Row("across, when right", fmt.Sprintf("%.1f mm", step.Across))
	for _, m := range step.Marks {
		t.Words(style.Text, m.String())
	}
	if lean := step.LeanWords(); lean != "" {
		t.Words(style.Text, lean)
	}
	if len(step.Frees) > 0 && !strings.Contains(step.Task(), cuts.Names(step.Frees)) {
		t.Words(style.Text, "frees the stone from "+cuts.Names(step.Frees))
	}
	saw, _ := s.Presets.Saw(s.Presets.Defaults.Saw)
	for _, w := range step.Warnings(cuts.BladeOf(saw)) {
		t.Words(style.Warn, strings.ToUpper(w[:1])+w[1:]+".")
	}
	if v.drySawn(s, step) {
		t.Words(style.Warn, "Porous: no wet cut into an open crack. "+dustCaution+".")
	}
}

func sizeOf(shape string, length, width float64) string {
	round := func(x float64) float64 { return math.Round(x*10) / 10 }
	if length == width {
		return fmt.Sprintf("%s %g", shape, round(length))
	}
	return fmt.Sprintf("%s %gx%g", shape, round(length), round(width))
}

func counted(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}
