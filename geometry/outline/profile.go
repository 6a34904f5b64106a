package outline

import "math"

// Profile holds how far an outline reaches in evenly spaced directions, so
// that many pairs of outlines can be compared quickly.
type Profile struct {
	inside [][]float64 // reaches of convex pieces that together are the outline; nil: not known
	around [][]float64 // reaches of convex sets whose common hull holds the outline
}

// profileSteps is the number of directions, a step of d = 2 pi/1024. Where both
// curves bend with a radius of R, StickOut is too high by R d^2/2 at most
// (R d^2/8 for inner's chord, 3/8 R d^2 for outer's extension): 0.0005 mm at
// the flattest spot of a 40 x 30 mm oval, far below the search's tolerance. The
// straight sides of a freeform that face one stretch of three steps, l long
// together, add l d/4, 0.0015 mm for each mm; those of the named outlines face
// sampled directions and add nothing.
const profileSteps = 1024

// Profile measures the outline's reach.
func (o Outline) Profile() Profile {
	return Profile{inside: sample(o.curve.pieces()), around: sample(o.curve.cover())}
}

func sample(pieces []support) [][]float64 {
	all := make([][]float64, len(pieces))
	for i, h := range pieces {
		all[i] = make([]float64, profileSteps)
		for k := range all[i] {
			s, c := math.Sincos(2 * math.Pi * float64(k) / profileSteps)
			all[i][k] = h(c, s)
		}
	}
	return all
}

// StickOut returns an upper bound on how far any point of inner lies from
// outer, in millimetres, when both have the same origin and axes: 0 or less
// proves that inner lies within outer, and then says by how much at least it
// could grow on all sides. It is never too low. It is too high by the sampling
// error named at profileSteps; by more for a heart compared with something
// else than a heart; and +Inf when outer is a freeform that is not convex.
func (outer Profile) StickOut(inner Profile) float64 {
	return outer.StickOutBy(inner, func(in, out float64) float64 { return in - out })
}

// StickOutBy is StickOut with another measure than inner's reach minus
// outer's: a stack of levels, for solids. The measure must rise with in, fall
// with out, and be sublinear (m(x + y) <= m(x) + m(y), m(k x) = k m(x) for
// k >= 0), as any largest one of differences k in - l out is.
//
// For a convex set K, the largest distance of a point of I from K is the
// largest value, over all directions, of the reach of I less that of K. The
// distance from K being a convex function, it is nowhere larger on the hull of
// several sets than on one of them.
func (outer Profile) StickOutBy(inner Profile, measure func(in, out float64) float64) float64 {
	worst := math.Inf(-1)
	for _, i := range inner.around {
		best := math.Inf(1)
		for _, k := range outer.inside {
			best = math.Min(best, excess(i, k, measure))
		}
		worst = math.Max(worst, best)
	}
	return worst
}

// excess bounds measure(reach of I, reach of K) over all directions, from the
// reaches at the sampled ones.
//
// As a function of the direction t, the reach of one point is A cos t + B sin
// t, a sinusoid here; that of a set is the largest of such. So between two
// samples it is at most the sinusoid through both (the corner where the two
// tangents meet), and beyond two samples it is at least the sinusoid through
// them. Between the samples k and k+1, I is bounded by the first kind, and K
// by two of the second kind, through k-1, k and through k+1, k+2. The two cross
// once in between. From each end to the crossing all bounds are sinusoids, that
// is, sums of their end values with weights whose total is at most
// 1/cos(step/2); the measure being sublinear, its value is bounded by its end
// values times that.
func excess(in, out []float64, measure func(in, out float64) float64) float64 {
	const n = profileSteps
	sin, cos := math.Sincos(2 * math.Pi / n)
	worst := math.Inf(-1)
	for k := 0; k < n; k++ {
		x0, x1 := in[k], in[(k+1)%n]
		y0, y1 := out[k], out[(k+1)%n]
		worst = math.Max(worst, measure(x0, y0))
		// K's bounds are y0 cos t + rise sin t from the left, and the same
		// from the right. Their difference, left less right, is
		// p cos t + q sin t, at least 0 for t = 0 and at most 0 for t = step.
		rise := (y0*cos - out[(k+n-1)%n]) / sin
		fall := (y1*cos - out[(k+2)%n]) / sin
		p := y0 - (y1*cos + fall*sin)
		q := rise - (y1*sin - fall*cos)
		far := math.Hypot(p, q)
		if p <= 0 || far == 0 {
			continue // they meet at the sample itself, looked at already
		}
		st, ct := p/far, -q/far
		if st > sin || ct < cos {
			st, ct = sin, cos // rounding only: they meet at the next sample
		}
		between := (x0*(sin*ct-cos*st) + x1*st) / sin
		worst = math.Max(worst, measure(between, y0*ct+rise*st))
	}
	// Rounding: reaches up to 1 m are good to 1e-13 mm, and dividing by the
	// sine of the step leaves 1e-10.
	worst += 1e-9
	if worst > 0 {
		worst /= math.Cos(math.Pi / n)
	}
	return worst
}
