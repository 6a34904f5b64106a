package certify

import (
	"container/heap"
	"math"

	"cabwright/geometry"
	"cabwright/geometry/field"
	"cabwright/geometry/solid"
	"cabwright/planner/search/internal/poses"
)

// Result is the clearance of one pose on the exact geometry.
type Result struct {
	Lower float64       // no point of the solid keeps less
	Least float64       // least clearance at a point that was looked at: lower <= clearance <= least
	Worst geometry.Vec3 // that point, in the solid's own axes
}

// Resolution is how far below the least clearance seen the certified one may
// lie, in mm: a tenth of the usual tolerance, 0.1% of the weight of a 12 mm stone.
const Resolution = 0.005

// LeastClearance is the certified clearance that a fit must have, mm: what is left of
// it after the pose and the clearance itself are rounded in a plan is not below zero
// (see planjson: nine digits for the pose, four for the clearance).
const LeastClearance = 1e-6

// bending, 1/mm, times the square of a patch's length is about what the obstacles'
// curvature costs it: an eighth of one over 3 mm. It only steers the divisions.
const bending = 0.04

// patch is a piece of the solid's skin over an arc of the outline, for a range
// of its side's own parameter. Its corners are measured when it is looked at.
type patch struct {
	side   *side
	arc    *arc
	b0, b1 float64
	corner [4]int32 // in certifier.corners; (from, b0), (to, b0), (from, b1), (to, b1)
	lower  float64
	looked bool // lower is the closer bound
	flat   bool // the next cut is along the outline's direction, not across it
}

type patches []patch

func (h patches) Len() int           { return len(h) }
func (h patches) Less(i, j int) bool { return h[i].lower < h[j].lower }
func (h patches) Swap(i, j int)      { h[i], h[j] = h[j], h[i] }
func (h *patches) Push(x any)        { *h = append(*h, x.(patch)) }
func (h *patches) Pop() any {
	old := *h
	c := old[len(old)-1]
	*h = old[:len(old)-1]
	return c
}

// certifier is the state of one certification.
type certifier struct {
	field    *field.Field
	near     *field.Vicinity
	pose     poses.Pose
	local    []geometry.Vec3
	measured []bool
	corners  []field.Corner
	res      Result
}

// Whole bounds the clearance of a pose from below by dividing the skin into
// patches: every patch lies within its sag of the surface spanned bilinearly by
// its four corners, and field.Vicinity.Over bounds the clearance of that. The
// patch that may keep least is divided until it is within the resolution of a
// clearance that was met, stands above enough, or a clearance below 0 was met.
// start is a point of the skin, in the solid's own axes, where little clearance is
// expected: knowing one spares most patches a closer look.
//
// Inside the skin no obstacle can hide: each part is in one piece, so the point of
// it that is looked at would have to be inside too.
func Whole(f *field.Field, c solid.Cabochon, pose poses.Pose, start geometry.Vec3, enough, resolution float64) Result {
	least := f.Lower(pose.Place(start), math.Inf(1))
	z := newCertifier(f, c, pose, start, func(at geometry.Vec3, radius float64) *field.Vicinity {
		return f.Around(at, radius, least)
	})
	z.res.Least = min(z.res.Least, least)
	z.run(c, enough, resolution, 0)
	for k := 1; k < f.Obstacles(); k++ {
		z.holding(c, k)
	}
	return z.res
}

// Only is certify for one obstacle, whatever the sign of its clearance; it
// stops once that is above enough.
func Only(f *field.Field, obstacle int, c solid.Cabochon, pose poses.Pose, enough float64) Result {
	z := newCertifier(f, c, pose, geometry.Vec3{}, func(at geometry.Vec3, radius float64) *field.Vicinity {
		return f.AroundOnly(obstacle, at, radius, enough)
	})
	if z.near.Empty() {
		return Result{Lower: enough, Least: math.Inf(1)}
	}
	z.run(c, enough, Resolution, math.Inf(-1))
	if obstacle != field.Skin {
		z.holding(c, obstacle)
	}
	return z.res
}

func newCertifier(
	f *field.Field, c solid.Cabochon, pose poses.Pose, start geometry.Vec3,
	around func(geometry.Vec3, float64) *field.Vicinity,
) *certifier {
	z := &certifier{field: f, pose: pose}
	mid := geometry.Vec3{Z: (c.Wall + c.Dome - c.BackDepth()) / 2}
	z.near = around(pose.Place(mid), math.Hypot(reachOf(c), c.Height()/2))
	at := z.near.Corner(pose.Place(start), math.Inf(1))
	z.res = Result{Least: z.near.Least(&at), Worst: start}
	return z
}

// run divides patches until the bound is settled, or a clearance below floor was met.
func (z *certifier) run(c solid.Cabochon, enough, resolution, floor float64) {
	parts := sides(c)
	queue := z.cover(&c, parts)
	// Forty thousand is far beyond what any pose of a real stone needs and only keeps
	// a degenerate one from running on.
	for n := 0; n < 40000 && z.res.Least >= floor; n++ {
		if low := queue[0].lower; low >= z.res.Least-resolution || low >= enough {
			break
		}
		z.step(&queue)
	}
	z.res.Lower = min(queue[0].lower, z.res.Least)
}

// step has a closer look at the patch that may keep least, or divides it where that was
// done.
func (z *certifier) step(queue *patches) {
	p := &(*queue)[0]
	if !p.looked {
		z.look(p)
		heap.Fix(queue, 0)
		return
	}
	a, b := z.divide(*p)
	*p = a
	z.look(p)
	heap.Fix(queue, 0)
	z.look(&b)
	heap.Push(queue, b)
}

