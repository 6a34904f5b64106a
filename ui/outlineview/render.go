package outlineview

import (
	"fmt"
	"math"
	"strings"

	"cabwright/geometry"
	"cabwright/planner"
	"cabwright/ui/canvas"
	"cabwright/ui/drawing"
	"cabwright/ui/edit"
	"cabwright/ui/style"
	"cabwright/ui/view"
)

func (v *View) size(width, height int) {
	v.cols, _ = view.Columns(width)
	v.rows = height
}

// Render draws the stone in plan with its figures beside it.
func (v *View) Render(s *view.State, width, height int) []string {
	v.size(width, height)
	_, wide := view.Columns(width)
	figures := v.list(s, v.figures(s, wide), wide, height)
	if v.cols == 0 {
		return figures
	}
	return view.Beside(v.draw(s), v.cols, figures)
}

func (v *View) draw(s *view.State) []string {
	c := canvas.New(v.cols, v.rows, s.Glyphs)
	c.SetView(s.Plane(v.cols, v.rows))
	st := v.shown(s)
	sketching := v.sketching(s)
	scene := s.Scene()
	scene.Stone, scene.Ghost = st, s.Best()
	scene.Corners, scene.Readings, scene.Names = !sketching, !sketching, !sketching
	scene.Over = func(c *canvas.Canvas) { v.drawOver(c, s, sketching) }
	if sketching {
		for i, p := range v.draft {
			scene.Spots = append(
				scene.Spots,
				drawing.Spot{At: p, Mark: canvas.CornerMark, Class: canvas.Corner, Text: fmt.Sprint(i + 1)},
			)
		}
	}
	for _, p := range append(append([]geometry.Vec2(nil), st.Outline...), v.draft...) {
		if _, doubtful := s.Doubtful[p]; doubtful {
			scene.Spots = append(scene.Spots, drawing.Spot{At: p, Mark: canvas.DoubtfulMark, Class: canvas.Corner})
		}
	}
	if !sketching {
		scene.Spots = append(scene.Spots, v.questioned(s)...)
	}
	spot := drawing.Spot{At: s.Cursor, Mark: canvas.CursorMark, Class: canvas.Cursor}
	if t, ok := selected(s); ok && !sketching {
		spot = drawing.Spot{At: place(s, t), Mark: canvas.ChosenMark, Class: canvas.Chosen}
		if v.drag.Moves() && v.drag.Thing == t {
			spot.At = v.drag.To
		}
	}
	scene.Spots = append(scene.Spots, spot)
	for _, e := range s.Status().Edges {
		scene.Spots = append(
			scene.Spots,
			drawing.Spot{At: e[0].Add(e[1]).Scale(0.5), Mark: canvas.RefusedMark, Class: canvas.Refused},
		)
	}
	drawing.Plan(c, scene)
	return c.Lines(s.Style.Canvas)
}

// questioned marks the readings that are wrong or worth a second look; one that lies
// outside the window where the window ends on the way there.
func (v *View) questioned(s *view.State) (out []drawing.Spot) {
	flag := func(p *geometry.Vec2) {
		if p == nil {
			return
		}
		spot := drawing.Spot{At: *p, Mark: canvas.RefusedMark, Class: canvas.Refused}
		plane := s.Plane(v.cols, v.rows)
		col, row := plane.Cell(v.cols, v.rows, *p)
		x, y := max(0, min(int(col), v.cols-1)), max(0, min(int(row), v.rows-1))
		if col < 0 || row < 0 || x != int(col) || y != int(row) {
			spot.At, spot.Text = plane.At(v.cols, v.rows, x, y), "beyond"
		}
		out = append(out, spot)
	}
	for _, w := range s.Mistakes {
		flag(w.At)
	}
	for _, r := range s.Remarks() {
		flag(r.At)
	}
	return out
}

