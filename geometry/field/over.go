package field

import (
	"math"

	"cabwright/geometry"
)

// Over returns a lower bound on the clearance of every point within sag of the
// convex hull of the corners, all of which lie within radius of one point, and
// the least clearance at the corners themselves.
//
// The distance d to any set is semiconcave: at a convex combination of the
// corners it is at least the same combination of the corners' distances less
// (C/2) radius^2, with C = 1/d (Cannarsa and Sinestrari, Semiconcave Functions,
// 2004, section 2.2). For the distance to a surface that rises with second
// derivatives of at most M, C = M does (a plane costs nothing), and a convex
// polygon's outside costs nothing either.
func (f *Field) Over(corners []geometry.Vec3, radius, sag, enough float64) (lower, least float64) {
	lower, least = math.Inf(1), math.Inf(1)
	skin := f.body.Skin
	cut := enough + 2*radius + sag
	add := func(d, bend, allowance float64) {
		least = min(least, d-allowance)
		cost := bend * radius * radius / 2
		if math.IsNaN(cost) || cost > 2*radius {
			cost = 2 * radius // 1-Lipschitz
		}
		lower = min(lower, d-allowance-cost-sag)
	}
	for _, s := range [2]*surface{f.top, f.base} {
		d := math.Inf(1)
		for _, p := range corners {
			d = min(d, s.lower(p, 0, cut+skin))
		}
		// No point of the patch is further from the surface than far, nor is in plan
		// what it is nearest to.
		i, j := s.at(corners[0].X, corners[0].Y)
		r, _ := s.row(corners[0], 0, Reach{}, 0)
		far := max(0, r.Value+r.Slack) + 2*radius
		m := max(0, s.rise.within(i, j, 2*radius+far*min(1, s.steep)+s.step))
		if d <= 0 {
			m = math.Inf(1)
		}
		add(d, m, skin)
	}
	ring := math.Inf(1)
	for _, p := range corners {
		ring = min(ring, f.ring.lower(p.XY(), cut+skin))
	}
	bend := 0.0
	if !f.ring.convex {
		bend = inverse(ring - radius)
	}
	add(ring, bend, skin)
	for _, s := range f.sheets {
		d := math.Inf(1)
		for _, p := range corners {
			d = min(d, s.lower(p, cut)+s.allowance)
		}
		add(d, inverse(d-radius), s.allowance)
	}
	for _, q := range f.prisms {
		d := math.Inf(1)
		for _, p := range corners {
			d = min(d, q.lower(p, cut)+q.Allowance)
		}
		add(d, inverse(d-radius), q.Allowance)
	}
	return lower, least
}

func inverse(d float64) float64 {
	if d <= 0 {
		return math.Inf(1)
	}
	return 1 / d
}
