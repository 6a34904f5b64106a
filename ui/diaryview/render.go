package diaryview

import (
	"fmt"
	"strings"

	"cabwright/planner"
	"cabwright/planner/diary"
	"cabwright/planner/search"
	"cabwright/presets"
	"cabwright/ui/canvas"
	"cabwright/ui/drawing"
	"cabwright/ui/style"
	"cabwright/ui/view"
)

// listHead is how many lines stand above the list of entries.
const listHead = 1

// Render draws the view in at most height lines of at most width cells: the entries,
// below them the stone as it was at the chosen one, and its figures beside.
func (v *View) Render(s *view.State, width, height int) []string {
	if width <= 0 || height <= 0 {
		return nil
	}
	v.keep(s)
	cols, figures := view.Columns(width)
	if cols == 0 {
		lines := append(v.list(s, width, max(3, height/2)), v.figures(s, width)...)
		return lines[:min(len(lines), height)]
	}
	rows := v.listRows(s, height)
	left := v.list(s, cols, rows)
	left = append(left, v.stones(s, cols, height-len(left))...)
	lines := view.Beside(left, cols, v.figures(s, figures))
	return lines[:min(len(lines), height)]
}

// listRows is how many entries are shown at once: all of them, as far as they leave
// more than half the height to the stone.
func (v *View) listRows(s *view.State, height int) int {
	return max(1, min(len(s.Stone().Diary)+1, height*2/5-listHead))
}

// list is the entries, one a line, and the stone of now below them.
func (v *View) list(s *view.State, width, rows int) []string {
	st := s.Style
	all := s.Stone().Diary
	head := fmt.Sprintf("  %2s %-10s %-12s %8s %-4s", "#", "date", "stage", "ct", "")
	out := []string{st.Paint(style.Faint, view.Fit(head, width))}
	if len(all) == 0 {
		return append(
			out,
			st.Paint(style.Faint, view.Fit("  No entry yet: n makes one, beginning with the lot as it was bought.", width)),
		)
	}
	v.first = min(max(v.first, v.at-rows+1), v.at)
	v.first = max(0, min(v.first, len(all)+1-rows))
	for i := v.first; i < min(len(all)+1, v.first+rows); i++ {
		mark, role := "  ", style.Text
		switch i {
		case v.at:
			mark, role = "▸ ", style.Selected
		case v.beside:
			mark, role = "+ ", style.Different
		}
		line := "   now"
		if i < len(all) {
			e := all[i]
			ct := ""
			if e.Carat > 0 {
				ct = fmt.Sprintf("%.2f", e.Carat)
			}
			day, _, _ := strings.Cut(e.Date, "T")
			line = fmt.Sprintf(
				"%2d %-10s %s %8s %s",
				i+1,
				day,
				view.Fit(planner.Visible(e.Stage), 12),
				ct,
				view.Fit(planner.Visible(e.State), 4),
			)
			if e.Note != "" {
				line += "  " + planner.Visible(e.Note)
			}
		}
		out = append(out, st.Paint(role, view.Fit(mark+line, width)))
	}
	return out
}

// stones draws the stone of the chosen entry, or two beside each other.
func (v *View) stones(s *view.State, cols, rows int) []string {
	if rows < 3 {
		return nil
	}
	if v.beside == alone {
		return v.drawn(s, v.at, cols, rows)
	}
	half := (cols - 1) / 2
	return view.Beside(v.drawn(s, v.beside, half, rows), half, v.drawn(s, v.at, cols-1-half, rows))
}

func (v *View) drawn(s *view.State, i, cols, rows int) []string {
	p, known := v.past(s, i)
	c := canvas.New(cols, rows, s.Glyphs)
	caption := strings.TrimSuffix(v.name(s, i), ",")
	if len(p.stone.Outline) == 0 {
		words := caption + ": the stone was not kept"
		switch {
		case !known:
			words = caption + ": being read…"
		case p.err != nil:
			words = caption + ": " + planner.Visible(p.err.Error())
		}
		c.Text(1, 1, words, canvas.Label)
		return c.Lines(s.Style.Canvas)
	}
	sc := drawing.Scene{
		Stone:   p.stone,
		Rough:   p.rough,
		Face:    s.Face,
		Palette: s.Palette(),
		Names:   true,
		Fit:     p.fit,
		Caption: caption,
		Bare:    rows < 12,
	}
	if p.fit != nil && (p.fit.Pose.Axes.W.Norm() == 0 || faceOf(*p.fit) != faceOr(s.Face)) {
		sc.Fit = nil
	}
	c.SetView(sc.Window(cols, rows, 1))
	drawing.Plan(c, sc)
	return c.Lines(s.Style.Canvas)
}