// drawOver draws the outline being set, with a line to the cursor, and what an
// edit was refused for.
func (v *View) drawOver(c *canvas.Canvas, s *view.State, sketching bool) {
	if sketching && len(v.draft) > 0 {
		c.Polyline(v.draft, false, canvas.Pen{Class: canvas.Chosen})
		c.Line(v.draft[len(v.draft)-1], s.Cursor, canvas.Pen{Class: canvas.Chosen, Stroke: canvas.Dashed})
		c.Line(s.Cursor, v.draft[0], canvas.Pen{Class: canvas.Chosen, Stroke: canvas.Dotted})
	}
	for _, e := range s.Status().Edges {
		c.Line(e[0], e[1], canvas.Pen{Class: canvas.Refused, Stroke: canvas.Double})
	}
}

// figures are those of the stone as it is.
func (v *View) figures(s *view.State, width int) *view.FigureList {
	st := v.shown(s)
	t := view.NewFigureList(s.Style, width)
	if v.sketching(s) {
		t.Head("A new outline")
		t.Row("Corners", fmt.Sprint(len(v.draft)))
		if len(v.draft) >= 3 {
			measures(t, v.draft)
		}
	} else {
		t.Head("The rough")
		t.Row("Corners", fmt.Sprint(len(st.Outline)))
		measures(t, st.Outline)
	}
	t.Row("Readings", fmt.Sprintf("%d top, %d base", len(st.Top), len(st.Base)))
	v.weights(s, st, t)
	t.Gap()
	v.here(s, st, t)
	return t
}

// list adds to the figures, where there is room, the list of corners and readings
// to pick from.
func (v *View) list(s *view.State, t *view.FigureList, width, height int) []string {
	const least = 4 // lines of a list that is of any use
	all := things(s)
	v.listRow, v.listRows = len(t.Lines())+2, height-len(t.Lines())-2
	if v.sketching(s) || v.listRows < least || len(all) == 0 {
		v.listRows = 0
		return t.Lines()
	}
	now, is := selected(s)
	for i, o := range all {
		if is && o == now {
			v.listTop = max(min(v.listTop, i), i-v.listRows+1)
		}
	}
	v.listTop = max(0, min(v.listTop, len(all)-v.listRows))
	t.Gap()
	t.Head("Corners and readings")
	for i := v.listTop; i < len(all) && i < v.listTop+v.listRows; i++ {
		t.Item(style.Text, is && all[i] == now, v.describe(s, all[i], width))
	}
	return t.Lines()
}

// fullLine is the width from which a line of the list has room for all of a reading.
const fullLine = 42

// describe is a thing's line in the list.
func (v *View) describe(s *view.State, t view.Selection, width int) string {
	p := place(s, t)
	if width < fullLine { // its height stands at its place
		return fmt.Sprintf("%-9s %6.2f, %6.2f", strings.Replace(called(t), " reading", "", 1), p.X, p.Y)
	}
	out := fmt.Sprintf("%-14s %6.2f, %6.2f", called(t), p.X, p.Y)
	if t.Kind != view.Corner {
		out += fmt.Sprintf("  height %.2f", s.Stone().Readings(face(t.Kind))[t.Index].Z)
	}
	if grain, doubtful := s.Doubtful[p]; doubtful {
		out += fmt.Sprintf("  ±%.1f", max(grain.X, grain.Y))
	}
	return out
}

// remarksShown is how many remarks on readings the figures have room for.
const remarksShown = 2

// remarks are what is wrong with the stone, or else worth a second look.
func remarks(s *view.State, t *view.FigureList) {
	n := 0
	for _, w := range s.Mistakes {
		if n++; n <= remarksShown {
			t.Words(style.Bad, view.ReadingNames(w.Error()))
		}
	}
	for _, r := range s.Remarks() {
		if r.Place == planner.OnScale {
			continue // beside the weights, in few words
		}
		if n++; n <= remarksShown {
			t.Words(style.Warn, view.ReadingNames(r.String()))
		}
	}
	if n > remarksShown {
		t.Words(style.Warn, fmt.Sprintf("and %d more, marked ! in the drawing", n-remarksShown))
	}
}

