package field

import (
	"math"

	"cabwright/geometry"
)

// hollow is a cone that lies wholly above a surface, its apex at the bottom of a
// dent: a convex part of what is outside the body, to which the distance is convex, as
// rows for a span need it. Beside a dent no plane over the surface tells anything, and
// the tangent plane at its bottom only while a point hardly moves.
type hollow struct {
	apex geometry.Vec3 // in the surface's own sense of up
	axis geometry.Vec3 // unit vector out of the body
	s    float64       // the cone is what lies at least s times as far along the axis as beside it
	inv  float64       // 1 / sqrt(1 + s^2)
}

// hollows is those of a surface, by the blocks of its table.
type hollows struct {
	all    []hollow
	nx, ny int
	of     []int // by block: which it has, or -1
}

// steepest is the s up to which a cone is of use: it is a needle above that.
const steepest = 5

// hollowNodes is how many nodes wide the blocks are that have one hollow each at most.
const hollowNodes = 8

// newHollows looks in each block of the table for the node that is lowest against the
// plane around it, where the surface turns up, and for the widest cone above it.
func newHollows(s *surface) hollows {
	out := hollows{nx: (s.nx + hollowNodes - 1) / hollowNodes, ny: (s.ny + hollowNodes - 1) / hollowNodes}
	for j := 0; j < s.ny; j += hollowNodes {
		for i := 0; i < s.nx; i += hollowNodes {
			u := s.plane(min(i+hollowNodes/2, s.nx-1), min(j+hollowNodes/2, s.ny-1), hollowNodes)
			out.of = append(out.of, -1)
			best, at := math.Inf(1), -1
			for b := j; b < min(j+hollowNodes, s.ny); b++ {
				for a := i; a < min(i+hollowNodes, s.nx); a++ {
					k := b*s.nx + a
					if z := s.nodes[k].z - (u.gx*float64(a)+u.gy*float64(b))*s.step; z < best {
						best, at = z, k
					}
				}
			}
			if at < 0 || s.rise.least[0][at] < leastHollow {
				continue
			}
			if h, ok := s.hollow(at%s.nx, at/s.nx, u.gx, u.gy); ok {
				out.of[len(out.of)-1] = len(out.all)
				out.all = append(out.all, h)
			}
		}
	}
	return out
}

// leastHollow is the rise, 1/mm, below which a surface is so flat that its tangent
// planes serve: over half a millimetre it leaves them by a fortieth.
const leastHollow = 0.2

// hollow fits the cone with its apex at node (i, j) and its axis square to the plane of
// the given slope. No place of the surface may be inside: for each node's square, and
// nearer to the apex for ever smaller ones, the most that it can stand along the axis
// over the least that it can be beside it bounds s from below.
func (s *surface) hollow(i, j int, gx, gy float64) (hollow, bool) {
	n := s.nodes[j*s.nx+i]
	c := 1 / math.Sqrt(1+gx*gx+gy*gy)
	h := hollow{
		apex: geometry.Vec3{X: s.origin.X + float64(i)*s.step, Y: s.origin.Y + float64(j)*s.step, Z: n.z},
		axis: geometry.Vec3{X: -gx * c, Y: -gy * c, Z: c},
	}
	near := 2.5 * s.step
	for b := range s.ny {
		for a := range s.nx {
			x, y := s.origin.X+float64(a)*s.step, s.origin.Y+float64(b)*s.step
			if math.Hypot(x-h.apex.X, y-h.apex.Y) <= near {
				continue
			}
			k := b*s.nx + a
			h.widen(x, y, s.nodes[k], max(0, float64(s.rise.least[0][k])), s.step/2)
			if h.s > steepest {
				return h, false
			}
		}
	}
	ok := s.narrow(&h, n, gx, gy, near+s.step/2)
	h.inv = 1 / math.Sqrt(1+h.s*h.s)
	return h, ok && h.s <= steepest
}

