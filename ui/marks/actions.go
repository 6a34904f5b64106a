package marks

import (
	"cabwright/geometry"
	"cabwright/ui/edit"
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
	what := "the cursor"
	if t, is := selected(s); is && v.drawing == view.Nothing {
		what = called(s.Stone(), t)
	}
	out = append(out, edit.Arrows(s, what, func(by geometry.Vec2) { v.move(s, by) })...)
	return append(out, view.NavigationActions(s, v.area.cols, v.area.rows)...)
}

// least returns how many points a kind of mark needs.
func least(k view.Kind) int {
	if k == view.Crack {
		return 2
	}
	return 3
}

func (v *View) draftActions(s *view.State) []keys.Action {
	n := len(v.draft)
	what := kindName(v.drawing)
	return []keys.Action{
		{
			Name:  "Set a point",
			Keys:  []string{"enter"},
			Short: "set point",
			Help:  "of the " + what + ", at the cursor",
			Run:   keys.Do(func() { v.set(s, s.Cursor) }),
		},
		{
			Name:     "Done drawing",
			Keys:     []string{"c"},
			Short:    "done",
			Help:     "then say how deep it goes",
			Disabled: v.draft.Lacks(v.sketch()),
			Run:      keys.Do(func() { v.finish(s) }),
		},
		{
			Name:     "Take the last point back",
			Keys:     []string{"backspace"},
			Short:    "take back",
			Help:     "the one set last",
			Disabled: keys.Unless(n > 0, "there is none"),
			Run:      keys.Do(func() { v.draft = v.draft[:n-1] }),
		},
		{
			Name:  "Type a point",
			Keys:  []string{"="},
			Short: "type x, y",
			Help:  "its exact place in mm",
			Run:   keys.Do(func() { v.askPlace(s) }),
		},
		{
			Name:  "Leave it for now",
			Keys:  []string{"esc"},
			Short: "back",
			Help:  "the points wait until the next " + what + " is drawn",
			Run:   keys.Do(func() { v.drawing = view.Nothing }),
		},
	}
}

func (v *View) markActions(s *view.State) []keys.Action {
	change := append(v.changeActions(s), v.unsureActions(s)...)
	change = append(change, v.pointActions(s)...)
	if _, is := selected(s); is {
		return append(change, v.drawActions(s)...)
	}
	return append(v.drawActions(s), change...)
}

// noMark is why nothing can be done with a mark.
const noMark = "nothing is selected: tab goes from one mark to the next"

// drawActions add marks.
func (v *View) drawActions(s *view.State) []keys.Action {
	return []keys.Action{
		{
			Name:  "Draw a crack",
			Keys:  []string{"c"},
			Short: "crack",
			Help:  "point by point along its line on the face looked at",
			Run:   keys.Do(func() { v.begin(s, view.Crack) }),
		},
		{
			Name:  "Draw a pocket",
			Keys:  []string{"p"},
			Short: "pocket",
			Help:  "corner by corner around the hollow",
			Run:   keys.Do(func() { v.begin(s, view.Pocket) }),
		},
		{
			Name:  "Round or oval pocket",
			Keys:  []string{"o"},
			Short: "oval pocket",
			Help:  "at the cursor, from its length and width",
			Run:   keys.Do(func() { v.askOval(s) }),
		},
		{
			Name:  "Draw a colour zone",
			Keys:  []string{"z"},
			Short: "colour zone",
			Help:  "corner by corner around one play of colour",
			Run:   keys.Do(func() { v.begin(s, view.Zone) }),
		},
		{
			Name:  "Round or oval colour zone",
			Keys:  []string{"O"},
			Help:  "at the cursor, from its length and width",
			Words: "colour play",
			Run:   keys.Do(func() { v.askOvalZone(s) }),
		},
	}
}

// changeActions select, change and delete whole marks.
func (v *View) changeActions(s *view.State) []keys.Action {
	t, is := selected(s)
	what := "the mark"
	if is {
		what = called(s.Stone(), t)
	}
	unmarked := keys.Unless(len(things(s.Stone())) > 0, "there are no marks yet")
	return []keys.Action{
		{
			Name:     "Next mark",
			Keys:     []string{"tab"},
			Short:    "next",
			Help:     "select the next in the list; the arrows then move it",
			Disabled: unmarked,
			Run:      keys.Do(func() { v.next(s, 1) }),
		},
		{
			Name:     "Mark before",
			Keys:     []string{"shift+tab", "backspace"},
			Help:     "select the one before in the list",
			Disabled: unmarked,
			Run:      keys.Do(func() { v.next(s, -1) }),
		},
		{
			Name:     "Change " + what,
			Keys:     []string{"enter", "e"},
			Short:    "change",
			Help:     "face, depth and the rest of the selected mark",
			Disabled: keys.Unless(is, noMark),
			Run:      keys.Do(func() { v.askChange(s, t) }),
		},
		{
			Name:     "Delete " + what,
			Keys:     []string{"d", "delete"},
			Short:    "delete",
			Help:     "the selected mark or point",
			Disabled: keys.Unless(is, noMark),
			Run:      keys.Do(func() { v.remove(s, t) }),
		},
		{
			Name:     "Let go",
			Keys:     []string{"esc"},
			Help:     "of a point, then of the mark",
			Disabled: keys.Unless(is, "nothing is selected"),
			Run:      keys.Do(func() { v.letGo(s) }),
		},
	}
}

// pointActions are about the points of the selected mark.
func (v *View) pointActions(s *view.State) []keys.Action {
	t, is := selected(s)
	return []keys.Action{
		{
			Name:     "Next point of the mark",
			Keys:     []string{"."},
			Short:    "points",
			Help:     "the arrows then move that point alone",
			Disabled: keys.Unless(is, noMark),
			Run:      keys.Do(func() { v.nextPoint(s, 1) }),
		},
		{
			Name:     "Point before of the mark",
			Keys:     []string{","},
			Help:     "the arrows then move that point alone",
			Disabled: keys.Unless(is, noMark),
			Run:      keys.Do(func() { v.nextPoint(s, -1) }),
		},
		{
			Name:     "Add a point to the mark",
			Keys:     []string{"a"},
			Help:     "in the middle of the edge after the selected point, or of the longest edge",
			Disabled: keys.Unless(is, noMark),
			Run:      keys.Do(func() { v.addPoint(s, t) }),
		},
		{
			Name: "Type its place",
			Keys: []string{"="},
			Help: "exact x, y in mm of the selected point, or of the cursor",
			Run:  keys.Do(func() { v.askPlace(s) }),
		},
		{
			Name:     "Clip to the outline",
			Keys:     []string{"x"},
			Help:     "cut off what of a crack leaves the stone",
			Disabled: keys.Unless(is && t.Kind == view.Crack, "no crack is selected: tab goes from one mark to the next"),
			Run:      keys.Do(func() { v.clip(s, t) }),
		},
	}
}

// letGo steps back from a point to its mark, and from a mark to nothing.
func (v *View) letGo(s *view.State) {
	if s.Selected.Point >= 0 {
		s.Selected.Point = -1
		return
	}
	edit.LetGo(s)
}
