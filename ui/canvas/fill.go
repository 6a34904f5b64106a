package canvas

import (
	"math"
	"slices"

	"cabwright/geometry"
)

// Hatch is the look of a filled area.
type Hatch int

// The hatches.
const (
	Rising Hatch = iota // lines that rise to the right
	Sparse              // single dots
)

// hatchSign is a hatch in ASCII.
var hatchSign = map[Hatch]uint8{Rising: '%', Sparse: ':'}

// holds reports whether the hatch has a dot at column x, row y of dots. In
// ASCII the sign tells the hatches apart, and only Sparse leaves cells out.
func (h Hatch) holds(x, y int, mode Mode) bool {
	if mode == ASCII {
		return h != Sparse || (x+2*y)%4 == 0
	}
	if h == Rising {
		return (x+y)%4 == 0
	}
	return (y%8 == 1 && x%4 == 0) || (y%8 == 5 && x%4 == 2)
}

// Fill hatches the inside of a polygon, in mm, by the even-odd rule. Corners
// may come in either direction and the polygon may cross itself; one with a
// corner that is not a finite number is left out.
func (c *Canvas) Fill(polygon []geometry.Vec2, hatch Hatch, class Class) {
	if len(polygon) < 3 {
		return
	}
	xs, ys := make([]float64, len(polygon)), make([]float64, len(polygon))
	low, high := math.Inf(1), math.Inf(-1)
	for i, p := range polygon {
		if !finite(p) {
			return
		}
		x, y := c.dotOf(p)
		xs[i], ys[i] = hold(x), hold(y)
		if math.IsNaN(xs[i]) || math.IsNaN(ys[i]) {
			return // the view itself is no place
		}
		low, high = math.Min(low, ys[i]), math.Max(high, ys[i])
	}
	wide, tall := c.width*c.across, c.height*c.down
	first := int(math.Max(0, math.Floor(low)))
	last := int(math.Min(float64(tall-1), math.Ceil(high)))
	sign := hatchSign[hatch]
	var cross []float64
	for y := first; y <= last; y++ {
		cross = crossings(cross[:0], xs, ys, float64(y)+0.5)
		for k := 0; k+1 < len(cross); k += 2 {
			from := int(math.Ceil(math.Max(0, cross[k]-0.5)))
			to := int(math.Floor(math.Min(float64(wide-1), cross[k+1]-0.5)))
			for x := from; x <= to; x++ {
				if hatch.holds(x, y, c.mode) {
					c.set(x, y, class, sign)
				}
			}
		}
	}
}

// crossings appends to out, sorted, where the polygon's edges cross height y. An
// edge holds its lower end and not its upper one, so that a corner counts once.
func crossings(out, xs, ys []float64, y float64) []float64 {
	j := len(xs) - 1
	for i := range xs {
		if (ys[i] <= y) != (ys[j] <= y) {
			out = append(out, xs[i]+(y-ys[i])/(ys[j]-ys[i])*(xs[j]-xs[i]))
		}
		j = i
	}
	slices.Sort(out)
	return out
}
