package search

import "math"

// mostPasses is how often a box is cut before it is divided. Where the best pose
// has just what is wanted, and no more, one side could be cut for ever; after
// this many the box has lost all but 0.6^16, or 0.03%, of itself.
const mostPasses = 16

// shrink bounds a box and cuts off the parts of it that cannot hold a pose with
// the wanted clearance: from the bound sum c_j y_j + b0 of the dual weights
// follows for each y_j an interval (reduced-cost tightening), and the same for
// single rows. It goes on while that takes away enough to be worth another look.
func (p *prober) shrink(c *cell, want float64) shrunk {
	var out shrunk
	for pass := 1; ; pass++ {
		bound, met := p.bracket(c, want)
		if met.found {
			out.met = met
		}
		bound += 1e-9
		if math.IsNaN(bound) {
			bound = c.bound // arithmetic failed: what held for the larger box still does
		}
		if out.bound = bound; bound < want {
			return out
		}
		out.next = p.lp.point()
		lo, hi, left := p.tighten(bound, want)
		if left <= 0 {
			out.bound = want - 1e-9
			return out
		}
		p.cut(c, lo, hi)
		if left > 0.6 || pass == mostPasses {
			return out
		}
	}
}

// shrunk is what is known of a box after it was bounded and cut.
type shrunk struct {
	bound float64
	next  [dims]float64 // where in the box its programme has the best pose
	met   metPose
}

// tighten returns the part of the box, in its own coordinates -1 to 1, that can
// still hold the wanted clearance, and the share of its volume.
func (p *prober) tighten(bound, want float64) (lo, hi [dims]float64, left float64) {
	n := p.lp.n
	for j := range n {
		lo[j], hi[j] = -1, 1
	}
	apply := func(a *[dims]float64, top float64) {
		// top is the row's largest value over the box as it is now.
		for j := 0; j < n; j++ {
			w := hi[j] - lo[j]
			if drop := math.Abs(a[j]) * w; drop > top-want {
				keep := max(0, (top-want)/drop) * w
				// The part cut off holds less than want; a hair is left on.
				keep += 1e-9
				if a[j] > 0 {
					lo[j] = hi[j] - keep
				} else {
					hi[j] = lo[j] + keep
				}
			}
		}
	}
	var c [dims]float64
	p.lp.weights(func(row int, weight float64) {
		for j := 0; j < n; j++ {
			c[j] += weight * p.lp.rows[row].a[j]
		}
	})
	apply(&c, bound)
	for i := range p.lp.rows {
		r := &p.lp.rows[i]
		top := r.b
		for j := 0; j < n; j++ {
			top += max(r.a[j]*lo[j], r.a[j]*hi[j])
		}
		if top < want {
			return lo, hi, 0
		}
		apply(&r.a, top)
	}
	left = 1
	for j := 0; j < n; j++ {
		left *= (hi[j] - lo[j]) / 2
	}
	return lo, hi, left
}

// cut narrows the box to the given part of itself.
func (p *prober) cut(c *cell, lo, hi [dims]float64) {
	for j := 0; j < p.lp.n; j++ {
		if lo[j] > -1 || hi[j] < 1 {
			c.at[j] += c.half[j] * (lo[j] + hi[j]) / 2
			c.half[j] *= (hi[j] - lo[j]) / 2
		}
	}
}

// halve splits a box across the variable that its bound owes most slack to.
func (p *prober) halve(c cell) (cell, cell) {
	var by [dims]float64
	p.lp.weights(func(row int, weight float64) {
		for j := 0; j < p.lp.n; j++ {
			by[j] += weight * p.lp.rows[row].strain[j]
		}
	})
	best, at := 0.0, -1
	for j := 0; j < p.lp.n; j++ {
		// Some is owed to width alone: across a wide box other rows take over, whose
		// slack the present ones do not show. 0.3 is where the boxes were fewest.
		v := by[j] + 0.3*c.half[j]*p.leverOf(j)
		if c.half[j] > 0 && v > best {
			best, at = v, j
		}
	}
	if at < 0 {
		at = 0
	}
	a, b := c, c
	h := c.half[at] / 2
	a.half[at], b.half[at] = h, h
	a.at[at] -= h
	b.at[at] += h
	return a, b
}

// leverOf returns how far a unit of a variable moves the solid's far points.
func (p *prober) leverOf(j int) float64 {
	if j < turn {
		return 1
	}
	return p.model.solid.Outline.Length / 2
}
