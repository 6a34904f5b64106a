package view

import (
	"math"

	"cabwright/geometry"
	"cabwright/planner"
	"cabwright/ui/canvas"
	"cabwright/ui/style"
)

// margin is how many cells stay free around a stone fitted to the window.
const margin = 2

// Plane returns the part of the plan that a drawing of so many cells shows: the
// same for every view, so that going from one to another keeps the place. The
// base is seen with the stone turned over.
func (s *State) Plane(cols, rows int) canvas.View { return s.PlaneOf(s.Face, cols, rows) }

// PlaneOf is Plane for a face.
func (s *State) PlaneOf(face planner.Face, cols, rows int) canvas.View {
	v := s.look
	if s.fitted {
		v = canvas.FitTo(s.Stone().Outline, cols, rows, margin)
	}
	v.Mirror = face == planner.Base
	return v
}

// Zoom shows everything factor times as large, about a point that stays where it is.
func (s *State) Zoom(factor float64, about geometry.Vec2, cols, rows int) {
	s.look = s.Plane(cols, rows).Zoomed(factor, about)
	s.fitted = false
}

// Pan moves the window over the stone by so many cells right and down.
func (s *State) Pan(right, down float64, cols, rows int) {
	s.look = s.Plane(cols, rows).Panned(right, down)
	s.fitted = false
}

// FitWindow shows the whole stone again, also when it grows.
func (s *State) FitWindow() { s.fitted = true }

// KeepInSight moves the window so far that p is in it, one cell from the edge at
// least; it does nothing when p is.
func (s *State) KeepInSight(p geometry.Vec2, cols, rows int) {
	v := s.Plane(cols, rows)
	col, row := v.Cell(cols, rows, p)
	right := math.Min(0, col-1) + math.Max(0, col-float64(cols-1))
	down := math.Min(0, row-1) + math.Max(0, row-float64(rows-1))
	if right != 0 || down != 0 {
		s.Pan(right, down, cols, rows)
	}
}

// steps are what an arrow key can move by, in mm.
var steps = []float64{0.05, 0.1, 0.2, 0.5, 1, 2, 5}

// NextStep makes the step n sizes larger.
func (s *State) NextStep(n int) {
	at := 0
	for i, v := range steps {
		if v <= s.Step+1e-9 { // the steps are at least 0.05 apart
			at = i
		}
	}
	s.Step = steps[max(0, min(at+n, len(steps)-1))]
	s.Say(style.Text, "Arrow keys move by %g mm.", s.Step)
}
