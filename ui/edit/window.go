package edit

import (
	"fmt"
	"math"

	"cabwright/geometry"
	"cabwright/ui/style"
	"cabwright/ui/view"
	"cabwright/ui/widget"
)

// Window is the drawing of the plan the hands work in, in cells.
type Window struct{ Cols, Rows int }

// Apart returns how far apart two points are drawn, in cells: the larger of
// their distances across and down.
func (w Window) Apart(s *view.State, p, q geometry.Vec2) float64 {
	plane := s.Plane(w.Cols, w.Rows)
	pc, pr := plane.Cell(w.Cols, w.Rows, p)
	qc, qr := plane.Cell(w.Cols, w.Rows, q)
	return max(math.Abs(pc-qc), math.Abs(pr-qr))
}

// Bring brings the cursor to a point, and the point into sight.
func (w Window) Bring(s *view.State, p geometry.Vec2) {
	s.Cursor = p
	s.KeepInSight(p, w.Cols, w.Rows)
}

// Doubt notes how far off a point set by mouse can be.
func (w Window) Doubt(s *view.State, p geometry.Vec2) {
	s.Doubtful[p] = s.Plane(w.Cols, w.Rows).Grain()
}

// dot is the finest step that is seen, in cells: a braille character is two dots
// wide and four high.
const dot = 0.25

// SayStep says where a step has led when it is too small to be seen.
func (w Window) SayStep(s *view.State, what string, from, to geometry.Vec2) {
	if w.Apart(s, from, to) < dot {
		s.Say(style.Text, "%s is at %s mm: such a step is finer than the drawing, + zooms in.", what, At(to))
	}
}

// Tidy rounds a place to a thousandth of a millimetre, ten times finer than a
// caliper shows, so that steps do not gather binary fractions.
func Tidy(p geometry.Vec2) geometry.Vec2 { return rounded(p, 1000) }

// FromPointer brings a place from the mouse to a hundredth of a millimetre: a
// cell is far coarser, and longer numbers would say otherwise.
func FromPointer(p geometry.Vec2) geometry.Vec2 { return rounded(p, 100) }

func rounded(p geometry.Vec2, parts float64) geometry.Vec2 {
	return geometry.Vec2{
		X: math.Round(p.X*parts)/parts + 0,
		Y: math.Round(p.Y*parts)/parts + 0,
	} // + 0 takes a minus off zero
}

// At writes a place.
func At(p geometry.Vec2) string { return fmt.Sprintf("%.2f, %.2f", p.X, p.Y) }

// Reach is how far a typed place may lie from the origin, mm: the stone file's
// limit is 1 m.
const Reach = 1000

// PlaceField asks for the numbers of a place, with those there are now.
func PlaceField(label string, now ...float64) *widget.Field {
	text := ""
	for i, v := range now {
		if i > 0 {
			text += ", "
		}
		text += fmt.Sprintf("%g", math.Round(v*1000)/1000)
	}
	return (&widget.Field{Label: label, Kind: widget.Place, Parts: len(now), Min: -Reach, Max: Reach}).With(text)
}
