package marks

import (
	"fmt"

	"cabwright/ui/keys"
	"cabwright/ui/view"
)

// Actions returns what can be done: while a mark is being drawn, with its
// points; otherwise with what is selected, and new marks.
func (v *View) Actions(s *view.State) []keys.Action {
	out := v.markActions(s)
	if v.drawing != view.Nothing {
		out = v.draftActions(s)
	}
	out = append(out, v.arrows(s)...)
	return append(out, view.Looking(s, v.area.cols, v.area.rows)...)
}

// least returns how many points a kind of mark needs.
func least(k view.Kind) int {
	if k == view.Crack {
		return 2
	}
	return 3
}

func (v *View) draftActions(s *view.State) []keys.Action {
	n, need := len(v.draft), least(v.drawing)
	what := kindName(v.drawing)
	return []keys.Action{
		{Name: "Set a point", Keys: []string{"enter"}, Short: "set point", Help: "of the " + what + ", at the cursor", Run: view.Do(func() { v.set(s, s.Cursor) })},
		{Name: "Done drawing", Keys: []string{"c"}, Short: "done", Help: "then say how deep it goes", Run: view.Do(func() { v.finish(s) }), Why: whyNot(n >= need, fmt.Sprintf("it has %d points and needs at least %d", n, need))},
		{Name: "Take the last point back", Keys: []string{"backspace"}, Short: "take back", Help: "the one set last", Run: view.Do(func() { v.draft = v.draft[:n-1] }), Why: whyNot(n > 0, "there is none")},
		{Name: "Type a point", Keys: []string{"="}, Short: "type x, y", Help: "its exact place in mm", Run: view.Do(func() { v.askPlace(s) })},
		{Name: "Leave it for now", Keys: []string{"esc"}, Short: "back", Help: "the points wait until the next " + what + " is drawn", Run: view.Do(func() { v.drawing = view.Nothing })},
	}
}

func (v *View) markActions(s *view.State) []keys.Action {
	t, is := selected(s)
	what := "the mark"
	if is {
		what = called(s.Stone(), t)
	}
	any := len(things(s.Stone())) > 0
	none := "nothing is selected: tab goes from one mark to the next"
	draw := []keys.Action{
		{Name: "Draw a crack", Keys: []string{"c"}, Short: "crack", Help: "point by point along its line on the face looked at", Run: view.Do(func() { v.begin(s, view.Crack) })},
		{Name: "Draw a pocket", Keys: []string{"p"}, Short: "pocket", Help: "corner by corner around the hollow", Run: view.Do(func() { v.begin(s, view.Pocket) })},
		{Name: "Round or oval pocket", Keys: []string{"o"}, Short: "oval pocket", Help: "at the cursor, from its length and width", Run: view.Do(func() { v.askOval(s) })},
		{Name: "Draw a colour zone", Keys: []string{"z"}, Short: "colour zone", Help: "corner by corner around one play of colour", Run: view.Do(func() { v.begin(s, view.Zone) })},
	}
	change := []keys.Action{
		{Name: "Next mark", Keys: []string{"tab"}, Short: "next", Help: "select the next in the list; the arrows then move it", Run: view.Do(func() { v.next(s, 1) }), Why: whyNot(any, "there are no marks yet")},
		{Name: "Mark before", Keys: []string{"shift+tab", "backspace"}, Help: "select the one before in the list", Run: view.Do(func() { v.next(s, -1) }), Why: whyNot(any, "there are no marks yet")},
		{Name: "Change " + what, Keys: []string{"enter", "e"}, Short: "change", Help: "face, depth and the rest of the selected mark", Run: view.Do(func() { v.askChange(s, t) }), Why: whyNot(is, none)},
		{Name: "Next point of the mark", Keys: []string{"."}, Short: "points", Help: "the arrows then move that point alone", Run: view.Do(func() { v.nextPoint(s, 1) }), Why: whyNot(is, none)},
		{Name: "Point before of the mark", Keys: []string{","}, Help: "the arrows then move that point alone", Run: view.Do(func() { v.nextPoint(s, -1) }), Why: whyNot(is, none)},
		{Name: "Add a point to the mark", Keys: []string{"a"}, Help: "in the middle of the edge after the selected point, or of the longest edge", Run: view.Do(func() { v.addPoint(s, t) }), Why: whyNot(is, none)},
		{Name: "Type its place", Keys: []string{"="}, Help: "exact x, y in mm of the selected point, or of the cursor", Run: view.Do(func() { v.askPlace(s) })},
		{Name: "Clip to the outline", Keys: []string{"x"}, Help: "cut off what of a crack leaves the stone", Run: view.Do(func() { v.clip(s, t) }), Why: whyNot(is && t.Kind == view.Crack, "no crack is selected: tab goes from one mark to the next")},
		{Name: "Delete " + what, Keys: []string{"d", "delete"}, Short: "delete", Help: "the selected mark or point", Run: view.Do(func() { v.remove(s, t) }), Why: whyNot(is, none)},
		{Name: "Let go", Keys: []string{"esc"}, Help: "of a point, then of the mark", Run: view.Do(func() { v.letGo(s) }), Why: whyNot(is, "nothing is selected")},
	}
	if is {
		return append(change, draw...)
	}
	return append(draw, change...)
}

// letGo steps back from a point to its mark, and from a mark to nothing.
func (v *View) letGo(s *view.State) {
	if s.Selected.Point >= 0 {
		s.Selected.Point = -1
		return
	}
	s.Selected = view.Selection{Point: -1}
}

// arrows move the selected point or mark, or the cursor.
func (v *View) arrows(s *view.State) []keys.Action {
	what := "the cursor"
	if t, is := selected(s); is && v.drawing == view.Nothing {
		what = called(s.Stone(), t)
	}
	var out []keys.Action
	for _, d := range []struct{ key, way string }{{"left", "to the left"}, {"right", "to the right"}, {"up", "away from you"}, {"down", "towards you"}} {
		by, _ := s.Arrow(d.key)
		out = append(out, keys.Action{
			Name: "Move " + d.way, Keys: []string{d.key}, Help: fmt.Sprintf("%s, by the step of %g mm", what, s.Step),
			Run: view.Do(func() { v.move(s, by) }),
		})
	}
	return out
}

func whyNot(can bool, why string) string {
	if can {
		return ""
	}
	return why
}
