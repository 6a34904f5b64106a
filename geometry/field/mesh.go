package field

import (
	"math"

	"cabwright/geometry"
)

// mesh is a set of triangles that an obstacle's skin stays within error of:
// what exact distances to sheets and prisms are taken from.
type mesh struct {
	tri    []triangle
	error  float64
	lo, hi geometry.Vec3 // bounding box
}

type triangle struct {
	a, b, c geometry.Vec3
	mid     geometry.Vec3
	radius  float64
}

func (m *mesh) add(a, b, c geometry.Vec3) {
	t := triangle{a: a, b: b, c: c, mid: a.Add(b).Add(c).Scale(1.0 / 3)}
	for _, v := range [3]geometry.Vec3{a, b, c} {
		t.radius = max(t.radius, v.Sub(t.mid).Norm())
		if len(m.tri) == 0 && v == a {
			m.lo, m.hi = a, a
		}
		m.lo = geometry.Vec3{X: min(m.lo.X, v.X), Y: min(m.lo.Y, v.Y), Z: min(m.lo.Z, v.Z)}
		m.hi = geometry.Vec3{X: max(m.hi.X, v.X), Y: max(m.hi.Y, v.Y), Z: max(m.hi.Z, v.Z)}
	}
	m.tri = append(m.tri, t)
}

// quad adds the two triangles of the four-sided patch a b c d.
func (m *mesh) quad(a, b, c, d geometry.Vec3) {
	m.add(a, b, c)
	m.add(a, c, d)
}

// toBox returns the distance from p to the mesh's bounding box.
func (m *mesh) toBox(p geometry.Vec3) float64 {
	dx := max(0, max(m.lo.X-p.X, p.X-m.hi.X))
	dy := max(0, max(m.lo.Y-p.Y, p.Y-m.hi.Y))
	dz := max(0, max(m.lo.Z-p.Z, p.Z-m.hi.Z))
	return math.Sqrt(dx*dx + dy*dy + dz*dz)
}

// distance returns a lower bound on the distance from p to the skin, exact to
// within twice the mesh's error where it is below enough.
func (m *mesh) distance(p geometry.Vec3, enough float64) float64 {
	if d := m.toBox(p) - m.error; d >= enough {
		return d
	}
	best := math.Inf(1)
	for i := range m.tri {
		t := &m.tri[i]
		if v := p.Sub(t.mid); v.Dot(v) < (best+t.radius)*(best+t.radius) {
			best = min(best, t.distance(p))
		}
	}
	return best - m.error
}

// sharpen returns the row of the ball about the mesh's point nearest to p where
// that is the better one: it is within a few micrometres at p itself, but is only
// worth its price for points that hardly move. The obstacle's own nearest point
// lies within the mesh's error of the mesh's.
func (m *mesh) sharpen(r Row, p geometry.Vec3, reach Reach, allowance float64) Row {
	if reach.Full() > narrowReach || r.Value+r.Slack < 0 {
		return r
	}
	if k, ok := m.nearest(p, r.Value+r.Slack+allowance); ok {
		b := ball(p, k, reach, allowance)
		b.Slack += m.error
		if b.Value+b.Slack < r.Value+r.Slack {
			return b
		}
	}
	return r
}

// nearest returns the point of the mesh nearest to p, if it is nearer than limit.
func (m *mesh) nearest(p geometry.Vec3, limit float64) (at geometry.Vec3, ok bool) {
	best := limit
	for i := range m.tri {
		t := &m.tri[i]
		if v := p.Sub(t.mid); v.Dot(v) < (best+t.radius)*(best+t.radius) {
			q := t.nearest(p)
			if d := p.Sub(q).Norm(); d < best {
				best, at, ok = d, q, true
			}
		}
	}
	return at, ok
}

// distance returns the distance from p to the triangle.
func (t *triangle) distance(p geometry.Vec3) float64 { return p.Sub(t.nearest(p)).Norm() }

// nearest returns the triangle's point nearest to p (C. Ericson, Real-Time
// Collision Detection, 2005, section 5.1.5: the Voronoi regions in turn).
func (t *triangle) nearest(p geometry.Vec3) geometry.Vec3 {
	ab, ac, ap := t.b.Sub(t.a), t.c.Sub(t.a), p.Sub(t.a)
	d1, d2 := ab.Dot(ap), ac.Dot(ap)
	if d1 <= 0 && d2 <= 0 {
		return t.a
	}
	bp := p.Sub(t.b)
	d3, d4 := ab.Dot(bp), ac.Dot(bp)
	if d3 >= 0 && d4 <= d3 {
		return t.b
	}
	vc := d1*d4 - d3*d2
	if vc <= 0 && d1 >= 0 && d3 <= 0 {
		return t.a.Add(ab.Scale(d1 / (d1 - d3)))
	}
	cp := p.Sub(t.c)
	d5, d6 := ab.Dot(cp), ac.Dot(cp)
	if d6 >= 0 && d5 <= d6 {
		return t.c
	}
	vb := d5*d2 - d1*d6
	if vb <= 0 && d2 >= 0 && d6 <= 0 {
		return t.a.Add(ac.Scale(d2 / (d2 - d6)))
	}
	va := d3*d6 - d5*d4
	if va <= 0 && d4-d3 >= 0 && d5-d6 >= 0 {
		w := (d4 - d3) / ((d4 - d3) + (d5 - d6))
		return t.b.Add(t.c.Sub(t.b).Scale(w))
	}
	den := va + vb + vc
	if den <= 0 { // a sliver without area: one of its corners is as good
		return t.a
	}
	return t.a.Add(ab.Scale(vb / den)).Add(ac.Scale(vc / den))
}
