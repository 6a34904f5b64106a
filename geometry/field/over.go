package field

import (
	"math"

	"cabwright/geometry"
)

// Vicinity is the outside of the body and those obstacles that can matter within
// a ball.
type Vicinity struct {
	field  *Field
	sheets []*sheet
	prisms []*prism
}

// Corner is a point of a patch with its distances, from below, to the top, the
// base, the sides of the body and each obstacle of a vicinity.
type Corner struct {
	At       geometry.Vec3
	distance []float64
}

// Around returns the vicinity of a ball, without the obstacles whose clearance
// is at least limit all over it.
func (f *Field) Around(centre geometry.Vec3, radius, limit float64) *Vicinity {
	v := &Vicinity{field: f}
	for _, s := range f.sheets {
		if s.mesh.toBox(centre)-s.mesh.error-s.allowance-radius < limit {
			v.sheets = append(v.sheets, s)
		}
	}
	for _, q := range f.prisms {
		if q.mesh.toBox(centre)-q.mesh.error-q.Allowance-radius < limit {
			v.prisms = append(v.prisms, q)
		}
	}
	return v
}

// Corner measures a point. Clearances of enough and more may come out anywhere
// between enough and the truth.
func (v *Vicinity) Corner(p geometry.Vec3, enough float64) Corner {
	f, n := v.field, 3+len(v.sheets)+len(v.prisms)
	c := Corner{At: p, distance: make([]float64, 0, n)}
	skin := f.body.Skin
	c.distance = append(c.distance, f.top.lower(p, 0, enough+skin), f.base.lower(p, 0, enough+skin), f.ring.lower(p.XY(), enough+skin))
	for _, s := range v.sheets {
		c.distance = append(c.distance, s.lower(p, enough)+s.allowance)
	}
	for _, q := range v.prisms {
		c.distance = append(c.distance, q.lower(p, enough)+q.Allowance)
	}
	return c
}

// Least returns the least clearance at a corner.
func (v *Vicinity) Least(c *Corner) float64 {
	d := min(c.distance[0], c.distance[1], c.distance[2]) - v.field.body.Skin
	k := 3
	for _, s := range v.sheets {
		d = min(d, c.distance[k]-s.allowance)
		k++
	}
	for _, q := range v.prisms {
		d = min(d, c.distance[k]-q.Allowance)
		k++
	}
	return d
}

// Over returns a lower bound on the clearance of every point within sag of the
// convex hull of the corners, all of which lie within radius of one point.
//
// The distance d to any set is semiconcave: at a convex combination of the
// corners it is at least the same combination of the corners' distances less
// (C/2) radius^2, with C = 1/d (Cannarsa and Sinestrari, Semiconcave Functions,
// 2004, section 2.2). For the distance to a surface that rises with second
// derivatives of at most M, C = M does (a plane costs nothing), and a convex
// polygon's outside costs nothing either.
func (v *Vicinity) Over(corners []*Corner, radius, sag float64) float64 {
	f := v.field
	lower := math.Inf(1)
	k := -1
	next := func() float64 {
		k++
		d := math.Inf(1)
		for _, c := range corners {
			d = min(d, c.distance[k])
		}
		return d
	}
	add := func(d, bend, allowance float64) {
		cost := bend * radius * radius / 2
		if math.IsNaN(cost) || cost > 2*radius {
			cost = 2 * radius // 1-Lipschitz
		}
		lower = min(lower, d-allowance-cost-sag)
	}
	for _, s := range [2]*surface{f.top, f.base} {
		d := next()
		if d-2*radius-sag-f.body.Skin >= lower {
			continue
		}
		// No point of the patch is further from the surface than far, nor is in plan
		// what it is nearest to.
		p := corners[0].At
		i, j := s.at(p.X, p.Y)
		r, _ := s.row(p, 0, Reach{}, 0)
		far := max(0, r.Value+r.Slack) + 2*radius
		m := max(0, s.rise.within(i, j, 2*radius+far*min(1, s.steep)+s.step))
		if d <= 0 {
			m = math.Inf(1)
		}
		add(d, m, f.body.Skin)
	}
	ring, bend := next(), 0.0
	if !f.ring.convex {
		bend = inverse(ring - radius)
	}
	add(ring, bend, f.body.Skin)
	for _, s := range v.sheets {
		d := next()
		add(d, inverse(d-radius), s.allowance)
	}
	for _, q := range v.prisms {
		d := next()
		add(d, inverse(d-radius), q.Allowance)
	}
	return lower
}

func inverse(d float64) float64 {
	if d <= 0 {
		return math.Inf(1)
	}
	return 1 / d
}