// weights compares the model's weight with the scale's. While the solid is not
// that of the stone as it is shown its figures are left open: none of one moment
// stands beside one of another.
func (v *View) weights(s *view.State, st planner.Stone, t *view.FigureList) {
	sg := planner.UsualGravity(st, s.Presets)
	r := v.solid(s)
	if r != nil {
		sg = planner.GravityOf(st, s.Presets, r.Volume()).Likely
	}
	figure := func(name, format string, value func() float64) {
		text := "…"
		if r != nil {
			text = fmt.Sprintf(format, value())
		}
		t.Row(name, text)
	}
	if s.Rough != nil && s.RoughErr == nil {
		figure("Thickest", "%.1f mm", func() float64 { thick, _ := r.Thickness(); return thick })
		if heights := heightsApart(r); heights != "" {
			t.Row("Heights", heights)
		}
		figure("Volume", "%.0f mm³", func() float64 { return r.Volume() })
		figure("Weighs as drawn", "%.1f ct", func() float64 { return planner.Carat(r.Volume(), sg) })
	}
	scale := "not weighed"
	if st.ScaleCt > 0 {
		scale = fmt.Sprintf("%.1f ct", st.ScaleCt)
	}
	t.Row("On the scale", scale)
	if r != nil && st.ScaleCt > 0 {
		drawn := planner.Carat(r.Volume(), planner.UsualGravity(st, s.Presets))
		if off := drawn/st.ScaleCt - 1; math.Abs(off) > planner.WeightsAgree {
			t.Words(style.Warn, fmt.Sprintf("%.0f%% too %s: i says why", 100*math.Abs(off), heavyOrLight(off)))
		}
	}
	remarks(s, t)
	if material, known := s.Presets.Material(st.Material); known {
		t.Words(style.Text, fmt.Sprintf("%s, SG %.2f", material.Name, sg))
	} else {
		t.Row("Specific gravity", fmt.Sprintf("%.2f", sg))
	}
}

// solid returns the solid of the stone as it is shown, nil while there is none.
func (v *View) solid(s *view.State) *planner.Rough {
	if v.drag.Moves() {
		return nil
	}
	return rough(s)
}

// heightsApart returns the heights of a solid where they lie further apart than it
// is thick anywhere.
func heightsApart(r *planner.Rough) string {
	if r == nil {
		return ""
	}
	thick, _ := r.Thickness()
	low, high := r.Heights()
	if high-low <= thick+0.05 { // half of what is written
		return ""
	}
	return fmt.Sprintf("%.1f to %.1f mm", math.Round(low*10)/10+0, high)
}

func heavyOrLight(off float64) string {
	if off > 0 {
		return "heavy"
	}
	return "light"
}

// here tells of the cursor and of what is selected.
func (v *View) here(s *view.State, st planner.Stone, t *view.FigureList) {
	face := "Top, seen from above"
	if s.Face == planner.Base {
		face = "Base, stone turned over"
	}
	t.Head(face)
	sel, is := selected(s)
	p := s.Cursor
	name := "Cursor"
	if is && !v.sketching(s) {
		name = edit.Capital(called(sel))
		if !v.drag.Moves() {
			p = place(s, sel)
		}
	}
	off := ""
	if grain, doubtful := s.Doubtful[p]; doubtful {
		off = fmt.Sprintf(" ±%.1f", max(grain.X, grain.Y))
	}
	t.Row(name, edit.At(p)+off)
	if is && sel.Kind != view.Corner && !v.sketching(s) {
		t.Row("Height", fmt.Sprintf("%.2f mm", st.Readings(s.Face)[sel.Index].Z))
	} else if r := v.solid(s); r != nil {
		t.Row("Thick there", fmt.Sprintf("%.1f mm", max(0, r.Top(p.X, p.Y)-r.Base(p.X, p.Y))))
	}
	t.Row("Step", fmt.Sprintf("%g mm", s.Step))
}

// measures writes the area and the size of an outline.
func measures(t *view.FigureList, outline []geometry.Vec2) {
	e := planner.Extent(outline)
	t.Row("Area", fmt.Sprintf("%.1f mm²", math.Abs(geometry.Area(outline))))
	t.Row("Calipers", fmt.Sprintf("%.1f x %.1f mm", e.Length, e.Width))
}

// Pointed returns the place the cursor points at.
func (v *View) Pointed(s *view.State) (geometry.Vec2, bool) {
	if t, ok := selected(s); ok {
		return place(s, t), true
	}
	return s.Cursor, true
}
