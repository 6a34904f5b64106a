package drawing

import (
	"math"

	"cabwright/geometry"
	"cabwright/planner"
)

// obstacles are what a finished stone must keep away from, laid out for asking
// at many points.
type obstacles struct {
	rough   *planner.Rough
	stone   planner.Stone
	facets  []facet
	pockets []hollow
}

// facet is a triangle of a crack's sheet and the distance to be kept from it.
type facet struct {
	a, b, c geometry.Vec3
	keep    float64
}

// hollow is a pocket and its heights where the rough is as in its middle.
type hollow struct {
	planner.Pocket
	low, high float64
}

func newObstacles(r *planner.Rough, s planner.Stone) *obstacles {
	o := &obstacles{rough: r, stone: s}
	for _, k := range s.Cracks {
		keep := s.Allowances.Crack
		if k.Sealed {
			keep = s.Allowances.SealedCrack
		}
		path, depth := extended(k), reach(r, k)
		for i := 1; i < len(path); i++ {
			a, b := sheet(r, k, path[i-1], 0), sheet(r, k, path[i], 0)
			c, d := sheet(r, k, path[i], depth), sheet(r, k, path[i-1], depth)
			o.facets = append(o.facets, facet{a, b, c, keep}, facet{a, c, d, keep})
		}
	}
	for _, p := range s.Pockets {
		m := middle(p.Outline)
		low, high := pocketHeights(p, likely, r.Base(m.X, m.Y), r.Top(m.X, m.Y))
		// One that opens on a face reaches out of it.
		if p.Face == planner.Top || p.Face == planner.Through {
			high = math.Inf(1)
		}
		if p.Face == planner.Base || p.Face == planner.Through {
			low = math.Inf(-1)
		}
		o.pockets = append(o.pockets, hollow{p, low, high})
	}
	return o
}

// breach returns by how much, in mm, a point lies nearer to something than the
// allowances let it; 0 or less where it keeps them all. It is for showing, not
// for deciding: a face counts as level in its own slope.
func (o *obstacles) breach(p geometry.Vec3) float64 {
	a := o.stone.Allowances
	gap := math.Min(underTop(o.rough, p), overBase(o.rough, p))
	gap = math.Min(gap, inset(o.stone.Outline, p.XY()))
	worst := a.Skin - gap
	for _, f := range o.facets {
		worst = math.Max(worst, f.keep-toTriangle(p, f.a, f.b, f.c))
	}
	for _, k := range o.pockets {
		across := math.Max(0, -inset(k.Outline, p.XY()))
		up := math.Max(0, math.Max(k.low-p.Z, p.Z-k.high))
		worst = math.Max(worst, a.Pocket-math.Hypot(across, up))
	}
	return worst
}

// inset returns how far inside a polygon a point lies, negative outside.
func inset(polygon []geometry.Vec2, p geometry.Vec2) float64 {
	d := math.Inf(1)
	for i, q := range polygon {
		d = math.Min(d, geometry.ToSegment(p, q, polygon[(i+1)%len(polygon)]))
	}
	if !geometry.InPolygon(polygon, p) {
		return -d
	}
	return d
}

// toTriangle returns the distance from p to a triangle (Ericson, "Real-Time
// Collision Detection", 2005, 5.1.5: by the regions of its corners and sides).
func toTriangle(p, a, b, c geometry.Vec3) float64 {
	ab, ac, ap := b.Sub(a), c.Sub(a), p.Sub(a)
	d1, d2 := ab.Dot(ap), ac.Dot(ap)
	if d1 <= 0 && d2 <= 0 {
		return ap.Norm()
	}
	bp := p.Sub(b)
	d3, d4 := ab.Dot(bp), ac.Dot(bp)
	if d3 >= 0 && d4 <= d3 {
		return bp.Norm()
	}
	vc := d1*d4 - d3*d2
	if vc <= 0 && d1 >= 0 && d3 <= 0 {
		return ap.Sub(ab.Scale(d1 / (d1 - d3))).Norm()
	}
	cp := p.Sub(c)
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
		return bp.Sub(c.Sub(b).Scale((d4 - d3) / ((d4 - d3) + (d5 - d6)))).Norm()
	}
	n := ab.Cross(ac)
	if n.Norm() == 0 {
		return ap.Norm() // a crack of no depth
	}
	return math.Abs(ap.Dot(unit(n)))
}
