package field

import (
	"math"

	"cabwright/geometry"
)

// run is a facet of a sheet with what the sheet does beside it: it goes on past
// the facet's ends, along a1, for the lengths before and after, bending off the
// facet's plane by no more than the given shares of the way.
type run struct {
	facet         *facet
	before, after float64
	bendBefore    float64
	bendAfter     float64
	lo2, hi2      float64 // the heights along a2 that all of these facets cover
	cross         float64 // |a1 . a2|
	stray         float64
}

// sharp is the bend from which a joint counts as the end of a run.
const sharp = 0.5

// join finds, for every facet, the run that it is part of: the facets of its own
// fineness, which follow one another along the path. Two of them share the line at
// their joint, and the direction a2: a point of the one carried on by c1 past the
// joint has a partner as far along the other, c1 |a1 - b1| away from it.
func (s *sheet) join() {
	s.runs = make([]run, len(s.facets))
	for level := range 2 {
		var chain []int
		for i, fine := range s.fine {
			if fine == (level == 1) {
				chain = append(chain, i)
			}
		}
		for k, i := range chain {
			f := &s.facets[i]
			r := run{facet: f, lo2: f.lo2, hi2: f.hi2, cross: math.Abs(f.a1.Dot(f.a2)), stray: s.stray[i]}
			walk := func(step int, length, bend *float64) {
				for m := k + step; m >= 0 && m < len(chain); m += step {
					g := &s.facets[chain[m]]
					b := max(*bend, f.a1.Sub(g.a1).Norm())
					if b > sharp {
						return
					}
					*bend = b
					*length += g.hi1 - g.lo1
					r.lo2, r.hi2 = max(r.lo2, g.lo2), min(r.hi2, g.hi2)
					r.stray = max(r.stray, s.stray[chain[m]])
				}
			}
			walk(-1, &r.before, &r.bendBefore)
			walk(+1, &r.after, &r.bendAfter)
			s.runs[i] = r
		}
	}
}

// distance is a convex function that is at least the distance from q to the
// sheet: the length, in the oblique axes of the facet, from q to the nearest point
// of the facet's plane within the run, and from there to the sheet. It is convex
// because each part is a norm, growing in every component, of convex functions.
func (r *run) distance(q geometry.Vec3) float64 {
	f := r.facet
	v := q.Sub(f.k)
	s, c1, c2 := f.n.Dot(v), f.d1.Dot(v), f.d2.Dot(v)
	x1, x2, bend := 0.0, 0.0, 0.0
	if o := f.lo1 - c1; o > 0 {
		bend = r.bendBefore * o
		x1 = max(0, o-r.before)
	} else if o := c1 - f.hi1; o > 0 {
		bend = r.bendAfter * o
		x1 = max(0, o-r.after)
	}
	if c2 < r.lo2 {
		x2 = (r.lo2 - c2) * f.la2
	} else if c2 > r.hi2 {
		x2 = (c2 - r.hi2) * f.la2
	}
	if x1 == 0 && x2 == 0 {
		return math.Abs(s) + bend + r.stray
	}
	return math.Sqrt(s*s+x1*x1+x2*x2+2*r.cross*x1*x2/f.la2) + bend + r.stray
}

// straight returns the row of the facet's own plane where no place of the span
// leaves one side of it, or the facet's edges.
func (r *run) straight(p geometry.Vec3, span *Span, allowance float64) (Row, bool) {
	f := r.facet
	v := p.Sub(f.k)
	h := f.n.Dot(v)
	s, away := span.along(h, f.n)
	if math.Abs(s) < away {
		return Row{}, false
	}
	c1, by1 := span.along(f.d1.Dot(v), f.d1)
	c2, by2 := span.along(f.d2.Dot(v), f.d2)
	if c1-by1 < f.lo1 || c1+by1 > f.hi1 || c2-by2 < r.lo2 || c2+by2 > r.hi2 {
		return Row{}, false
	}
	n := f.n
	if s < 0 {
		h, n = -h, n.Scale(-1)
	}
	row := span.straight(h, n, allowance)
	row.Slack += r.stray
	return row, true
}
