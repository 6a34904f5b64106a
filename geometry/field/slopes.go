package field

import (
	"math"

	"cabwright/geometry"
)

// nearest returns the point of the facets drawn nearest to p.
func (s *sheet) nearest(p geometry.Vec3) geometry.Vec3 {
	best, at := math.Inf(1), geometry.Vec3{}
	for i := range s.drawn {
		// Off the plane, and in it off the facet's end, is no nearer than this.
		f := &s.drawn[i]
		v := p.Sub(f.k)
		h, c := f.n.Dot(v), f.d1.Dot(v)
		o := max(0, max(f.lo1-c, c-f.hi1)) * f.w1
		if h*h+o*o >= best {
			continue
		}
		q := f.nearest(p)
		if w := p.Sub(q); w.Dot(w) < best {
			best, at = w.Dot(w), q
		}
	}
	return at
}

// slope returns the signed distance in plan, positive inside, and its gradient.
func (r *ring) slope(p geometry.Vec2) (float64, geometry.Vec2) {
	best, at := math.Inf(1), geometry.Vec2{}
	r.candidates(p, func(i int) {
		e := &r.edges[i]
		v := p.Sub(e.a)
		v = v.Sub(e.d.Scale(max(0, min(e.length, e.d.Dot(v)))))
		if d := v.Dot(v); d < best {
			best, at = d, v
			if d == 0 {
				at = e.n.Scale(1e-300)
			}
		}
	})
	d := math.Sqrt(best)
	g := at.Scale(1 / max(d, 1e-300))
	if geometry.InPolygon(r.corners, p) {
		return d, g
	}
	return -d, g.Scale(-1)
}

// slope returns the distance to the prism, negative inside, and its gradient.
func (p *prism) slope(at geometry.Vec3) (float64, geometry.Vec3) {
	d, g := p.ring.slope(at.XY())
	plan, away := -d, geometry.Vec3{X: -g.X, Y: -g.Y}
	up, rise := p.above(at, plan, g)
	switch {
	case plan <= 0 && plan > up, plan > 0 && up <= 0:
		return plan, away
	case plan <= 0:
		return up, rise
	}
	d = math.Hypot(plan, up)
	return d, away.Scale(plan / d).Add(rise.Scale(up / d))
}

// above returns how far a point lies off the prism's end, along the way to it, and
// the direction away. Beside the prism, by plan against g, that is the end's edge.
func (p *prism) above(at geometry.Vec3, plan float64, g geometry.Vec2) (float64, geometry.Vec3) {
	f := p.floor
	if f == nil {
		if low, high := p.Low-at.Z, at.Z-p.High; low > high {
			return low, geometry.Vec3{Z: -1}
		} else {
			return high, geometry.Vec3{Z: 1}
		}
	}
	if plan <= 0 {
		t := f.foot(f.flip(at), -p.depth)
		return t.depth, f.flip(t.n).Scale(-1)
	}
	z, slope := f.height(at.X+plan*g.X, at.Y+plan*g.Y)
	along := geometry.Vec2{X: -g.Y, Y: g.X}
	run := slope.Dot(along) // of the edge, which the way meets squarely
	c := 1 / math.Sqrt(1+run*run)
	away := geometry.Vec3{X: run * along.X * c, Y: run * along.Y * c, Z: -c}
	return (z - p.depth - f.sign*at.Z) * c, f.flip(away)
}

// height returns the surface over (x, y) as the nearest node's tangent plane has
// it, with that plane's slope.
func (s *surface) height(x, y float64) (float64, geometry.Vec2) {
	i, j := s.at(x, y)
	n := &s.nodes[j*s.nx+i]
	slope := geometry.Vec2{X: n.zx, Y: n.zy}
	return n.z + n.zx*(x-s.origin.X-float64(i)*s.step) + n.zy*(y-s.origin.Y-float64(j)*s.step), slope
}
