package canvas

import (
	"math"

	"cabwright/geometry"
)

// CellAspect is how many times as high as wide a cell of the terminal is taken
// to be: common practice, and what makes a braille dot square.
const CellAspect = 2.0

// The scales a View is held to, in millimetres a cell: a thousandth shows the
// last digit a stone file holds; ten thousand shows a metre in a tenth of a cell.
const (
	finestScale   = 0.001
	coarsestScale = 10000.0
)

// View says which part of the plane a canvas shows: Centre lies in the middle
// of it, one cell is MMPerCell wide and CellAspect times that high.
type View struct {
	Centre    geometry.Vec2 // mm
	MMPerCell float64       // mm; out of range or NaN is held to the nearest usable scale
	Mirror    bool          // x runs to the left: the stone turned over
}

// scale returns a usable MMPerCell.
func (v View) scale() float64 {
	if math.IsNaN(v.MMPerCell) {
		return 1
	}
	return math.Min(math.Max(v.MMPerCell, finestScale), coarsestScale)
}

// Cell returns where p falls on a canvas of width x height cells, in cells from
// its upper left corner; whole numbers are the edges between cells. Numbers too
// great to hold give infinities or NaN, never a panic.
func (v View) Cell(width, height int, p geometry.Vec2) (col, row float64) {
	s := v.scale()
	dx := (p.X - v.Centre.X) / s
	if v.Mirror {
		dx = -dx
	}
	return float64(width)/2 + dx, float64(height)/2 - (p.Y-v.Centre.Y)/(s*CellAspect)
}

// At returns the point in the middle of cell (col, row) of a canvas of width x
// height cells: what a mouse click there means, to within Grain.
func (v View) At(width, height, col, row int) geometry.Vec2 {
	s := v.scale()
	dx := (float64(col) + 0.5 - float64(width)/2) * s
	if v.Mirror {
		dx = -dx
	}
	dy := (float64(height)/2 - float64(row) - 0.5) * s * CellAspect
	return v.Centre.Add(geometry.Vec2{X: dx, Y: dy})
}

// Grain returns how far, in mm, a point set by mouse can be off in each
// direction: half a cell.
func (v View) Grain() geometry.Vec2 {
	s := v.scale()
	return geometry.Vec2{X: s / 2, Y: s * CellAspect / 2}
}

// Zoomed returns the view with everything factor times as large and the point
// about left where it is on the screen.
func (v View) Zoomed(factor float64, about geometry.Vec2) View {
	if !(factor > 0) || math.IsInf(factor, 1) {
		return v
	}
	old := v.scale()
	out := v
	out.MMPerCell = old / factor
	k := out.scale() / old
	out.MMPerCell = out.scale()
	out.Centre = about.Add(v.Centre.Sub(about).Scale(k))
	return out
}

// Panned returns the view moved by so many cells to the right and down.
func (v View) Panned(cols, rows float64) View {
	s := v.scale()
	if v.Mirror {
		cols = -cols
	}
	v.Centre = v.Centre.Add(geometry.Vec2{X: cols * s, Y: -rows * s * CellAspect})
	return v
}

// FitTo returns the view that shows every point of pts, centred, as large as a
// canvas of width x height cells allows with margin cells left free at each
// side. Points that are no finite numbers are passed over; without any left it
// shows 20 mm about the origin.
func FitTo(pts []geometry.Vec2, width, height, margin int) View {
	lo := geometry.Vec2{X: math.Inf(1), Y: math.Inf(1)}
	hi := geometry.Vec2{X: math.Inf(-1), Y: math.Inf(-1)}
	for _, p := range pts {
		if !finite(p) {
			continue
		}
		lo.X, lo.Y = math.Min(lo.X, p.X), math.Min(lo.Y, p.Y)
		hi.X, hi.Y = math.Max(hi.X, p.X), math.Max(hi.Y, p.Y)
	}
	if lo.X > hi.X {
		lo, hi = geometry.Vec2{X: -10, Y: -10}, geometry.Vec2{X: 10, Y: 10}
	}
	w := math.Max(1, float64(width-2*margin))
	h := math.Max(1, float64(height-2*margin)) * CellAspect
	v := View{
		Centre:    geometry.Vec2{X: lo.X + (hi.X-lo.X)/2, Y: lo.Y + (hi.Y-lo.Y)/2},
		MMPerCell: math.Max((hi.X-lo.X)/w, (hi.Y-lo.Y)/h),
	}
	v.MMPerCell = v.scale()
	return v
}

func finite(p geometry.Vec2) bool {
	return !math.IsNaN(p.X) && !math.IsInf(p.X, 0) && !math.IsNaN(p.Y) && !math.IsInf(p.Y, 0)
}
