package field

import (
	"math"

	"cabwright/geometry"
)

// gap returns how far a point that is above the surface, and so outside the body, is from
// it at least; 0 or less for one below it or beside the table. More than enough need not
// be told.
func (s *surface) gap(q geometry.Vec3, enough float64) float64 {
	end := s.end()
	if q.X < s.origin.X || q.Y < s.origin.Y || q.X > end.X || q.Y > end.Y {
		return 0
	}
	// A first look at the table: it is off by what the surface bends over half a step.
	if z, _ := s.height(q.X, q.Y); q.Z < z-s.step {
		return 0
	}
	upright := q.Z - s.sign*s.plate.At(q.X, q.Y)
	steepest := upright / math.Sqrt(1+s.steep*s.steep)
	if upright <= 0 || steepest >= enough {
		return steepest
	}
	return max(steepest, s.gapAround(q, min(upright, enough)))
}

// gapAround is gap by the squares of the table within reach of a point: the surface is
// nowhere above a node's tangent plane by more than it rises over the node's square.
func (s *surface) gapAround(q geometry.Vec3, reach float64) float64 {
	i0, j0 := s.at(q.X-reach, q.Y-reach)
	i1, j1 := s.at(q.X+reach, q.Y+reach)
	r := s.step / 2
	for j := j0; j <= j1; j++ {
		for i := i0; i <= i1; i++ {
			k := j*s.nx + i
			n := &s.nodes[k]
			u, v := q.X-s.origin.X-float64(i)*s.step, q.Y-s.origin.Y-float64(j)*s.step
			// What lies below is what lies above, upside down.
			w := n.z + max(0, float64(s.rise.least[0][k]))*r*r - q.Z
			reach = min(reach, toColumn(u, v, w, r, -n.zx, -n.zy))
		}
	}
	return reach
}
