package canvas

import (
	"math"

	"cabwright/geometry"
)

// Stroke is the look of a line, so that kinds of line differ without colour.
type Stroke int

// The strokes.
const (
	Solid Stroke = iota
	Dashed
	Dotted
	DashDot
	Double
	Heavy // twice as thick
	LongDashed
)

// Pen is how a line is drawn.
type Pen struct {
	Class  Class
	Stroke Stroke
}

// patterns are the dashes of a stroke, one letter a dot along the line, for
// braille, for half-blocks and for ASCII, whose dots are 1, 2 and 2 to 4 times
// as large.
var patterns = [LongDashed + 1][3]string{
	Dashed:     {"####...", "##..", ""},
	Dotted:     {"#...", "#..", "#."},
	LongDashed: {"########..", "#####.", ""},
	DashDot:    {"######..#..", "###.#.", ""},
}

// farthest is the greatest distance from the canvas, in dots, that is still
// drawn exactly; further points are moved there. At 2^40 dots a step is still
// under a thousandth of a dot in a float64, and any stone ends far nearer.
const farthest = float64(1 << 40)

// clip returns the part of the segment inside [0, w] x [0, h] as parameters t0
// <= t1 along it (Liang and Barsky 1984); ok is false when there is none or a
// number is NaN.
func clip(x0, y0, x1, y1, w, h float64) (t0, t1 float64, ok bool) {
	t0, t1 = 0, 1
	dx, dy := x1-x0, y1-y0
	if math.IsNaN(dx) || math.IsNaN(dy) {
		return 0, 0, false
	}
	for _, e := range [4][2]float64{{-dx, x0}, {dx, w - x0}, {-dy, y0}, {dy, h - y0}} {
		p, q := e[0], e[1]
		switch {
		case p == 0:
			if q < 0 {
				return 0, 0, false
			}
		case p < 0:
			t0 = math.Max(t0, q/p)
		default:
			t1 = math.Min(t1, q/p)
		}
	}
	return t0, t1, t0 <= t1
}

// hold brings a coordinate within reach; NaN stays NaN.
func hold(x float64) float64 {
	if x > farthest {
		return farthest
	}
	if x < -farthest {
		return -farthest
	}
	return x
}

// Line draws the segment from a to b, in mm.
func (c *Canvas) Line(a, b geometry.Vec2, pen Pen) { c.segment(a, b, pen, 0) }

// Polyline draws the path through pts, in mm, its dashes running on around the
// corners; closed joins the last point to the first. A single point is a dot.
func (c *Canvas) Polyline(pts []geometry.Vec2, closed bool, pen Pen) {
	if len(pts) == 1 {
		c.segment(pts[0], pts[0], pen, 0)
		return
	}
	phase := 0.0
	for i := 1; i < len(pts); i++ {
		phase = c.segment(pts[i-1], pts[i], pen, phase)
	}
	if closed && len(pts) > 2 {
		c.segment(pts[len(pts)-1], pts[0], pen, phase)
	}
}

// segment draws one segment whose dashes start at phase, and returns the phase
// at its end, both in dots along the line.
func (c *Canvas) segment(a, b geometry.Vec2, pen Pen, phase float64) float64 {
	x0, y0 := c.dotOf(a)
	x1, y1 := c.dotOf(b)
	x0, y0, x1, y1 = hold(x0), hold(y0), hold(x1), hold(y1)
	if off := beside(pen.Stroke); off > 0 && c.mode != ASCII {
		nx, ny := y0-y1, x1-x0
		if n := math.Hypot(nx, ny); n > 0 {
			nx, ny = off*nx/n, off*ny/n
		}
		c.raster(x0+nx, y0+ny, x1+nx, y1+ny, pen, 0)
		c.raster(x0-nx, y0-ny, x1-nx, y1-ny, pen, 0)
		return 0
	}
	c.raster(x0, y0, x1, y1, pen, phase)
	length := math.Hypot(x1-x0, y1-y0)
	if math.IsNaN(length) {
		return phase
	}
	return phase + length
}

// beside returns how far to each side of its place the two lines run that a
// stroke is made of, in dots: a double one leaves one dot of ground between
// them, a heavy one none. It is 0 for a stroke of one line.
func beside(s Stroke) float64 {
	switch s {
	case Double:
		return 1
	case Heavy:
		return 0.5
	}
	return 0
}

// noise is more than rounding moves a dot's coordinate: a line from dot to dot would
// have gaps where it falls short of a whole number.
const noise = 1e-9

// raster sets the dots of one segment given in dots.
func (c *Canvas) raster(x0, y0, x1, y1 float64, pen Pen, phase float64) {
	w, h := float64(c.width*c.across), float64(c.height*c.down)
	t0, t1, ok := clip(x0, y0, x1, y1, w, h)
	if !ok {
		return
	}
	dx, dy := x1-x0, y1-y0
	length := math.Hypot(dx, dy)
	steps := int(math.Ceil(math.Max(math.Abs(dx), math.Abs(dy)) * (t1 - t0)))
	sign := leaning(dx, dy*CellAspect, pen.Stroke)
	step := 0.0
	if steps > 0 {
		step = (t1 - t0) / float64(steps)
	}
	pattern := patterns[pen.Stroke][c.mode]
	// A step is at most the square root of 2 dots, less than any pattern, so
	// one subtraction keeps the place in it.
	period := float64(len(pattern))
	place, pace := math.Mod(phase+t0*length, period), step*length
	for i := 0; i <= steps; i++ {
		if pattern == "" || pattern[int(place)] == '#' {
			t := t0 + step*float64(i)
			c.set(int(math.Floor(x0+t*dx+noise)), int(math.Floor(y0+t*dy+noise)), pen.Class, sign)
		}
		if place += pace; place >= period {
			place -= period
		}
	}
}

// tan22 is the tangent of 22.5 degrees: where one of the four leaning signs
// gives way to the next.
const tan22 = math.Sqrt2 - 1

// leaning returns the ASCII sign that leans as a line along (dx, dy) does, y
// down, both in the same unit.
func leaning(dx, dy float64, stroke Stroke) uint8 {
	switch {
	case stroke == Double:
		return '='
	case stroke == Heavy:
		return '#'
	case stroke == Dashed:
		return '*'
	case stroke == DashDot:
		return ':'
	case stroke == LongDashed:
		return '~'
	case stroke == Dotted:
		return '.'
	case math.Abs(dy) <= tan22*math.Abs(dx):
		return '-'
	case math.Abs(dx) <= tan22*math.Abs(dy):
		return '|'
	case (dx > 0) == (dy > 0):
		return '\\'
	default:
		return '/'
	}
}
