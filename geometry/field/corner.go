package field

import (
	"math"
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
	mid := u(p)
	r := Row{Value: mid - allowance, Bent: true}
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
	var value, fold [1 << Moves]float64
	corners := 1 << n
	value[0] = u(at)
	for i, code := 1, 0; i < corners; i++ {
		k := bits.TrailingZeros(uint(i))
		code ^= 1 << k
		if code>>k&1 == 1 {
			at = at.Add(span.By[moves[k]].Scale(2))
		} else {
			at = at.Sub(span.By[moves[k]].Scale(2))
		}
		value[code] = u(at)
	}
	// Means of y_j u: fold the corners along one variable after the other.
	var a [Moves]float64
	fold = value
	low := 0.0
	for k, half := n-1, corners/2; k >= 0; k, half = k-1, half/2 {
		for i := range half {
			a[k] += fold[i+half] - fold[i]
			fold[i] += fold[i+half]
		}
		a[k] /= float64(corners)
		r.Coef[moves[k]] = a[k]
		low -= a[k]
	}
	b := max(mid, value[0]-low)
	for i, code := 1, 0; i < corners; i++ {
		k := bits.TrailingZeros(uint(i))
		code ^= 1 << k
		if code>>k&1 == 1 {
			low += 2 * a[k]
		} else {
			low -= 2 * a[k]
		}
		b = max(b, value[code]-low)
	}
	r.Slack = b - mid + span.Bow
	if b-mid > slight {
		r.spread(p, span, mid, u)
	}
	return r
}

// straight is the row of a distance that is n.(q - p) + value all over the span.
func (span *Span) straight(value float64, n geometry.Vec3, allowance float64) Row {
	r := Row{Value: value + n.Dot(span.Shift) - allowance, Slack: span.Bow, Bent: true}
	for j := range span.N {
		r.Coef[j] = n.Dot(span.By[j])
	}
	return r
}

// along returns how far a point at c moves along n over the span: the middle and
// the most to either side.
func (span *Span) along(c float64, n geometry.Vec3) (mid, half float64) {
	for j := range span.N {
		half += math.Abs(n.Dot(span.By[j]))
	}
	return c + n.Dot(span.Shift), half
}

// spread shares the slack out among the variables by the second differences of
// u along each.
func (r *Row) spread(p geometry.Vec3, span *Span, mid float64, u func(geometry.Vec3) float64) {
	sum := 0.0
	for j := range span.N {
		w := max(0, u(p.Add(span.By[j]))+u(p.Sub(span.By[j]))-2*mid)
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