// holding notes whether the solid holds a part of an obstacle whole.
func (z *certifier) holding(c solid.Cabochon, obstacle int) {
	for _, at := range z.field.Witness(obstacle) {
		if holds(c, z.pose.Local(at)) {
			z.res.Lower = min(z.res.Lower, -1e-3)
			z.res.Least = min(z.res.Least, -1e-3)
		}
	}
}

// reachOf returns how far the outline goes from its origin.
func reachOf(c solid.Cabochon) float64 {
	lo, hi := c.Outline.Extent()
	return math.Hypot(max(-lo.X, hi.X), max(-lo.Y, hi.Y))
}

// cover makes the first patches, each with a bound from the coarse grid, which
// settles many without a look.
func (z *certifier) cover(c *solid.Cabochon, parts []side) patches {
	directions := directionsOf(*c)
	n := len(directions) - 1
	arcs := make([]*arc, n)
	for k := range arcs {
		arcs[k] = newArc(&c.Outline, directions[k], directions[k+1])
	}
	var queue patches
	for i := range parts {
		s := &parts[i]
		first := int32(len(z.local))
		for b := 0; b <= s.cuts; b++ {
			for k := range arcs {
				z.point(s.at(arcs[k].at[0], float64(b)/float64(s.cuts)))
			}
		}
		for b := range s.cuts {
			for k, a := range arcs {
				row, next := first+int32(b*n), int32((k+1)%n)
				p := patch{side: s, arc: a, b0: float64(b) / float64(s.cuts), b1: float64(b+1) / float64(s.cuts)}
				p.corner = [4]int32{row + int32(k), row + next, row + int32(n+k), row + int32(n) + next}
				middle, radius := z.ball(&p)
				along, across := s.sag(a, p.b0, p.b1)
				p.lower = known(z.near.AtLeast(z.pose.Place(middle)) - radius - along - across)
				queue = append(queue, p)
			}
		}
	}
	heap.Init(&queue)
	return queue
}

// point adds a point of the skin, not measured yet.
func (z *certifier) point(at geometry.Vec3) int32 {
	z.local = append(z.local, at)
	z.measured = append(z.measured, false)
	z.corners = append(z.corners, field.Corner{})
	return int32(len(z.local) - 1)
}

// ball returns the middle of a patch's corners and how far they are from it.
func (z *certifier) ball(p *patch) (middle geometry.Vec3, radius float64) {
	for _, k := range p.corner {
		middle = middle.Add(z.local[k])
	}
	middle = middle.Scale(0.25)
	for _, k := range p.corner {
		v := z.local[k].Sub(middle)
		radius = max(radius, v.Dot(v))
	}
	return middle, math.Sqrt(radius)
}

// look measures a patch's corners and bounds the patch by them.
func (z *certifier) look(p *patch) {
	_, radius := z.ball(p)
	along, across := p.side.sag(p.arc, p.b0, p.b1)
	sag := along + across
	var corners [4]*field.Corner
	for i, k := range p.corner {
		if !z.measured[k] {
			// What is further than this never decides, for this patch or a part of it.
			z.corners[k] = z.near.Corner(z.pose.Place(z.local[k]), z.res.Least+2*radius+sag)
			z.measured[k] = true
			if d := z.near.Least(&z.corners[k]); d < z.res.Least {
				z.res.Least, z.res.Worst = d, z.local[k]
			}
		}
		corners[i] = &z.corners[k]
	}
	p.lower = max(p.lower, known(z.near.Over(corners[:], radius, sag)))
	p.looked = true
	v := z.local[p.corner[1]].Sub(z.local[p.corner[0]])
	w := z.local[p.corner[2]].Sub(z.local[p.corner[0]])
	p.flat = along+bending*v.Dot(v) > across+bending*w.Dot(w)
}

// known is a bound, or none where arithmetic gave no number: the heap would not
// keep its order with one in it, and a patch be forgotten.
func known(bound float64) float64 {
	if math.IsNaN(bound) {
		return math.Inf(-1)
	}
	return bound
}

// divide halves a patch, across the direction that it strays most along.
func (z *certifier) divide(p patch) (patch, patch) {
	a, b := p, p
	a.looked, b.looked = false, false
	if p.flat {
		a.arc, b.arc = p.arc.halves()
		m0, m1 := z.point(p.side.at(p.arc.at[2], p.b0)), z.point(p.side.at(p.arc.at[2], p.b1))
		a.corner[1], a.corner[3] = m0, m1
		b.corner[0], b.corner[2] = m0, m1
		return a, b
	}
	mid := (p.b0 + p.b1) / 2
	m0, m1 := z.point(p.side.at(p.arc.at[0], mid)), z.point(p.side.at(p.arc.at[4], mid))
	a.b1, b.b0 = mid, mid
	a.corner[2], a.corner[3] = m0, m1
	b.corner[0], b.corner[1] = m0, m1
	return a, b
}

// holds tells whether a point in the solid's own axes lies inside it.
func holds(c solid.Cabochon, p geometry.Vec3) bool {
	rho := c.Outline.Gauge(p.X, p.Y)
	return rho < 1 && p.Z < c.Upper(rho) && p.Z > c.Lower(rho)
}

// Limits names the obstacles whose clearance from the posed solid is within the
// tolerance of the least, each certified by itself, in the field's order.
func Limits(f *field.Field, names []string, c solid.Cabochon, pose poses.Pose, least, tolerance float64) []string {
	var out []string
	clearances := make([]float64, len(names))
	for k := range names {
		clearances[k] = Only(f, k, c, pose, least+tolerance+Resolution).Least
		least = min(least, clearances[k])
	}
	for k, d := range clearances {
		if d <= least+tolerance {
			out = append(out, names[k])
		}
	}
	return out
}
