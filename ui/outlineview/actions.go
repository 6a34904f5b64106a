package outlineview

import (
	"fmt"

	"cabwright/geometry"
	"cabwright/ui/edit"
	"cabwright/ui/keys"
	"cabwright/ui/view"
)

// Actions returns what can be done: while an outline is being drawn, with its
// corners; otherwise with what is selected and with the whole stone.
func (v *View) Actions(s *view.State) []keys.Action {
	out := v.sketchActions(s)
	if !v.sketching(s) {
		out = v.stoneActions(s)
	}
	what := "the cursor"
	if t, is := selected(s); is && !v.sketching(s) {
		what = called(t)
	}
	out = append(out, edit.Arrows(s, what, func(by geometry.Vec2) { v.move(s, by) })...)
	return append(out, view.NavigationActions(s, v.cols, v.rows)...)
}

// sketchActions are those of drawing an outline corner by corner.
func (v *View) sketchActions(s *view.State) []keys.Action {
	n := len(v.draft)
	out := []keys.Action{
		{
			Name:  "Set a corner",
			Keys:  []string{"enter"},
			Short: "set corner",
			Help:  "at the cursor; on the first corner it closes the outline",
			Run:   keys.Do(func() { v.set(s, s.Cursor) }),
		},
		{
			Name:     "Close the outline",
			Keys:     []string{"c"},
			Short:    "close",
			Help:     "from the last corner to the first",
			Disabled: keys.Unless(n >= 3, fmt.Sprintf("it has %d corners and needs at least 3", n)),
			Run:      keys.Do(func() { v.closeOutline(s) }),
		},
		{
			Name:     "Take the last corner back",
			Keys:     []string{"backspace"},
			Short:    "take back",
			Help:     "the one set last",
			Disabled: keys.Unless(n > 0, "there is none"),
			Run:      keys.Do(func() { v.draft = v.draft[:n-1] }),
		},
		{
			Name:  "Type a corner",
			Keys:  []string{"="},
			Short: "type x, y",
			Help:  "its exact place in mm",
			Run:   keys.Do(func() { v.askPlace(s) }),
		},
		{
			Name:     "Start from length, width and height",
			Keys:     []string{"k"},
			Short:    "from L x W",
			Help:     "an oval of the calipers' size, with heights, to change from there",
			Disabled: keys.Unless(len(s.Stone().Outline) == 0, "there is an outline: esc goes back to it"),
			Run:      keys.Do(func() { v.askStart(s) }),
		},
	}
	if len(s.Stone().Outline) > 0 {
		out = append(out, keys.Action{
			Name:  "Back to the outline as it is",
			Keys:  []string{"esc"},
			Short: "back",
			Help:  "what was drawn anew waits for o",
			Run:   keys.Do(func() { v.drawing = false }),
		})
	}
	return out
}

// stoneActions are those of an outline that is there.
func (v *View) stoneActions(s *view.State) []keys.Action {
	out := append(v.selectActions(s), v.cornerActions(s)...)
	out = append(out, v.heightActions(s)...)
	out = append(out, v.wholeActions(s)...)
	if len(s.Stone().Top) == 0 || len(s.Stone().Base) == 0 {
		return append(v.thicknessActions(s), out...) // what is to be done next comes first
	}
	return append(out, v.thicknessActions(s)...)
}

// thicknessActions take what calipers give.
func (v *View) thicknessActions(s *view.State) []keys.Action {
	return []keys.Action{
		{
			Name:  "Thickness all round",
			Keys:  []string{"g"},
			Short: "thickness",
			Help:  "both faces from the greatest thickness and the rim's; readings can then be changed one by one",
			Words: "calipers height nodule",
			Run:   keys.Do(func() { v.askThickness(s) }),
		},
		{
			Name:  "Thickness here",
			Keys:  []string{"h"},
			Short: "thick here",
			Help:  "what the calipers read at the cursor",
			Words: "calipers height",
			Run:   keys.Do(func() { v.askThicknessHere(s) }),
		},
		{
			Name:  "Thickness of the rim",
			Keys:  []string{"e"},
			Help:  "the same all round; readings elsewhere stay",
			Words: "edge calipers",
			Run:   keys.Do(func() { v.askRim(s) }),
		},
		{
			Name:  "Table of readings",
			Keys:  []string{"w"},
			Short: "table",
			Help:  "type or paste them one a line: x, y, top, base or thickness",
			Words: "paste spreadsheet import heights csv",
			Run:   keys.Do(func() { v.askTable(s) }),
		},
		{
			Name: "Which face a thickness moves",
			Keys: []string{"v"},
			Help: "the top or the base; the other stays as it is",
			Run:  keys.Do(func() { v.askMoves(s) }),
		},
	}
}

