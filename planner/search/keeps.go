package search

import (
	"cabwright/geometry"
	"cabwright/geometry/solid"
	"cabwright/planner/search/internal/certify"
)

// Keeps reports whether a placed solid keeps every allowance, the skin's too, for
// certain. What keeps one by less than the resolution of a certified clearance may be
// refused.
func (s *Site) Keeps(body solid.Cabochon, pose Pose) bool {
	s.ready()
	return certify.Whole(s.field, body, pose, geometry.Vec3{}, 0, certify.Resolution).Lower >= 0
}

// KeepsMarks reports whether a placed solid keeps the allowance of every crack and
// pocket; the skin is not asked about. A yes means that no point of it keeps less than
// the allowance by more than fine, mm, a no that some point keeps less. It takes a
// fraction of the time that Clearance does.
func (s *Site) KeepsMarks(body solid.Cabochon, pose Pose, fine float64) bool {
	for k := 1; k < s.field.Obstacles(); k++ {
		if !certify.Keeps(s.field, k, body, pose, fine) {
			return false
		}
	}
	return true
}
