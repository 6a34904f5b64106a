package marks

import (
	"fmt"

	"cabwright/ui/edit"
	"cabwright/ui/style"
	"cabwright/ui/view"
)

// list is the list to pick from. The chosen mark is told in full, over as many lines as
// that takes.
func (v *View) list(s *view.State) []string {
	t := view.NewFigureList(s.Style, v.area.wide)
	st, all := s.Stone(), things(s.Stone())
	now, is := selected(s)
	v.listed = nil
	if v.drawing == view.Nothing && len(all) == 0 {
		t.Head("No marks yet")
		t.Words(
			style.Faint,
			"c draws a crack, p a pocket, o a round or oval one, z a colour zone. Look at both faces: f goes to the other.",
		)
		return t.Lines()
	}
	rows, chosen := max(1, v.area.lines-1), -1
	for i, o := range all {
		if is && o.Kind == now.Kind && o.Index == now.Index {
			chosen = i
			rows = max(1, rows+1-t.WholeLines(describe(st, o)))
			v.top = max(min(v.top, i), i-rows+1)
		}
	}
	v.top = max(0, min(v.top, len(all)-rows))
	end := min(len(all), v.top+rows)
	t.Head(v.heading(s, now, is, end))
	for i := v.top; i < end; i++ {
		from := len(t.Lines())
		if i == chosen {
			t.Whole(describe(st, all[i]))
		} else {
			t.Item(roleOf(st, all[i]), false, describe(st, all[i]))
		}
		for range t.Lines()[from:] {
			v.listed = append(v.listed, all[i])
		}
	}
	return t.Lines()
}

// heading stands above the list, which shows the marks before index end.
func (v *View) heading(s *view.State, now view.Selection, is bool, end int) string {
	st, all := s.Stone(), things(s.Stone())
	at := fmt.Sprintf("cursor at %s, step %g mm", edit.At(s.Cursor), s.Step)
	switch {
	case v.drawing != view.Nothing:
		return fmt.Sprintf("Drawing a %s on the %s: %s, cursor at %s",
			kindName(v.drawing), s.Face, edit.Count(len(v.draft), "point"), edit.At(s.Cursor))
	case is && now.Point >= 0:
		p := points(st, now)[now.Point]
		off := ""
		if g, doubtful := s.Doubtful[p]; doubtful {
			off = fmt.Sprintf(" ±%.1f", max(g.X, g.Y))
		}
		return fmt.Sprintf("%s at %s%s mm, step %g mm", called(st, now), edit.At(p), off, s.Step)
	case v.top > 0 || end < len(all):
		return fmt.Sprintf("Marks %d-%d of %d; %s", v.top+1, end, len(all), at)
	}
	return fmt.Sprintf("%s, %s, %s; %s",
		edit.Count(len(st.Cracks), "crack"),
		edit.Count(len(st.Pockets), "pocket"),
		edit.Count(len(st.Colour), "colour zone"),
		at)
}
