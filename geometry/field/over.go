package field

import (
	"math"

	"cabwright/geometry"
)

// Vicinity is what can matter within a ball: parts of the outside and obstacles.
type Vicinity struct {
	field *Field
	parts []int // of the field's
}

// Corner is a point of a patch with its clearance, from below, from each part of a
// vicinity.
type Corner struct {
	At        geometry.Vec3
	clearance []float64
}

// Around returns the vicinity of a ball, without what keeps a clearance of at least
// limit all over it.
func (f *Field) Around(centre geometry.Vec3, radius, limit float64) *Vicinity {
	return f.around(centre, radius, limit, func(int) bool { return true })
}

// AroundOnly is Around for one obstacle.
func (f *Field) AroundOnly(obstacle int, centre geometry.Vec3, radius, limit float64) *Vicinity {
	return f.around(centre, radius, limit, func(k int) bool { return k == obstacle })
}

func (f *Field) around(centre geometry.Vec3, radius, limit float64, wanted func(int) bool) *Vicinity {
	v := &Vicinity{field: f}
	of, off := f.parted(centre)
	for k := range f.parts {
		q := &f.parts[k]
		near := k >= len(of) || float64(of[k])-off-radius < limit
		if near && wanted(q.index) && q.apart(centre)-radius < limit {
			v.parts = append(v.parts, k)
		}
	}
	return v
}

// Empty tells whether nothing can matter.
func (v *Vicinity) Empty() bool { return len(v.parts) == 0 }

// Corner measures a point. Clearances of enough and more may come out anywhere
// between enough and the truth.
func (v *Vicinity) Corner(p geometry.Vec3, enough float64) Corner {
	c := Corner{At: p, clearance: make([]float64, len(v.parts))}
	of, off := v.field.parted(p)
	for i, k := range v.parts {
		if k < len(of) && float64(of[k])-off >= enough {
			c.clearance[i] = float64(of[k]) - off
			continue
		}
		c.clearance[i] = v.field.parts[k].lower(p, enough)
	}
	return c
}

// AtLeast returns a cheap lower bound of the clearance at p from the vicinity alone.
func (v *Vicinity) AtLeast(p geometry.Vec3) float64 {
	of, off := v.field.parted(p)
	d := math.Inf(1)
	for _, k := range v.parts {
		if k >= len(of) {
			return math.Inf(-1)
		}
		d = min(d, float64(of[k])-off)
	}
	return d
}

// Least returns the least clearance at a corner.
func (v *Vicinity) Least(c *Corner) float64 {
	d := math.Inf(1)
	for _, e := range c.clearance {
		d = min(d, e)
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
	lower := math.Inf(1)
	for i, k := range v.parts {
		q := &v.field.parts[k]
		d := math.Inf(1)
		for _, c := range corners {
			d = min(d, c.clearance[i])
		}
		// Distances are 1-Lipschitz in any case.
		if d-2*radius-sag >= lower {
			continue
		}
		cost := q.bend(corners[0].At, d+q.keep(), radius) * radius * radius / 2
		if math.IsNaN(cost) || cost > 2*radius {
			cost = 2 * radius
		}
		lower = min(lower, d-cost-sag)
	}
	return lower
}
