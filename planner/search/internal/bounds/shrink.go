package bounds

import (
	"math"

	"cabwright/planner/search/internal/poses"
)

// mostPasses is how often a box is cut before it is divided. Where the best pose
// has just what is wanted, and no more, one side could be cut for ever; after
// this many the box has lost all but 0.6^16, or 0.03%, of itself.
const mostPasses = 16

// Shrink bounds a box and cuts off the parts of it that cannot hold a pose with
// the wanted clearance: from the bound sum c_j y_j + b0 of the dual weights
// follows for each y_j an interval (reduced-cost tightening), and the same for
// single rows. It goes on while that takes away enough to be worth another look.
func (p *Prober) Shrink(c *Box, want float64) Shrunk {
	var out Shrunk
	for pass := 1; ; pass++ {
		bound, met := p.bracket(c, want)
		if met.Found {
			out.Met = met
		}
		bound += 1e-9
		if math.IsNaN(bound) {
			bound = c.Bound // arithmetic failed: what held for the larger box still does
		}
		if out.Bound = bound; bound < want {
			return out
		}
		out.Next = p.lp.Point()
		lo, hi, left := p.tighten(bound, want)
		if left <= 0 {
			out.Bound = want - 1e-9
			return out
		}
		p.cut(c, lo, hi)
		if left > 0.6 || pass == mostPasses {
			return out
		}
	}
}

// Shrunk is what is known of a box after it was bounded and cut.
type Shrunk struct {
	Bound float64
	Next  [poses.Dims]float64 // where in the box its programme has the best pose
	Met   Met
}

// tighten returns the part of the box, in its own coordinates -1 to 1, that can
// still hold the wanted clearance, and the share of its volume.
func (p *Prober) tighten(bound, want float64) (lo, hi [poses.Dims]float64, left float64) {
	n := p.lp.N
	for j := range n {
		lo[j], hi[j] = -1, 1
	}
	apply := func(a *[poses.Dims]float64, top float64) {
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
	var c [poses.Dims]float64
	p.lp.Weights(func(row int, weight float64) {
		for j := 0; j < n; j++ {
			c[j] += weight * p.lp.Rows[row].A[j]
		}
	})
	apply(&c, bound)
	for i := range p.lp.Rows {
		r := &p.lp.Rows[i]
		top := r.B
		for j := 0; j < n; j++ {
			top += max(r.A[j]*lo[j], r.A[j]*hi[j])
		}
		if top < want {
			return lo, hi, 0
		}
		apply(&r.A, top)
	}
	left = 1
	for j := 0; j < n; j++ {
		left *= (hi[j] - lo[j]) / 2
	}
	return lo, hi, left
}

// cut narrows the box to the given part of itself.
func (p *Prober) cut(c *Box, lo, hi [poses.Dims]float64) {
	for j := 0; j < p.lp.N; j++ {
		if lo[j] > -1 || hi[j] < 1 {
			c.At[j] += c.Half[j] * (lo[j] + hi[j]) / 2
			c.Half[j] *= (hi[j] - lo[j]) / 2
		}
	}
}

// Halve splits a box across the variable that its bound owes most slack to.
func (p *Prober) Halve(c Box) (Box, Box) {
	var by [poses.Dims]float64
	p.lp.Weights(func(row int, weight float64) {
		for j := 0; j < p.lp.N; j++ {
			by[j] += weight * p.lp.Rows[row].Strain[j]
		}
	})
	best, at := 0.0, -1
	for j := 0; j < p.lp.N; j++ {
		// Some is owed to width alone: across a wide box other rows take over, whose
		// slack the present ones do not show. 0.3 is where the boxes were fewest.
		v := by[j] + 0.3*c.Half[j]*p.leverOf(j)
		if c.Half[j] > 0 && v > best {
			best, at = v, j
		}
	}
	if at < 0 {
		at = 0
	}
	a, b := c, c
	h := c.Half[at] / 2
	a.Half[at], b.Half[at] = h, h
	a.At[at] -= h
	b.At[at] += h
	return a, b
}

// leverOf returns how far a unit of a variable moves the solid's far points.
func (p *Prober) leverOf(j int) float64 {
	if j < poses.Turn {
		return 1
	}
	return p.Model.Solid.Outline.Length / 2
}
