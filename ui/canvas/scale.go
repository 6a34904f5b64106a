package canvas

import (
	"math"
	"strconv"

	"cabwright/geometry"
)

// roundStep returns the least of 1, 2 and 5 times a power of ten that is at
// least mm.
func roundStep(mm float64) float64 {
	p := math.Pow(10, math.Floor(math.Log10(mm)))
	for _, k := range []float64{1, 2, 5} {
		if k*p >= mm*(1-1e-9) { // a rounding of the logarithm must not skip a step
			return k * p
		}
	}
	return 10 * p
}

// GridStep returns the spacing of the grid in a view, in mm: the least round
// one that is at least four cells wide, so that crossings stay countable.
func (v View) GridStep() float64 { return roundStep(4 * v.scale()) }

// Grid puts a dot at each crossing of a grid of GridStep mm through the origin.
func (c *Canvas) Grid(class Class) {
	step := c.view.GridStep()
	s := c.view.scale()
	halfW := float64(c.width) / 2 * s
	halfH := float64(c.height) / 2 * s * CellAspect
	at := c.view.Centre
	if !finite(at) || math.Abs(at.X)+math.Abs(at.Y) > 1e6*step {
		return // further out than a grid line's number can be told apart
	}
	for i := math.Ceil((at.X - halfW) / step); i*step <= at.X+halfW; i++ {
		for j := math.Ceil((at.Y - halfH) / step); j*step <= at.Y+halfH; j++ {
			x, y := c.dotOf(geometry.Vec2{X: i * step, Y: j * step})
			c.set(int(math.Floor(x)), int(math.Floor(y)), class, '\'')
		}
	}
}

// ScaleBar draws a bar of a round length, at most about a third of the width,
// in the lower left corner, with its length in mm beside it. It returns that
// length, or 0 when there is no room.
func (c *Canvas) ScaleBar(class Class) float64 {
	if c.width < 16 || c.height < 3 {
		return 0
	}
	s := c.view.scale()
	length := roundStep(float64(c.width) / 3 * s / 2.5)
	cells := length / s
	row := c.height - 1
	plain := c.view
	c.view = View{Centre: geometry.Vec2{}, MMPerCell: 1}
	left := 1 - float64(c.width)/2
	low := -(float64(row) + 0.5 - float64(c.height)/2) * CellAspect
	pen := Pen{Class: class}
	a, b := geometry.Vec2{X: left, Y: low}, geometry.Vec2{X: left + cells, Y: low}
	for col := 0; col < min(int(cells)+3, c.width); col++ {
		c.free(row*c.width + col)
	}
	c.Line(a, b, pen)
	if c.mode != ASCII {
		for _, end := range []geometry.Vec2{a, b} {
			c.Line(end.Add(geometry.Vec2{Y: 0.7}), end.Sub(geometry.Vec2{Y: 0.7}), pen)
		}
	}
	c.view = plain
	c.Text(int(cells)+3, row, strconv.FormatFloat(length, 'g', -1, 64)+" mm", class)
	return length
}
