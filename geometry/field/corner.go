package field

import (
	"math/bits"

	"cabwright/geometry"
)

// Moves is the most variables a displacement may have.
const Moves = 6

// Span says how a point moves, more closely than a Reach does: by
//
//	Shift + y_1 By_1 + ... + y_n By_n + r,   |y_j| <= 1,   |r| <= Bow.
type Span struct {
	Shift geometry.Vec3
	By    [Moves]geometry.Vec3
	N     int
	Bow   float64
}

// cornerRow bounds by a convex function u of the place, at least the distance to
// an obstacle: over the span the distance is at most an affine function of the y_j
// that is at least u at the corners |y_j| = 1 (a convex function is below any
// affine one on a box if it is at the box's corners), and the distance changes by
// no more than Bow beside that. The coefficients are the means of y_j u over the
// corners: what a least-squares fit gives there.
func cornerRow(p geometry.Vec3, span *Span, allowance float64, u func(geometry.Vec3) float64) Row {
	p = p.Add(span.Shift)
	r := Row{Value: u(p) - allowance, Bent: true}
	var moves [Moves]int
	n := 0
	at := p
	for j := range span.N {
		if g := span.By[j]; g.Dot(g) > 1e-24 {
			moves[n] = j
			n++
			at = at.Sub(g)
		}
	}
	// Gray's order: from one corner to the next a single y changes its sign.
	var value [1 << Moves]float64
	corners := 1 << n
	code := 0
	for i := 1; ; i++ {
		v := u(at)
		value[code] = v
		for k := range n {
			if code>>k&1 == 1 {
				r.Coef[moves[k]] += v
			} else {
				r.Coef[moves[k]] -= v
			}
		}
		if i == corners {
			break
		}
		k := bits.TrailingZeros(uint(i))
		code ^= 1 << k
		step := 2.0
		if code>>k&1 == 0 {
			step = -2
		}
		at = at.Add(span.By[moves[k]].Scale(step))
	}
	var a [Moves]float64
	for k := range n {
		a[k] = r.Coef[moves[k]] / float64(corners)
		r.Coef[moves[k]] = a[k]
	}
	b := r.Value + allowance
	for code := range corners {
		v := value[code]
		for k := range n {
			if code>>k&1 == 1 {
				v -= a[k]
			} else {
				v += a[k]
			}
		}
		b = max(b, v)
	}
	r.Slack = b - allowance - r.Value + span.Bow
	r.spread(p, span, u, value[:corners])
	return r
}

// spread shares the slack out among the variables by the second differences of
// u along each.
func (r *Row) spread(p geometry.Vec3, span *Span, u func(geometry.Vec3) float64, _ []float64) {
	mid, sum := 2*u(p), 0.0
	for j := range span.N {
		w := max(0, u(p.Add(span.By[j]))+u(p.Sub(span.By[j]))-mid)
		r.Strain[j] = w
		sum += w
	}
	if sum == 0 {
		return
	}
	for j := range span.N {
		r.Strain[j] *= r.Slack / sum
	}
}
