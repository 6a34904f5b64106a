package drawing

import (
	"math"
	"slices"

	"cabwright/geometry"
	"cabwright/ui/canvas"
	"cabwright/ui/style"
)

// ground is the layer under the lines while it is painted: a colour, a material
// and how much of it is stone for each half cell. Half cells are as high as wide.
type ground struct {
	c       *canvas.Canvas
	palette style.Palette
	w, h    int // half cells
	cover   []float32
	colour  []style.RGB
	what    []canvas.Material
}

// newGround returns the bare ground of a canvas.
func newGround(c *canvas.Canvas, p style.Palette) *ground {
	w, h := c.Halves()
	return &ground{c: c, palette: p, w: w, h: h,
		cover: make([]float32, w*h), colour: make([]style.RGB, w*h), what: make([]canvas.Material, w*h)}
}

// half returns where p falls, in half cells from the upper left corner.
func (g *ground) half(p geometry.Vec2) (x, y float64) {
	cols, rows := g.c.Size()
	x, y = g.c.View().Cell(cols, rows, p)
	return x, 2 * y
}

// middle returns the point in the middle of a half cell.
func (g *ground) middle(x, y int) geometry.Vec2 {
	p := g.c.At(x, y/2) // the middle of the cell
	quarter := g.size() / 2
	if y%2 == 0 {
		p.Y += quarter
	} else {
		p.Y -= quarter
	}
	return p
}

// size returns the side of a half cell, in mm.
func (g *ground) size() float64 {
	a, b := g.c.At(0, 0), g.c.At(1, 0)
	return math.Abs(b.X - a.X)
}

// mask is how much of each half cell of a rectangle something covers, 0 to 1.
type mask struct {
	x0, y0, x1, y1 int // the rectangle holds x0 <= x < x1, y0 <= y < y1
	share          []float32
}

// at returns the share of a half cell that is covered.
func (m *mask) at(x, y int) float32 {
	if x < m.x0 || y < m.y0 || x >= m.x1 || y >= m.y1 {
		return 0
	}
	return m.share[(y-m.y0)*(m.x1-m.x0)+x-m.x0]
}

// lines is how many lines a row of half cells is looked at along; across a line
// the covered share is exact.
const lines = 4

// mask returns what a polygon, in mm, covers by the even-odd rule. One with a
// corner that is not finite covers nothing.
func (g *ground) mask(polygon []geometry.Vec2) *mask {
	m := &mask{}
	if len(polygon) < 3 {
		return m
	}
	lo, hi := geometry.Vec2{X: math.Inf(1), Y: math.Inf(1)}, geometry.Vec2{X: math.Inf(-1), Y: math.Inf(-1)}
	pts := make([]geometry.Vec2, len(polygon))
	for i, p := range polygon {
		x, y := g.half(p)
		if !(math.Abs(x) < farthest && math.Abs(y) < farthest) {
			return m
		}
		pts[i] = geometry.Vec2{X: x, Y: y}
		lo.X, lo.Y = math.Min(lo.X, x), math.Min(lo.Y, y)
		hi.X, hi.Y = math.Max(hi.X, x), math.Max(hi.Y, y)
	}
	m.x0, m.y0 = int(max(0, math.Floor(lo.X))), int(max(0, math.Floor(lo.Y)))
	m.x1, m.y1 = int(min(float64(g.w), math.Ceil(hi.X))), int(min(float64(g.h), math.Ceil(hi.Y)))
	if m.x0 >= m.x1 || m.y0 >= m.y1 {
		return &mask{}
	}
	m.share = make([]float32, (m.x1-m.x0)*(m.y1-m.y0))
	var cross []float64
	for k := m.y0 * lines; k < m.y1*lines; k++ {
		cross = crossings(cross[:0], pts, (float64(k)+0.5)/lines)
		row := m.share[(k/lines-m.y0)*(m.x1-m.x0):]
		for i := 0; i+1 < len(cross); i += 2 {
			m.stretch(row, cross[i], cross[i+1])
		}
	}
	return m
}

// farthest is how many half cells off a point may lie: far past any zoom, and
// small enough for a float64 to tell half cells apart.
const farthest = 1e9

// stretch adds to a row of the mask the part of a line from a to b.
func (m *mask) stretch(row []float32, a, b float64) {
	a, b = math.Max(a, float64(m.x0)), math.Min(b, float64(m.x1))
	if a >= b {
		return
	}
	first, last := int(a), min(int(b), m.x1-1)
	if first == last {
		row[first-m.x0] += float32((b - a) / lines)
		return
	}
	row[first-m.x0] += float32((float64(first+1) - a) / lines)
	for x := first + 1; x < last; x++ {
		row[x-m.x0] += 1.0 / lines
	}
	row[last-m.x0] += float32((math.Min(b, float64(last+1)) - float64(last)) / lines)
}

// crossings appends to out, sorted, where a polygon's sides cross height y.
func crossings(out []float64, pts []geometry.Vec2, y float64) []float64 {
	q := pts[len(pts)-1]
	for _, p := range pts {
		if (p.Y <= y) != (q.Y <= y) {
			out = append(out, p.X+(y-p.Y)/(q.Y-p.Y)*(q.X-p.X))
		}
		q = p
	}
	slices.Sort(out)
	return out
}

// each calls f for every half cell of a mask that is stone, with its place in
// the ground's slices and the share that the mask covers.
func (g *ground) each(m *mask, f func(i, x, y int, share float32)) {
	for y := m.y0; y < m.y1; y++ {
		row := m.share[(y-m.y0)*(m.x1-m.x0):]
		for x := m.x0; x < m.x1; x++ {
			if share := row[x-m.x0]; share > 0 && g.cover[y*g.w+x] > 0 {
				f(y*g.w+x, x, y, share)
			}
		}
	}
}

// set puts a material over a half cell, where it covers more than half of it.
func (g *ground) set(i int, m canvas.Material, share float32) {
	if share > 0.5 {
		g.what[i] = m
	}
}

// paint hands the ground over to the canvas.
func (g *ground) paint() {
	for i, cover := range g.cover {
		if cover <= 0 {
			continue
		}
		col := g.colour[i]
		switch {
		case g.palette.Fades:
			col = g.palette.Beyond.Mix(col, min(1, cover))
		case cover < 0.5:
			continue
		}
		g.c.SetTone(i%g.w, i/g.w, canvas.NewTone(g.what[i], channel(col[0]), channel(col[1]), channel(col[2])))
	}
}

// channel brings a channel of a colour to one of 86 levels: finer ones cannot be told apart,
// and neighbours of one colour are written together.
func channel(v float32) uint8 {
	n := int(v + 1.5)
	return uint8(min(max(n-n%3, 0), 255))
}
