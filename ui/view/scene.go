package view

import (
	"cabwright/planner/search"
	"cabwright/ui/canvas"
	"cabwright/ui/drawing"
	"cabwright/ui/style"
)

// Palette returns what the stone is painted with, nil for lines alone.
func (s *State) Palette() *style.Palette {
	if s.Glyphs == canvas.ASCII {
		return nil
	}
	return s.Style.Palette()
}

// Scene returns what there is to draw of the stone, without a fit: a view adds
// what it shows.
func (s *State) Scene() drawing.Scene {
	return drawing.Scene{
		Stone: s.Stone(), Rough: s.Rough, Face: s.Face, Palette: s.Palette(), Names: true, Nearest: &s.nearest,
	}
}

// Best returns the best fit found for the stone as it is now, nil while there is
// none.
func (s *State) Best() *search.Fit {
	if s.PlanOf != s.Revision() || len(s.Plan.Fits) == 0 {
		return nil
	}
	return &s.Plan.Fits[0]
}
