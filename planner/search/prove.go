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

func newProof(p *prober) *proofState {
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
func prove(ctx context.Context, p *prober, h *proofState, g goal) proof {
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
		known := p.shrink(&c, g.want)
		c.bound = min(c.bound, known.bound)
		if met := known.met; met.found && met.value > hit && (p.level || met.at.tilt() <= p.tiltMax) {
			heap.Push(&h.queue, c)
			res.found, res.at, res.value = true, met.at, met.value
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
			if at, v := tryPoint(p, &c, known.next, g.want); v > res.value {
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
