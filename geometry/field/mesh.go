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

// distance returns the distance from p to the triangle (C. Ericson, Real-Time
// Collision Detection, 2005, section 5.1.5: the Voronoi regions in turn).
func (t *triangle) distance(p geometry.Vec3) float64 {
	ab, ac, ap := t.b.Sub(t.a), t.c.Sub(t.a), p.Sub(t.a)
	d1, d2 := ab.Dot(ap), ac.Dot(ap)
	if d1 <= 0 && d2 <= 0 {
		return ap.Norm()
	}
	bp := p.Sub(t.b)
	d3, d4 := ab.Dot(bp), ac.Dot(bp)
	if d3 >= 0 && d4 <= d3 {
		return bp.Norm()
	}
	vc := d1*d4 - d3*d2
	if vc <= 0 && d1 >= 0 && d3 <= 0 {
		return ap.Sub(ab.Scale(d1 / (d1 - d3))).Norm()
	}
	cp := p.Sub(t.c)
	d5, d6 := ab.Dot(cp), ac.Dot(cp)
	if d6 >= 0 && d5 <= d6 {
		return cp.Norm()
	}
	vb := d5*d2 - d1*d6
	if vb <= 0 && d2 >= 0 && d6 <= 0 {
		return ap.Sub(ac.Scale(d2 / (d2 - d6))).Norm()
	}
	va := d3*d6 - d5*d4
	if va <= 0 && d4-d3 >= 0 && d5-d6 >= 0 {
		w := (d4 - d3) / ((d4 - d3) + (d5 - d6))
		return bp.Sub(t.c.Sub(t.b).Scale(w)).Norm()
	}
	den := va + vb + vc
	if den <= 0 { // a sliver without area: its edges were tried above
		return min(ap.Norm(), min(bp.Norm(), cp.Norm()))
	}
	q := ap.Sub(ab.Scale(vb / den)).Sub(ac.Scale(vc / den))
	return q.Norm()
}
