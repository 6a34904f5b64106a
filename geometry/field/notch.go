package field

import (
	"math"

	"cabwright/geometry"
)

// notch is a convex part of what is outside the body, where its polygon bends
// inwards: the distance to it is convex, as rows for a span need it.
type notch struct {
	part *ring // convex; its inside lies outside the body
}

// How far a notch's first and last edges are carried on past their ends, and how
// far out it goes, is tried from large to small, mm, until it stays clear of the
// body.
var (
	notchReach = [...]float64{40, 12, 4, 1, 0}
	notchDepth = [...]float64{20, 5, 1, 0.2, 0}
)

// mostNotched is the number of corners up to which notches are looked for: every
// one is held against every edge.
const mostNotched = 150

// addNotches finds the notches of a polygon that is not convex: runs of edges
// whose corners between them all bend inwards, by less than a right angle either
// way from their chord. It notes for each edge the notch it is part of.
func (r *ring) addNotches() {
	if r.convex || len(r.edges) > mostNotched {
		return
	}
	r.notchOf = make([]int32, len(r.edges))
	for i := range r.notchOf {
		r.notchOf[i] = -1
	}
	n := len(r.edges)
	inward := func(k int) bool { return r.edges[k%n].d.Cross(r.edges[(k+1)%n].d) < 0 }
	start := 0
	for start < n && inward(start+n-1) {
		start++ // begin at a corner that bends outwards
	}
	for i := start; i < start+n; {
		j, turned := i, 0.0
		for inward(j) && j+1 < i+n {
			a, b := r.edges[j%n].d, r.edges[(j+1)%n].d
			if turned += math.Atan2(-a.Cross(b), a.Dot(b)); turned > math.Pi/2 {
				break
			}
			j++
		}
		if j > i {
			if part := r.carve(i, j); part != nil {
				for k := i; k <= j; k++ {
					r.notchOf[k%n] = int32(len(r.notches))
				}
				r.notches = append(r.notches, notch{part})
			}
		}
		i = j + 1
	}
}

// carve makes the notch of the edges from i to j, or nil if even the smallest
// runs into the body.
func (r *ring) carve(i, j int) *ring {
	n := len(r.edges)
	first, last := &r.edges[i%n], &r.edges[j%n]
	for _, reach := range notchReach {
		a := first.a.Sub(first.d.Scale(min(reach, -first.lo)))
		b := last.a.Add(last.d.Scale(min(last.length+reach, last.hi)))
		chord := b.Sub(a)
		out := geometry.Vec2{X: chord.Y, Y: -chord.X}.Scale(1 / chord.Norm())
		for _, depth := range notchDepth {
			poly := []geometry.Vec2{b}
			for k := j; k > i; k-- {
				poly = append(poly, r.edges[k%n].a)
			}
			poly = append(poly, a)
			if depth > 0 {
				poly = append(poly, a.Add(out.Scale(depth)), b.Add(out.Scale(depth)))
			}
			part := newRing(poly, geometry.Vec2{}, geometry.Vec2{}, 1)
			if part.convex && geometry.Area(poly) > 1e-9 && r.clearOf(part) {
				return part
			}
		}
	}
	return nil
}

// clearOf tells whether no part of the polygon's edges, cut to a convex part, gets
// inside that part: then all of it is outside the polygon, next to whose edges it
// lies.
func (r *ring) clearOf(part *ring) bool {
	const tiny = 1e-9 // mm
	for i := range r.edges {
		e := &r.edges[i]
		lo, hi := 0.0, e.length
		for k := range part.edges {
			f := &part.edges[k]
			// Depth inside f along e: s + u t, of which at least tiny is kept.
			s, t := f.n.Dot(e.a.Sub(f.a))-tiny, f.n.Dot(e.d)
			switch {
			case math.Abs(t) < 1e-12:
				if s < 0 {
					hi = -1
				}
			case t > 0:
				lo = max(lo, -s/t)
			default:
				hi = min(hi, -s/t)
			}
		}
		if hi > lo {
			return false
		}
	}
	return true
}

// row returns the bound from the notch over a span.
func (c *notch) row(p geometry.Vec3, span *Span, allowance float64) Row {
	if row, ok := c.part.straight(p, span, allowance); ok {
		return row
	}
	return cornerRow(p, span, allowance, func(q geometry.Vec3) float64 { return c.part.outside(q.XY()) })
}
