package certify

import (
	"cabwright/geometry"
	"cabwright/geometry/field"
	"cabwright/geometry/solid"
	"cabwright/planner/search/internal/poses"
)

// Keeps divides the skin, as Whole does, only until it is known on which side of
// its allowance one obstacle is.
func Keeps(f *field.Field, obstacle int, c solid.Cabochon, pose poses.Pose, fine float64) bool {
	z := newCertifier(f, c, pose, geometry.Vec3{}, func(at geometry.Vec3, radius float64) *field.Vicinity {
		return f.AroundOnly(obstacle, at, radius, 0)
	})
	if z.near.Empty() {
		return true
	}
	parts := sides(c)
	queue := z.cover(&c, parts)
	// A flat that lies along a flat is cut into most pieces: some forty thousand when it
	// touches.
	for n := 0; n < 100000 && z.res.Least >= -fine/2 && queue[0].lower < -fine; n++ {
		z.step(&queue)
	}
	if z.res.Least < -fine/2 || queue[0].lower < -fine {
		return false
	}
	z.res.Lower, z.res.Least = 0, 0
	z.holding(c, obstacle)
	return z.res.Least == 0
}
