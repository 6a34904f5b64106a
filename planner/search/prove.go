package search

import (
	"container/heap"
	"context"
	"math"
)

// cells is a heap of boxes, the highest bound first.
type cells []cell

func (h cells) Len() int           { return len(h) }
func (h cells) Less(i, j int) bool { return h[i].bound > h[j].bound }
func (h cells) Swap(i, j int)      { h[i], h[j] = h[j], h[i] }
func (h *cells) Push(x any)        { *h = append(*h, x.(cell)) }
func (h *cells) Pop() any {
	old := *h
	c := old[len(old)-1]
	*h = old[:len(old)-1]
	return c
}

// proof is how a branch and bound ended.
type proof struct {
	bound float64 // no pose within the limits has a clearance above this
	found bool    // a pose above the wanted clearance was met; the proof stopped there
	at    coord   // that pose
	value float64 // its clearance as the samples see it
	done  bool    // every box was bounded below the wanted clearance
	boxes int
}

// domain is the box of poses that can matter at all: the pivot inside the
// rough's bounding box, the turns that differ, and tilts up to the limit.
func (p *prober) domain() cell {
	lo, hi := p.field.Bounds()
	var c cell
	for j, r := range [3][2]float64{{lo.X, hi.X}, {lo.Y, hi.Y}, {lo.Z, hi.Z}} {
		c.at[j], c.half[j] = (r[0]+r[1])/2, (r[1]-r[0])/2
	}
	c.half[turn] = p.turnRange() / 2
	if !p.level {
		c.half[lean], c.half[lean+1] = p.tiltMax, p.tiltMax
	}
	c.bound = math.Inf(1)
	return c
}

// turnRange returns the width of a range of turns that holds every orientation of
// the solid, or one that its own symmetry makes the same. Spinning about the dome
// axis by the outline's period leaves the solid as it is; the turn changes at the
// rate cos t2/cos t1 of the spin (from R' = R [z]x), so by at most the period over
// the cosine of the tilt limit. For a half turn it is exact: both tilts change sign.
func (p *prober) turnRange() float64 {
	period := p.model.period
	if p.level || period == 0 || period > math.Pi-1e-9 {
		return period
	}
	return period / math.Cos(p.tiltMax)
}

// allowed tells whether any pose of the box keeps within the tilt limit: the
// least lean in it is at the corner nearest to level.
func allowed(c *cell, tiltMax float64) bool {
	a := max(0, math.Abs(c.at[lean])-c.half[lean])
	b := max(0, math.Abs(c.at[lean+1])-c.half[lean+1])
	return math.Cos(a)*math.Cos(b) >= math.Cos(tiltMax)-1e-12
}

// proofState is a branch and bound that can be taken up again: its boxes stay valid
// when samples are added to the model, which only lower bounds.
type proofState struct {
	queue  cells
	left   float64 // the highest bound of the boxes too narrow to divide
	pruned float64 // the highest bound of the boxes pruned
	boxes  int     // looked at so far
	enough int     // boxes after which being undecided within the tolerance will do; 0: not yet
	next   int     // boxes after which the next guess is climbed from
	hit    float64 // the clearance above which a pose that is met stops the proof
}

// mostOpen is how many open boxes one proof keeps, of some 150 bytes each. One that
// needs more is far from its end.
const mostOpen = 20000

func (p *prober) newProof() *proofState {
	return &proofState{queue: cells{p.domain()}, left: math.Inf(-1), pruned: math.Inf(-1), hit: math.Inf(-1)}
}

// bound returns the highest clearance that any pose can have.
func (h *proofState) bound() float64 {
	b := max(h.left, h.pruned)
	if len(h.queue) > 0 {
		b = max(b, h.queue[0].bound)
	}
	return b
}

// goal is what a proof is after.
type goal struct {
	want   float64 // boxes below it are pruned; not below minus the smallest allowance
	close  float64 // when none can hold more, being undecided by so little will do
	soft   int     // after so many boxes more, and a quarter of those spent
	budget int     // boxes, all in all
}

// prove bounds the clearance of every pose: it ends when no box can hold more
// than is wanted, when a pose above the proof's hit is met, when what is left is
// close enough, or when its budget of boxes is spent.
func (p *prober) prove(ctx context.Context, h *proofState, g goal) proof {
	res := proof{value: math.Inf(-1)}
	begun := h.boxes
	hit := max(h.hit, g.want)
	end := func() proof {
		res.bound, res.boxes = h.bound(), h.boxes-begun
		return res
	}
	for len(h.queue) > 0 {
		if h.enough == 0 && h.queue[0].bound < g.close {
			h.enough = h.boxes + h.boxes/4 + g.soft
		}
		if h.enough > 0 && h.boxes >= h.enough || h.boxes >= g.budget || (h.boxes%64 == 0 && ctx.Err() != nil) {
			return end()
		}
		if len(h.queue) > mostOpen {
			return end()
		}
		c := heap.Pop(&h.queue).(cell)
		h.boxes++
		p.met = false
		bound, next := p.shrink(&c, g.want)
		c.bound = min(c.bound, bound)
		if p.met && p.metValue > hit && (p.level || p.metAt.tilt() <= p.tiltMax) {
			heap.Push(&h.queue, c)
			res.found, res.at, res.value = true, p.metAt, p.metValue
			return end()
		}
		if c.bound < g.want {
			h.pruned = max(h.pruned, c.bound)
			continue
		}
		if p.widest(&c) < finest {
			h.left = max(h.left, c.bound)
			if h.enough == 0 {
				h.enough = h.boxes
			}
			continue
		}
		a, b := p.halve(c)
		for _, k := range [2]cell{a, b} {
			if p.level || allowed(&k, p.tiltMax) {
				heap.Push(&h.queue, k)
			}
		}
		// The programme's own optimum is where a better pose would be: looked at
		// for the first boxes, then ever more rarely.
		if h.boxes >= h.next {
			h.next = h.boxes + 4 + h.boxes/4
			if at, v := p.tryPoint(&c, next, g.want); v > res.value {
				res.at, res.value = at, v
				if v > hit {
					res.found = true
					return end()
				}
			}
		}
	}
	end()
	res.done = h.left < g.want
	return res
}

// finest is the width below which a box is not divided any more, mm: the rows
// themselves are loose by some micrometres (facets stray from curved sheets,
// touching points from feet), so smaller boxes would tell no more.
const finest = 0.004

// mostPasses is how often a box is cut before it is divided. Where the best pose
// has just what is wanted, and no more, one side could be cut for ever; after
// this many the box has lost all but 0.6^16, or 0.03%, of itself.
const mostPasses = 16

// shrink bounds a box and cuts off the parts of it that cannot hold a pose with
// the wanted clearance: from the bound sum c_j y_j + b0 of the dual weights
// follows for each y_j an interval (reduced-cost tightening), and the same for
// single rows. It goes on while that takes away enough to be worth another look.
func (p *prober) shrink(c *cell, want float64) (float64, [dims]float64) {
	for pass := 1; ; pass++ {
		bound := p.bracket(c, want) + 1e-9
		if math.IsNaN(bound) {
			bound = c.bound // arithmetic failed: what held for the larger box still does
		}
		if bound < want {
			return bound, [dims]float64{}
		}
		y := p.lp.point()
		lo, hi, left := p.tighten(bound, want)
		if left <= 0 {
			return want - 1e-9, y
		}
		p.cut(c, lo, hi)
		if left > 0.6 || pass == mostPasses {
			return bound, y
		}
	}
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