// narrow makes a cone narrow enough for what is within size of its apex, in plan: in
// ever finer squares, and at last by the second derivatives at the apex. n is the
// surface there, (gx, gy) the slope of the plane square to the axis.
func (s *surface) narrow(h *hollow, n node, gx, gy, size float64) bool {
	for step := s.step / 4; ; step /= 4 {
		inner := 2.5 * step
		m := s.bendWithin(h.apex.X, h.apex.Y, size)
		g := math.Hypot(n.zx-gx, n.zy-gy)
		if a := (g + m*size/2) * h.axis.Z; a < 0.4 || step < 0.004 {
			if a >= 0.98 {
				return false
			}
			h.s = max(h.s, a/math.Sqrt(1-a*a))
			return true
		}
		for y := h.apex.Y - size; y <= h.apex.Y+size; y += step {
			for x := h.apex.X - size; x <= h.apex.X+size; x += step {
				if math.Hypot(x-h.apex.X, y-h.apex.Y) > inner {
					at, m := s.fine(x, y, step*math.Sqrt2/2)
					h.widen(x, y, at, m, step/2)
				}
			}
		}
		if h.s > steepest {
			return false
		}
		size = inner + step/2
	}
}

// fine is a node of the surface itself, with the fastest that it turns up within reach.
func (s *surface) fine(x, y, reach float64) (node, float64) {
	c, change := s.plate.Curvature(x, y, reach)
	mean := s.sign * (c.ZXX + c.ZYY) / 2
	dev := math.Hypot((c.ZXX-c.ZYY)/2, c.ZXY)
	return node{s.sign * c.Z, s.sign * c.ZX, s.sign * c.ZY}, max(0, mean+dev+change)
}

// bendWithin returns the fastest that the surface turns up within a distance of a spot.
func (s *surface) bendWithin(x, y, reach float64) float64 {
	_, m := s.fine(x, y, reach)
	return m
}

// widen makes the cone narrow enough to stay above the surface over the square of half
// width r about (x, y), which rises at most with m over its tangent plane.
func (h *hollow) widen(x, y float64, n node, m, r float64) {
	v := geometry.Vec3{X: x, Y: y, Z: n.z}.Sub(h.apex)
	along := h.axis.Dot(v)
	beside := math.Sqrt(max(0, v.Dot(v)-along*along))
	gx, gy := -h.axis.X/h.axis.Z, -h.axis.Y/h.axis.Z
	along += ((math.Abs(n.zx-gx)+math.Abs(n.zy-gy))*r + m*r*r) * h.axis.Z
	if along <= 0 {
		return
	}
	// How far a place of the square can be from its middle: in plan, and up or down.
	slope := math.Hypot(n.zx, n.zy)
	beside -= r*math.Sqrt2*math.Sqrt(1+slope*slope) + m*r*r
	if beside <= 0 {
		h.s = math.Inf(1)
		return
	}
	h.s = max(h.s, along/beside)
}

// distance is the signed distance from q, in the surface's own sense of up, to the
// cone, negative inside: a convex function.
func (h *hollow) distance(q geometry.Vec3) float64 {
	v := q.Sub(h.apex)
	a := h.axis.Dot(v)
	b := math.Sqrt(max(0, v.Dot(v)-a*a))
	if b+h.s*a <= 0 {
		return math.Sqrt(a*a + b*b) // the apex is nearest
	}
	return (h.s*b - a) * h.inv
}

// hollowRow bounds by the hollow that is nearest to the middle of the span, of those in
// the block it is over and next to that.
func (s *surface) hollowRow(p geometry.Vec3, span *Span, limit float64) (Row, bool) {
	mid := s.flip(p.Add(span.Shift))
	best, at := limit, -1
	i, j := s.at(mid.X, mid.Y)
	i, j = i/hollowNodes, j/hollowNodes
	for b := max(0, j-1); b <= min(s.hollows.ny-1, j+1); b++ {
		for a := max(0, i-1); a <= min(s.hollows.nx-1, i+1); a++ {
			k := s.hollows.of[b*s.hollows.nx+a]
			if k < 0 {
				continue
			}
			if d := s.hollows.all[k].distance(mid); d < best {
				best, at = d, k
			}
		}
	}
	if at < 0 {
		return Row{}, false
	}
	h := &s.hollows.all[at]
	return cornerRow(p, span, 0, func(q geometry.Vec3) float64 { return h.distance(s.flip(q)) }), true
}
