package solid

import (
	"math"

	"cabwright/geometry/outline"
)

// StickOut returns an upper bound on how far any point of the stone inner lies
// from the stone outer, in millimetres, when both have the same origin and
// axes: a pose that keeps outer at a distance keeps inner at that distance
// less StickOut, or more. It is 0 when inner is proved to lie within outer. The
// profiles are those of the two outlines. The bound is never too low; it is
// +Inf when the walls differ in height, or outer's outline is a freeform that
// is not convex.
//
// At each height both stones are their outlines, scaled by the gauge there;
// the largest distance between the two is found level by level, over all
// directions. Along the wall both gauges fall in proportion to the height, so
// the excess is largest at the girdle or at the rim. Above the rim the lower
// dome loses its width sooner than the higher one: for a dome of half width a
// and height h inside one of b and k >= h, the excess at the height s,
//
//	a sqrt(1 - (s/h)^2) - b sqrt(1 - (s/k)^2) <= (a - b) sqrt(1 - (s/h)^2),
//
// is at most a share sqrt(1 - (s/h)^2) of that at the rim if it is above 0
// anywhere; so with the backs at the girdle. Where inner's dome or back is the
// higher or deeper one, each of its points is first moved upright to the same
// share t = s/h of outer's height: by t times the difference in height. What it
// then sticks out sideways is at most sqrt(1 - t^2) of that at the rim, so that
// both together are at most the greater of the two: t^2 and 1 - t^2 add up to 1.
func StickOut(outer, inner Cabochon, outerProfile, innerProfile outline.Profile) float64 {
	if outer.Wall != inner.Wall {
		return math.Inf(1)
	}
	inRim, outRim := inner.RimRatio(), outer.RimRatio()
	sideways := outerProfile.StickOutBy(innerProfile, func(in, out float64) float64 {
		return math.Max(in-out, inRim*in-outRim*out)
	})
	pressed := math.Max(inner.Dome-outer.Dome, inner.BackDepth()-outer.BackDepth())
	return math.Max(0, math.Max(sideways, pressed))
}
