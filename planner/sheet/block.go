package sheet

import (
	"math"

	"cabwright/geometry"
)

// block is a drawing at true scale with a title over it. Its items' own
// coordinates grow from its upper left corner.
type block struct {
	title         string
	width, height float64
	items         []item
}

// titleRoom is what a block's title takes over the drawing, gap what is left
// between blocks.
const (
	titleRoom = 6.0
	gap       = 6.0
)

// drawn makes a block of items drawn anywhere, y upwards, that lie between two
// corners.
func drawn(title string, low, high geometry.Vec2, items []item) block {
	return block{
		title: title, width: high.X - low.X, height: high.Y - low.Y,
		items: moved(items, at(1, -1), at(-low.X, high.Y)),
	}
}

// Pens. Every kind of line differs in its dashes as well as in its weight, so
// that it is known in black and white.
var (
	rimPen     = pen{width: 0.45}
	stonePen   = pen{width: 0.6}
	centrePen  = pen{width: 0.15, dash: []float64{4, 0.8, 0.8, 0.8}}
	cutPen     = pen{width: 0.18}
	crackPen   = pen{width: 0.4, dash: []float64{1.8, 0.9}}
	sealedPen  = pen{width: 0.4, dash: []float64{3, 0.7, 0.5, 0.7}}
	depthPen   = pen{width: 0.18, dash: []float64{0.5, 0.7}}
	runOnPen   = pen{width: 0.3, dash: []float64{0.4, 0.8}}
	pocketPen  = pen{width: 0.25}
	hatchPen   = pen{width: 0.12}
	colourPen  = pen{width: 0.2, grey: 0.35, dash: []float64{0.3, 0.9}}
	thinPen    = pen{width: 0.15}
	templatPen = pen{width: 0.25}
)

// far is the pen for what lies on the face that is not looked at.
func (p pen) far() pen { p.grey = 0.62; return p }

// offcutGrey is the ground of a piece without a stone.
const offcutGrey = 0.9

// polygon is a closed line without ground.
func polygon(points []geometry.Vec2, p pen) path {
	return path{points: points, closed: true, pen: p, fill: noFill}
}

// lines is an open line.
func lines(points []geometry.Vec2, p pen) path { return path{points: points, pen: p, fill: noFill} }

// hatch returns lines at 45 degrees through a polygon, a step apart.
func hatch(poly []geometry.Vec2, step float64, p pen) []item {
	const diagonal = math.Sqrt2 / 2
	turned := make([]geometry.Vec2, len(poly))
	for i, q := range poly {
		turned[i] = at((q.X+q.Y)*diagonal, (q.Y-q.X)*diagonal)
	}
	back := func(x, y float64) geometry.Vec2 { return at((x-y)*diagonal, (x+y)*diagonal) }
	low, high := geometry.Bounds(turned)
	var out []item
	for y := (math.Floor(low.Y/step) + 0.5) * step; y < high.Y; y += step {
		xs := geometry.Crossings(turned, y, nil)
		for k := 0; k+1 < len(xs); k += 2 {
			out = append(out, line(back(xs[k], y), back(xs[k+1], y), p))
		}
	}
	return out
}

// label is a small text with a white ground under it, so that lines do not run
// through it.
func label(where geometry.Vec2, size float64, s string, bold bool) []item {
	w := widthOf(s, size, bold)
	low, high := where.Add(at(-w/2-0.3, -size*0.42)), where.Add(at(w/2+0.3, size*0.42))
	ground := rectangle(low, high, pen{})
	ground.fill = 1
	return []item{ground, text{at: where.Add(at(0, -size*0.35)), size: size, align: centre, bold: bold, string: s}}
}

// circled is a number in a circle.
func circled(where geometry.Vec2, s string) []item {
	ring := path{points: disc(where, 2, 36), closed: true, pen: pen{width: 0.25}, fill: 1}
	return []item{ring, text{at: where.Add(at(0, -1)), size: 2.9, align: centre, bold: true, string: s}}
}
