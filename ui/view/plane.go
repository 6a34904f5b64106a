package view

import (
	"cabwright/geometry"
	"cabwright/planner"
	"cabwright/ui/canvas"
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
