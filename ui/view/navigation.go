package view

import (
	tea "github.com/charmbracelet/bubbletea"

	"cabwright/geometry"
	"cabwright/planner"
	"cabwright/ui/keys"
)

// zoomStep is how much larger one zoom makes everything: four double it.
const zoomStep = 1.189207115 // the fourth root of 2

// NavigationActions returns the actions that change what is seen in a drawing of so many
// cells: they are the same in every view with one.
func NavigationActions(s *State, cols, rows int) []keys.Action {
	zoom := func(factor float64) func() tea.Cmd {
		return keys.Do(func() { s.Zoom(factor, s.Cursor, cols, rows) })
	}
	pan := func(right, down float64) func() tea.Cmd {
		return keys.Do(func() { s.Pan(right, down, cols, rows) })
	}
	return []keys.Action{
		{
			Name:  "Show the other face",
			Keys:  []string{"f"},
			Short: "other face",
			Help:  "the base as it is seen with the stone turned over, or the top again",
			Run:   keys.Do(s.TurnFace),
		},
		{
			Name:       "Zoom in",
			Keys:       []string{"+"},
			Help:       "about the cursor; the wheel zooms about the pointer",
			ScreenOnly: true,
			Run:        zoom(zoomStep),
		},
		{
			Name:       "Zoom out",
			Keys:       []string{"-"},
			Help:       "about the cursor",
			ScreenOnly: true,
			Run:        zoom(1 / zoomStep),
		},
		{
			Name:       "Show the whole stone",
			Keys:       []string{"0"},
			Help:       "fit the stone to the window",
			ScreenOnly: true,
			Run:        keys.Do(s.FitWindow),
		},
		{
			Name:       "Look to the left",
			Keys:       []string{"shift+left", "H"},
			Help:       "move the window over the stone",
			ScreenOnly: true,
			Run:        pan(-4, 0),
		},
		{
			Name:       "Look to the right",
			Keys:       []string{"shift+right", "L"},
			Help:       "move the window over the stone",
			ScreenOnly: true,
			Run:        pan(4, 0),
		},
		{
			Name:       "Look further away",
			Keys:       []string{"shift+up", "K"},
			Help:       "move the window over the stone",
			ScreenOnly: true,
			Run:        pan(0, -2),
		},
		{
			Name:       "Look nearer",
			Keys:       []string{"shift+down", "J"},
			Help:       "move the window over the stone",
			ScreenOnly: true,
			Run:        pan(0, 2),
		},
		{
			Name: "Smaller step",
			Keys: []string{"["},
			Help: "what an arrow key moves by, 0.05 to 5 mm",
			Run:  keys.Do(func() { s.NextStep(-1) }),
		},
		{
			Name: "Larger step",
			Keys: []string{"]"},
			Help: "what an arrow key moves by, 0.05 to 5 mm",
			Run:  keys.Do(func() { s.NextStep(1) }),
		},
	}
}

// TurnFace looks at the other face.
func (s *State) TurnFace() {
	if s.Face == planner.Base {
		s.Face = planner.Top
	} else {
		s.Face = planner.Base
	}
}

// Arrow returns the step that an arrow key stands for on the face that is
// looked at, in mm: to the right on the screen is to the left in the plan when
// the stone is turned over.
func (s *State) Arrow(key string) (geometry.Vec2, bool) {
	d, ok := map[string]geometry.Vec2{"left": {X: -1}, "right": {X: 1}, "up": {Y: 1}, "down": {Y: -1}}[key]
	if s.Face == planner.Base {
		d.X = -d.X
	}
	return d.Scale(s.Step), ok
}

// Wheel zooms about the point of a drawing that the pointer is over; it reports
// whether the wheel was turned at all.
func (s *State) Wheel(m Mouse, cols, rows int) bool {
	factor := zoomStep
	switch m.Kind {
	case WheelUp:
	case WheelDown:
		factor = 1 / zoomStep
	default:
		return false
	}
	if m.Col < cols && m.Row < rows {
		s.Zoom(factor, s.Plane(cols, rows).At(cols, rows, m.Col, m.Row), cols, rows)
	}
	return true
}
