package search

import (
	"container/heap"

	"cabwright/geometry"
	"cabwright/geometry/field"
	"cabwright/geometry/solid"
)

// Keeps reports whether a placed solid keeps every allowance, the skin's too, for
// certain. What keeps one by less than the resolution of a certified clearance may be
// refused.
func (s *Site) Keeps(body solid.Cabochon, pose Pose) bool {
	s.ready()
	return certify(s.field, body, pose, geometry.Vec3{}, 0, resolution).lower >= 0
}

// KeepsMarks reports whether a placed solid keeps the allowance of every crack and
// pocket; the skin is not asked about. A yes means that no point of it keeps less than
// the allowance by more than fine, mm, a no that some point keeps less. It takes a
// fraction of the time that Clearance does.
func (s *Site) KeepsMarks(body solid.Cabochon, pose Pose, fine float64) bool {
	for k := 1; k < s.field.Obstacles(); k++ {
		if !keeps(s.field, k, body, pose, fine) {
			return false
		}
	}
	return true
}

// keeps divides the skin, as certify does, only until it is known on which side of
// its allowance one obstacle is.
func keeps(f *field.Field, obstacle int, c solid.Cabochon, pose Pose, fine float64) bool {
	z := newCertifier(f, c, pose, geometry.Vec3{}, func(at geometry.Vec3, radius float64) *field.Vicinity {
		return f.AroundOnly(obstacle, at, radius, 0)
	})
	if z.near.Empty() {
		return true
	}
	z.alone = true
	parts := sides(c)
	queue := z.cover(&c, parts)
	// A flat that lies along a flat is cut into most pieces: some forty thousand when it
	// touches.
	for n := 0; n < 100000 && z.res.least >= -fine/2 && queue[0].lower < -fine; n++ {
		p := &queue[0]
		if !p.looked {
			z.look(p)
			heap.Fix(&queue, 0)
			continue
		}
		a, b := z.divide(*p)
		*p = a
		z.look(p)
		heap.Fix(&queue, 0)
		z.look(&b)
		heap.Push(&queue, b)
	}
	if z.res.least < -fine/2 || queue[0].lower < -fine {
		return false
	}
	z.res.lower, z.res.least = 0, 0
	z.holding(c, obstacle)
	return z.res.least == 0
}
