package drawing

import (
	"cabwright/planner"
	"cabwright/planner/search"
	"cabwright/ui/canvas"
)

// Best returns a small plan of a stone with one fit in it as plain text of at
// most width x height cells, for printing: the face the dome comes out of, the
// base as it is seen with the stone turned over. A nil fit gives the stone alone.
func Best(stone planner.Stone, fit *search.Fit, width, height int, mode canvas.Mode) []string {
	s := Scene{Stone: stone, Fit: fit, Names: true}
	if fit != nil {
		s.Face = fit.Face
	}
	// A stone's surfaces may be unknown; its plan can still be drawn.
	if r, err := planner.NewRough(stone); err == nil {
		s.Rough = r
	}
	c := canvas.New(width, height, mode)
	c.SetView(s.Window(width, height, 1))
	Plan(c, s)
	return c.Lines(nil)
}
