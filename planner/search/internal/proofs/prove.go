package proofs

import (
	"container/heap"
	"context"
	"math"

	"cabwright/planner/search/internal/bounds"
	"cabwright/planner/search/internal/climbing"
	"cabwright/planner/search/internal/poses"
)

// cells is a heap of boxes, the highest bound first.
type cells []bounds.Box

func (h cells) Len() int           { return len(h) }
func (h cells) Less(i, j int) bool { return h[i].Bound > h[j].Bound }
func (h cells) Swap(i, j int)      { h[i], h[j] = h[j], h[i] }
func (h *cells) Push(x any)        { *h = append(*h, x.(bounds.Box)) }
func (h *cells) Pop() any {
	old := *h
	c := old[len(old)-1]
	*h = old[:len(old)-1]
	return c
}

// Result is how a branch and bound ended.
type Result struct {
	Bound float64     // no pose within the limits has a clearance above this
	Found bool        // a pose above the wanted clearance was met; the proof stopped there
	At    poses.Coord // that pose
	Value float64     // its clearance as the samples see it
	Near  bool        // what is left is near enough to the goal, and looked at for long enough
	Done  bool        // every box was bounded below the wanted clearance
	Boxes int
}

// State is a branch and bound that can be taken up again: its boxes stay valid
// when samples are added to the model, which only lower bounds.
type State struct {
	queue  cells
	left   float64 // the highest bound of the boxes too narrow to divide
	pruned float64 // the highest bound of the boxes pruned
	boxes  int     // looked at so far
	enough int     // boxes after which being undecided within the tolerance will do; 0: not yet
	next   int     // boxes after which the next guess is climbed from
	hit    float64 // the clearance above which a pose that is met stops the proof
}

// mostOpen is how many open boxes one proof keeps. One that needs more is far from its end.
const mostOpen = 20000

// New begins a proof over the whole domain of a prober.
func New(p *bounds.Prober) *State {
	return &State{queue: cells{p.Domain()}, left: math.Inf(-1), pruned: math.Inf(-1), hit: math.Inf(-1)}
}

// Boxes returns how many boxes were looked at so far.
func (h *State) Boxes() int { return h.boxes }

// Open returns how many boxes wait to be looked at.
func (h *State) Open() int { return len(h.queue) }

// PassOver has the proof go on past poses of at most this clearance, mm: they led to
// nothing.
func (h *State) PassOver(value float64) { h.hit = max(h.hit, value) }

// bound returns the highest clearance that any pose can have.
func (h *State) bound() float64 {
	return max(h.left, h.pruned, h.top())
}

// Goal is what a proof is after.
type Goal struct {
	Want   float64 // boxes below it are pruned; not below minus the smallest allowance
	Close  float64 // when none can hold more, being undecided by so little will do
	Soft   int     // after so many boxes more, and a quarter of those spent
	Budget int     // boxes, all in all
}

// Prove bounds the clearance of every pose: it ends when no box can hold more
// than is wanted, when a pose above the proof's hit is met, when what is left is
// close enough, or when its budget of boxes is spent.
func Prove(ctx context.Context, p *bounds.Prober, h *State, g Goal) Result {
	res := Result{Value: math.Inf(-1)}
	begun := h.boxes
	hit := max(h.hit, g.Want)
	for len(h.queue) > 0 && !res.Found && !h.stops(ctx, g) {
		c := heap.Pop(&h.queue).(bounds.Box)
		h.boxes++
		known := p.Shrink(&c, g.Want)
		c.Bound = min(c.Bound, known.Bound)
		if met := known.Met; met.Found && met.Value > hit && (p.Level || met.At.Tilt() <= p.TiltMax) {
			heap.Push(&h.queue, c)
			res.Found, res.At, res.Value = true, met.At, met.Value
			break
		}
		if h.settles(p, &c, g.Want) {
			continue
		}
		h.divide(p, c)
		// The programme's own optimum is where a better pose would be: looked at
		// for the first boxes, then ever more rarely.
		if h.boxes >= h.next {
			h.next = h.boxes + 4 + h.boxes/4
			if at, v := climbing.TryPoint(p, &c, known.Next, g.Want); v > res.Value {
				res.At, res.Value, res.Found = at, v, v > hit
			}
		}
	}
	res.Bound, res.Boxes = h.bound(), h.boxes-begun
	res.Near = h.near(g) && h.long(g)
	res.Done = len(h.queue) == 0 && !res.Found && h.left < g.Want
	return res
}

// near tells whether no box left can hold more than being undecided will do for.
func (h *State) near(g Goal) bool { return max(h.left, h.top()) < g.Close }

// long tells whether the proof has gone on for long enough since it came near, or to no
// end: a box too narrow to divide is left.
func (h *State) long(g Goal) bool {
	return h.left >= g.Want || h.enough > 0 && h.boxes >= h.enough
}

// top returns the highest bound of the boxes that wait.
func (h *State) top() float64 {
	if len(h.queue) == 0 {
		return math.Inf(-1)
	}
	return h.queue[0].Bound
}

// stops tells whether the proof has come near enough, or as far as it may.
func (h *State) stops(ctx context.Context, g Goal) bool {
	if h.enough == 0 && h.near(g) {
		h.enough = h.boxes + h.boxes/4 + g.Soft
	}
	switch {
	case h.left >= g.Close: // it will not come near any more
		return true
	case h.near(g) && h.long(g), h.boxes >= g.Budget, len(h.queue) > mostOpen:
		return true
	}
	return h.boxes%64 == 0 && ctx.Err() != nil
}

// settles tells whether a box needs no division, because it holds no pose with the wanted
// clearance or is too narrow, and keeps its bound.
func (h *State) settles(p *bounds.Prober, c *bounds.Box, want float64) bool {
	if c.Bound < want {
		h.pruned = max(h.pruned, c.Bound)
		return true
	}
	if p.Widest(c) >= finest {
		return false
	}
	h.left = max(h.left, c.Bound)
	return true
}

// divide puts the halves of a box on the queue, without those that no pose within the
// tilt limit is in.
func (h *State) divide(p *bounds.Prober, c bounds.Box) {
	a, b := p.Halve(c)
	for _, k := range [2]bounds.Box{a, b} {
		if p.Level || bounds.Allowed(&k, p.TiltMax) {
			heap.Push(&h.queue, k)
		}
	}
}

// finest is the width below which a box is not divided any more, mm: the rows
// themselves are loose by some micrometres (facets stray from curved sheets,
// touching points from feet), so smaller boxes would tell no more.
const finest = 0.004