func faceOf(f search.Fit) planner.Face { return faceOr(f.Face) }

func faceOr(f planner.Face) planner.Face {
	if f == planner.Base {
		return planner.Base
	}
	return planner.Top
}

// figures is what the chosen entry tells, and what is known of the stone.
func (v *View) figures(s *view.State, width int) []string {
	t := view.NewFigureList(s.Style, width)
	all := s.Stone().Diary
	if v.at < len(all) {
		v.entry(t, s, all[v.at])
	} else {
		v.now(t, s)
	}
	if v.beside != alone {
		t.Gap()
		t.Head("What differs")
		a, _ := v.past(s, v.beside)
		b, _ := v.past(s, v.at)
		if len(a.stone.Outline) > 0 && len(b.stone.Outline) > 0 {
			for _, d := range planner.Differences(withoutDiary(a.stone), withoutDiary(b.stone)) {
				t.Words(style.Different, d)
			}
		}
	}
	return t.Lines()
}

func withoutDiary(s planner.Stone) planner.Stone {
	s.Diary = nil
	return s
}

// entry is what one entry tells.
func (v *View) entry(t *view.FigureList, s *view.State, e planner.Entry) {
	t.Head(fmt.Sprintf("%d %s", v.at+1, e.Stage))
	t.Row("date", e.Date)
	if e.Carat > 0 {
		t.Row("weight", fmt.Sprintf("%.2f ct %s", e.Carat, e.State))
	}
	p, _ := v.past(s, v.at)
	for _, c := range p.checks {
		role := style.Text
		switch {
		case c.Held():
			role = style.Good
		case c.Ranged:
			role = style.Warn
		}
		t.Words(role, c.String())
	}
	if p.fit != nil {
		t.Row("planned", fmt.Sprintf("%s %s", view.Size(p.fit.Candidate), view.Shape(p.fit.Candidate)))
		t.Row("", fmt.Sprintf("%.2f ct", p.fit.Carat))
	}
	for _, treatment := range e.Treatments {
		t.Words(style.Text, "treated: "+treatment)
	}
	if e.Note != "" {
		t.Words(style.Text, e.Note)
	}
	if e.Photo != "" {
		t.Words(style.Faint, "photo "+e.Photo)
	}
}

// now is how things stand: what the last entry changed, whether the stone is dry,
// what it waits for, what a buyer is told.
func (v *View) now(t *view.FigureList, s *view.State) {
	stone := s.Stone()
	material, _ := s.Presets.Material(stone.Material)
	t.Head("Now")
	v.changed(t, s)
	v.water(t, stone, material, s.Presets.Defaults.ScaleDivision)
	for _, w := range diary.Waits(stone, material.Porous, s.Presets.Defaults.ScaleDivision) {
		if w == diary.Ready {
			t.Words(style.Good, "Ready for the next step.")
			continue
		}
		t.Words(style.Text, "Waits: "+w+".")
	}
	if sentences := diary.Disclosures(stone, material); len(sentences) > 0 {
		t.Gap()
		t.Head("Tell the buyer")
		for _, sentence := range sentences {
			t.Words(style.Text, sentence)
		}
	}
}

func (v *View) water(t *view.FigureList, stone planner.Stone, material presets.Material, division float64) {
	d := diary.Dry(stone, division)
	switch {
	case d.Steady:
		t.Words(style.Good, "Dry: "+d.Why+".")
	case material.Porous:
		t.Words(style.Warn, "Not dry: "+d.Why+".")
	}
	if d.Uptake != 0 {
		t.Words(style.Text, fmt.Sprintf("Wet, it weighed %.1f%% more than dry.", d.Uptake))
	}
}