// selectActions go from thing to thing.
func (v *View) selectActions(s *view.State) []keys.Action {
	_, is := selected(s)
	return []keys.Action{
		{
			Name:  "Next thing",
			Keys:  []string{"tab"},
			Short: "next",
			Help:  "select the next corner or reading; the arrows then move it",
			Run:   keys.Do(func() { v.next(s, 1) }),
		},
		{
			Name: "Thing before",
			Keys: []string{"shift+tab", "backspace"},
			Help: "select the corner or reading before",
			Run:  keys.Do(func() { v.next(s, -1) }),
		},
		{
			Name: "Select at the cursor",
			Keys: []string{"enter"},
			Help: "the corner or reading within one cell",
			Run:  keys.Do(func() { v.selectAt(s) }),
		},
		{
			Name:     "Let go",
			Keys:     []string{"esc"},
			Short:    "let go",
			Help:     "select nothing; the arrows then move the cursor",
			Disabled: keys.Unless(is, "nothing is selected"),
			Run:      keys.Do(func() { edit.LetGo(s) }),
		},
		{
			Name:  "Type its place",
			Keys:  []string{"="},
			Short: "type",
			Help:  "exact x, y (and height) in mm of what is selected, or of the cursor",
			Run:   keys.Do(func() { v.askPlace(s) }),
		},
	}
}

// cornerActions add and take away corners.
func (v *View) cornerActions(s *view.State) []keys.Action {
	t, is := selected(s)
	corner := is && t.Kind == view.Corner
	what := "what is selected"
	if is {
		what = called(t)
	}
	split := func() { v.splitEdge(s, t.Index) }
	add := func() { v.addCorner(s, s.Cursor) }
	if corner {
		add = split
	}
	return []keys.Action{
		{
			Name:  "Add a corner",
			Keys:  []string{"a"},
			Short: "add corner",
			Help:  "at the cursor, into the nearest edge; after a selected corner, in the middle of its edge",
			Run:   keys.Do(add),
		},
		{
			Name:     "Split the edge",
			Keys:     []string{"x"},
			Help:     "a new corner in the middle of the edge after the selected corner",
			Disabled: keys.Unless(corner, "no corner is selected: tab goes from one thing to the next"),
			Run:      keys.Do(split),
		},
		{
			Name:     "Delete " + what,
			Keys:     []string{"d", "delete"},
			Short:    "delete",
			Help:     "the selected corner or reading",
			Disabled: keys.Unless(is, "nothing is selected: tab goes from one thing to the next"),
			Run:      keys.Do(func() { v.remove(s, t) }),
		},
	}
}

// heightActions read the faces.
func (v *View) heightActions(s *view.State) []keys.Action {
	return []keys.Action{
		{
			Name:  "Read the top",
			Keys:  []string{"t"},
			Short: "top height",
			Help:  "add a height of the top at the cursor",
			Run:   keys.Do(func() { v.askReading(s, view.TopReading) }),
		},
		{
			Name:  "Read the base",
			Keys:  []string{"b"},
			Short: "base height",
			Help:  "add a height of the base at the cursor",
			Run:   keys.Do(func() { v.askReading(s, view.BaseReading) }),
		},
	}
}

// wholeActions change the stone as a whole.
func (v *View) wholeActions(s *view.State) []keys.Action {
	return []keys.Action{
		{
			Name:  "Scale to calipers",
			Keys:  []string{"k"},
			Short: "calipers",
			Help:  "stretch the whole stone to the length and width the calipers read",
			Run:   keys.Do(func() { v.askCalipers(s) }),
		},
		{
			Name: "Turn in plan",
			Keys: []string{"r"},
			Help: "turn the whole stone by an angle",
			Run:  keys.Do(func() { v.askTurn(s) }),
		},
		{
			Name: "Turn the stone over",
			Keys: []string{"n"},
			Help: "left to right: the base becomes the top, for good",
			Run:  keys.Do(func() { v.turnOver(s) }),
		},
		{
			Name: "Draw the outline anew",
			Keys: []string{"o"},
			Help: "corner by corner; the old one stays until the new one is closed",
			Run:  keys.Do(func() { v.drawing = true; edit.LetGo(s) }),
		},
	}
}
