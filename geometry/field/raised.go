package field

import (
	"math"

	"cabwright/geometry"
)

// raised is planes that a surface nowhere rises above, over squares of every size:
// what is above such a plane, within its square, is outside the body. On a lumpy
// face the plane over the lumps bounds what a point can keep while it moves by the
// size of a lump, where the tangent plane at one spot of a lump tells nothing.
type raised struct {
	levels []raisedLevel
}

// raisedLevel has squares of one size, each half a square off the next: a window of
// a quarter of the size about any point lies within one.
type raisedLevel struct {
	half   float64 // of a square, mm
	nx, ny int
	planes []upper
}

// upper is the plane z = at + gx dx + gy dy about the square's middle.
type upper struct{ at, gx, gy float64 }

// newRaised fits the planes: with the slope that fits the nodes best, as high as any
// node of the square and the square around that need.
func newRaised(s *surface) raised {
	var out raised
	for size := 2; size/2 < max(s.nx, s.ny); size *= 2 {
		stride := size / 2
		l := raisedLevel{half: float64(stride) * s.step, nx: (s.nx-1)/stride + 2, ny: (s.ny-1)/stride + 2}
		l.planes = make([]upper, l.nx*l.ny)
		for j := range l.ny {
			for i := range l.nx {
				l.planes[j*l.nx+i] = s.plane(i*stride, j*stride, stride)
			}
		}
		out.levels = append(out.levels, l)
	}
	return out
}

// plane fits one: over the nodes up to half of them either way from node (ci, cj),
// which may lie beyond the table.
func (s *surface) plane(ci, cj, half int) upper {
	i0, i1 := max(0, ci-half), min(s.nx-1, ci+half)
	j0, j1 := max(0, cj-half), min(s.ny-1, cj+half)
	var u upper
	if i0 > i1 || j0 > j1 {
		u.at = math.Inf(-1) // nothing of the body is here
		return u
	}
	// On a grid the sums of a least-squares fit separate.
	mx, my := float64(i0+i1)/2, float64(j0+j1)/2
	var sxx, syy, sxz, syz float64
	for j := j0; j <= j1; j++ {
		for i := i0; i <= i1; i++ {
			z, dx, dy := s.nodes[j*s.nx+i].z, float64(i)-mx, float64(j)-my
			sxx, syy, sxz, syz = sxx+dx*dx, syy+dy*dy, sxz+dx*z, syz+dy*z
		}
	}
	if sxx > 0 {
		u.gx = sxz / sxx / s.step
	}
	if syy > 0 {
		u.gy = syz / syy / s.step
	}
	u.at = math.Inf(-1)
	r := s.step / 2
	for j := j0; j <= j1; j++ {
		for i := i0; i <= i1; i++ {
			k := j*s.nx + i
			n := &s.nodes[k]
			off := n.z - (u.gx*float64(i-ci)+u.gy*float64(j-cj))*s.step
			off += (math.Abs(n.zx-u.gx)+math.Abs(n.zy-u.gy))*r + max(0, float64(s.rise.least[0][k]))*r*r
			u.at = max(u.at, off)
		}
	}
	return u
}

// row bounds the distance to what is above the surface by the plane of the smallest
// square that holds every foot on it: straight above a point of the body below the
// plane, and square to the plane, there is only outside. depth is about how far the
// surface is.
func (r *raised) row(s *surface, p geometry.Vec3, reach Reach) (Row, bool) {
	q := s.flip(p)
	for k := range r.levels {
		l := &r.levels[k]
		if l.half/2 < reach.Plan {
			continue
		}
		i := max(0, min(l.nx-1, int((q.X-s.origin.X)/l.half+0.5)))
		j := max(0, min(l.ny-1, int((q.Y-s.origin.Y)/l.half+0.5)))
		u := &l.planes[j*l.nx+i]
		if math.IsInf(u.at, -1) {
			return Row{}, false
		}
		dx, dy := q.X-s.origin.X-float64(i)*l.half, q.Y-s.origin.Y-float64(j)*l.half
		cos := 1 / math.Sqrt(1+u.gx*u.gx+u.gy*u.gy)
		n := geometry.Vec3{X: -u.gx * cos, Y: -u.gy * cos, Z: cos}
		gap := (u.at + u.gx*dx + u.gy*dy - q.Z) * cos
		sin := math.Sqrt(max(0, 1-cos*cos))
		aside := reach.Plan + sin*max(0, gap+reach.along(sin, cos))
		if math.Abs(dx)+aside > l.half || math.Abs(dy)+aside > l.half {
			continue
		}
		return Row{Value: gap, Gradient: s.flip(n).Scale(-1)}, true
	}
	return Row{}, false
}
