package field

import (
	"math"

	"cabwright/geometry"
)

// Reach is how far a point can move: by at most Plan in plan and by at most
// Rise up or down.
type Reach struct{ Plan, Rise float64 }

// Full returns the longest displacement.
func (r Reach) Full() float64 { return math.Sqrt(r.Plan*r.Plan + r.Rise*r.Rise) }

// along returns how far a displacement can go along d, given by its length in
// plan and its z.
func (r Reach) along(plan, z float64) float64 { return r.Plan*plan + r.Rise*math.Abs(z) }

// Row is a linear upper bound on the clearance near a point p: for every
// displacement e within the reach it was made for,
//
//	D(p + e) <= Value + Gradient . e + Slack
//
// or p + e lies in the obstacle itself, where D is at most minus the allowance.
// A bound of zero or more is therefore never contradicted; a search may prune
// with any threshold that is not below minus the smallest allowance.
//
// A row that is Bent was made for a Span instead: for every displacement of it
//
//	D(p + e) <= Value + sum_j Coef_j y_j + Slack,
//
// and Gradient is not used. Strain tells how much of the slack each variable
// brings.
type Row struct {
	Value    float64
	Gradient geometry.Vec3
	Slack    float64
	Obstacle int // index of the obstacle in the field

	Bent         bool
	Coef, Strain [Moves]float64
}

// ball bounds by the distance to one point k of an obstacle:
// |p + e - k| <= d + g.e + |e|^2 / (2 d), with d = |p - k| and g = (p - k)/d, or, for a
// point that moves by more than twice d, by d + |e|.
func ball(p, k geometry.Vec3, reach Reach, allowance float64) Row {
	v := p.Sub(k)
	d := v.Norm()
	full := reach.Full()
	if full >= 2*d {
		return Row{Value: d - allowance, Slack: full}
	}
	slack := full * full / (2 * d)
	return Row{Value: d - allowance, Gradient: v.Scale(1 / d), Slack: slack}
}

// facet is a flat piece of an obstacle: the points K + c1 A1 + c2 A2 with c1 and
// c2 within their ranges. Behind it (against N) the obstacle is at least Thick
// deep; a sheet has no thickness and is met from both sides.
type facet struct {
	k, n     geometry.Vec3
	a1, a2   geometry.Vec3 // edges' directions, need not be square to each other
	d1, d2   geometry.Vec3 // dual directions: c1 = d1.(p-k), c2 = d2.(p-k)
	lo1, hi1 float64
	lo2, hi2 float64
	thick    float64
	back     float64 // how much shorter along a2 the obstacle may be behind the facet
	la1, la2 float64 // lengths of a1, a2
	w1       float64 // 1/|d1|: what a unit of c1 is, square to a2
	pn       float64 // lengths in plan of n, d1, d2
	p1, p2   float64
}

// newFacet makes the facet with the given directions; n is their normal, on the
// side of the given hint.
func newFacet(k, a1, a2, hint geometry.Vec3, range1, range2 [2]float64, thick float64) facet {
	n := a1.Cross(a2)
	n = n.Scale(1 / n.Norm())
	if n.Dot(hint) < 0 {
		n = n.Scale(-1)
	}
	f := facet{k: k, n: n, a1: a1, a2: a2, lo1: range1[0], hi1: range1[1], lo2: range2[0], hi2: range2[1], thick: thick}
	g11, g12, g22 := a1.Dot(a1), a1.Dot(a2), a2.Dot(a2)
	det := g11*g22 - g12*g12
	f.d1 = a1.Scale(g22 / det).Sub(a2.Scale(g12 / det))
	f.d2 = a2.Scale(g11 / det).Sub(a1.Scale(g12 / det))
	f.la1, f.la2 = a1.Norm(), a2.Norm()
	f.w1 = 1 / f.d1.Norm()
	f.pn, f.p1, f.p2 = f.n.XY().Norm(), f.d1.XY().Norm(), f.d2.XY().Norm()
	return f
}

// beyond returns how far c, free to move by reach, can lie outside [lo, hi].
func beyond(c, reach, lo, hi float64) float64 {
	return max(0, max(lo-(c-reach), (c+reach)-hi))
}

// wall bounds the distance to a flat piece of obstacle as a function of s, the
// height over its plane, which is free to move by reach, when the foot of the
// perpendicular can lie up to over beside the piece and the obstacle is at least
// thick deep behind it. It returns a line in s and a slack:
//
//   - over the piece, in front or within the obstacle: s itself;
//   - in front, beside it: sqrt(s^2 + over^2) <= s + min(over, over^2 / (2 s));
//   - otherwise the distance is at most max(s, 0, -thick - s) + over, which is
//     convex in s and so below its chord over the range of s.
func wall(s, reach, over, thick float64) (value, slope, slack float64) {
	lo, hi := s-reach, s+reach
	if over == 0 && lo >= -thick {
		return s, 1, 0
	}
	if lo > 0 {
		if lo > over/2 {
			over = over * over / (2 * lo)
		}
		return s, 1, over
	}
	atLo := max(0, -thick-lo)
	atHi := max(max(hi, 0), -thick-hi)
	if hi <= lo {
		return atLo, 0, over
	}
	slope = (atHi - atLo) / (hi - lo)
	return atLo + slope*(s-lo), slope, over
}

// row bounds by the distance to the facet's plane, from either side of a sheet.
func (f *facet) row(p geometry.Vec3, reach Reach, allowance float64) Row {
	v := p.Sub(f.k)
	s, n := f.n.Dot(v), f.n
	if f.thick == 0 && s < 0 {
		s, n = -s, n.Scale(-1)
	}
	over := beyond(f.d1.Dot(v), reach.along(f.p1, f.d1.Z), f.lo1, f.hi1)*f.la1 +
		beyond(f.d2.Dot(v), reach.along(f.p2, f.d2.Z), f.lo2, f.hi2)*f.la2
	away := reach.along(f.pn, f.n.Z)
	if s < away {
		over += f.back
	}
	value, slope, slack := wall(s, away, over, f.thick)
	return Row{Value: value - allowance, Gradient: n.Scale(slope), Slack: slack}
}

// nearest returns the facet's point nearest to p: the foot, or where that is not
// on the facet the point that moving along one edge's direction after the other
// (three times is enough for what lean and slope there are) leads to. Any point of
// the facet is a valid one for a bound.
func (f *facet) nearest(p geometry.Vec3) geometry.Vec3 {
	v := p.Sub(f.k)
	c1, c2 := f.d1.Dot(v), f.d2.Dot(v)
	if c1 < f.lo1 || c1 > f.hi1 || c2 < f.lo2 || c2 > f.hi2 {
		c1 = max(f.lo1, min(f.hi1, c1))
		across := f.a1.Dot(f.a2)
		v1, v2 := f.a1.Dot(v), f.a2.Dot(v)
		for range 3 {
			c2 = max(f.lo2, min(f.hi2, (v2-c1*across)/(f.la2*f.la2)))
			c1 = max(f.lo1, min(f.hi1, (v1-c2*across)/(f.la1*f.la1)))
			if across == 0 {
				break
			}
		}
	}
	return f.k.Add(f.a1.Scale(c1)).Add(f.a2.Scale(c2))
}

// bound returns the better, over the reach, of the facet's row and the ball
// about its nearest point.
func (f *facet) bound(p geometry.Vec3, reach Reach, allowance float64) Row {
	r := f.row(p, reach, allowance)
	if r.Slack == 0 {
		return r
	}
	if b := ball(p, f.nearest(p), reach, allowance); b.Value+b.Slack < r.Value+r.Slack {
		return b
	}
	return r
}
