package field

import (
	"math"

	"cabwright/geometry"
)

// surface is a thin plate tabulated over the window a body lies in, seen so
// that the body lies below it: for a lower surface both heights and z are
// negated.
type surface struct {
	plate  *geometry.ThinPlate
	sign   float64 // +1: the body lies below; -1: above
	origin geometry.Vec2
	step   float64
	nx, ny int
	nodes  []node
	rise   bends // largest eigenvalue of the Hessian nearby: how fast the surface turns up
	dip    bends // largest eigenvalue of minus the Hessian: how fast it turns down
	steep  float64
}

// node is the surface at one node of the table: height and gradient.
type node struct{ z, zx, zy float64 }

// newSurface tabulates the plate over [lo, hi] at the given step.
func newSurface(plate *geometry.ThinPlate, sign float64, lo, hi geometry.Vec2, step float64) *surface {
	s := &surface{plate: plate, sign: sign, origin: lo, step: step}
	s.nx, s.ny = int(math.Ceil((hi.X-lo.X)/step))+1, int(math.Ceil((hi.Y-lo.Y)/step))+1
	s.nodes = make([]node, s.nx*s.ny)
	up, down := make([]float32, len(s.nodes)), make([]float32, len(s.nodes))
	// Each node speaks for the square around it, so reach is half its diagonal.
	reach := step * math.Sqrt2 / 2
	for j := 0; j < s.ny; j++ {
		for i := 0; i < s.nx; i++ {
			c, change := plate.Curvature(lo.X+float64(i)*step, lo.Y+float64(j)*step, reach)
			n := node{sign * c.Z, sign * c.ZX, sign * c.ZY}
			s.nodes[j*s.nx+i] = n
			mean := sign * (c.ZXX + c.ZYY) / 2
			dev := math.Hypot((c.ZXX-c.ZYY)/2, c.ZXY)
			s.steep = max(s.steep, math.Hypot(n.zx, n.zy)+(math.Abs(mean)+dev+change)*reach)
			up[j*s.nx+i] = float32(mean + dev + change)
			down[j*s.nx+i] = float32(-mean + dev + change)
		}
	}
	s.rise, s.dip = newBends(up, s.nx, s.ny, step), newBends(down, s.nx, s.ny, step)
	return s
}

// at returns the index of the node nearest to (x, y), held inside the table.
func (s *surface) at(x, y float64) (i, j int) {
	i = int((x-s.origin.X)/s.step + 0.5)
	j = int((y-s.origin.Y)/s.step + 0.5)
	return max(0, min(s.nx-1, i)), max(0, min(s.ny-1, j))
}

// covers tells whether the table covers the upright rectangle between the corners.
func (s *surface) covers(lo, hi geometry.Vec2) bool {
	end := s.end()
	return lo.X >= s.origin.X && lo.Y >= s.origin.Y && hi.X <= end.X && hi.Y <= end.Y
}

// end returns the last corner of the table.
func (s *surface) end() geometry.Vec2 {
	return s.origin.Add(geometry.Vec2{X: float64(s.nx - 1), Y: float64(s.ny - 1)}.Scale(s.step))
}

// touch is a point of the surface near the foot of the perpendicular from p,
// with the unit normal out of the body; depth is how far p lies below the tangent
// plane there and aside how far beside the touching point; radius is how far
// from it, in plan, a row looked at the surface.
type touch struct {
	k, n         geometry.Vec3
	depth, aside float64
	radius       float64
	i, j         int
}

// foot finds the node nearest to the foot of the perpendicular from p (given
// in the surface's own sense of up, and with the surface raised by lift).
func (s *surface) foot(p geometry.Vec3, lift float64) touch {
	i, j := s.at(p.X, p.Y)
	n := &s.nodes[j*s.nx+i]
	// One step along the normal of the node above, then the touching point.
	gap := (n.z + lift - p.Z) / (1 + n.zx*n.zx + n.zy*n.zy)
	i, j = s.at(p.X-gap*n.zx, p.Y-gap*n.zy)
	return s.touchAt(i, j, p, lift)
}

func (s *surface) touchAt(i, j int, p geometry.Vec3, lift float64) touch {
	n := &s.nodes[j*s.nx+i]
	k := geometry.Vec3{X: s.origin.X + float64(i)*s.step, Y: s.origin.Y + float64(j)*s.step, Z: n.z + lift}
	q := 1 / math.Sqrt(1+n.zx*n.zx+n.zy*n.zy)
	t := touch{k: k, n: geometry.Vec3{X: -n.zx * q, Y: -n.zy * q, Z: q}, i: i, j: j}
	v := k.Sub(p)
	t.depth = t.n.Dot(v)
	t.aside = math.Sqrt(max(0, v.Dot(v)-t.depth*t.depth))
	return t
}

// flip turns a point or a direction into the surface's own sense of up.
func (s *surface) flip(p geometry.Vec3) geometry.Vec3 {
	return geometry.Vec3{X: p.X, Y: p.Y, Z: s.sign * p.Z}
}

// row bounds the distance to the surface above p by the tangent plane at the
// touching point. Let q be the moved point, s its depth under that plane and f
// its foot on it: straight above or below f the surface is within its rise over
// the plane there, so q is at most s + max(0, rise) away from it (or lies above
// it, in the obstacle). The foot moves in plan by the plan part of the displacement
// and by the share of its rise that the slope turns sideways. Where q is beyond the
// tangent plane, s is negative and the surface straight above q itself counts, as
// much further off as the slope of the plane turns s sideways.
func (s *surface) row(p geometry.Vec3, lift float64, reach Reach, allowance float64) (Row, touch) {
	q := s.flip(p)
	t := s.foot(q, lift)
	sin := math.Sqrt(max(0, 1-t.n.Z*t.n.Z))
	t.radius = t.aside + reach.along(1, sin) + sin*max(0, reach.along(sin, t.n.Z)-t.depth)
	r := Row{Value: t.depth - allowance, Gradient: s.flip(t.n).Scale(-1), Slack: s.rise.over(t.i, t.j, t.radius)}
	return r, t
}

// lower returns a lower bound on the signed distance from p to the surface,
// positive inside the body. The ball of radius d about p stays below a surface
// that dips at most (m/2) t^2 under its tangent plane as long as m d < 1, and then
//
//	d^2 >= depth^2 - depth m aside^2 / (1 - m depth)
//
// (the least over the offset of the squared distance to the paraboloid under a
// level plane; under a sloping one the ball of radius 1/m that touches at the
// touching point lies within the paraboloid, by Blaschke's rolling theorem, and
// gives no less). Where the surface turns too fast for that, the height divided by
// the steepest slope bounds the distance.
func (s *surface) lower(p geometry.Vec3, lift, enough float64) float64 {
	q := s.flip(p)
	t := s.foot(q, lift)
	d := math.Inf(-1)
	if t.depth >= enough {
		// The table may do.
		if d = s.under(t); d >= enough {
			return d
		}
	}
	// Two exact steps bring the touching point to the foot within micrometres.
	for range 3 {
		t = s.closer(t, q, lift)
		if t.aside < 1e-4 {
			break
		}
	}
	d = max(d, s.under(t))
	if d < t.depth-1e-6 {
		gap := s.sign*s.plate.At(q.X, q.Y) + lift - q.Z
		if gap >= 0 {
			d = max(d, gap/math.Sqrt(1+s.steep*s.steep))
		}
	}
	return d
}

// closer takes the surface itself at the foot of the perpendicular on a touching
// point's plane, or as near to that as the table goes: beyond it nothing is known
// of how the surface turns.
func (s *surface) closer(t touch, q geometry.Vec3, lift float64) touch {
	end := s.end()
	x := max(s.origin.X, min(end.X, q.X+t.depth*t.n.X))
	y := max(s.origin.Y, min(end.Y, q.Y+t.depth*t.n.Y))
	z, zx, zy := s.plate.Slope(x, y)
	z, zx, zy = s.sign*z+lift, s.sign*zx, s.sign*zy
	c := 1 / math.Sqrt(1+zx*zx+zy*zy)
	t.k, t.n = geometry.Vec3{X: x, Y: y, Z: z}, geometry.Vec3{X: -zx * c, Y: -zy * c, Z: c}
	v := t.k.Sub(q)
	t.depth = t.n.Dot(v)
	t.aside = math.Sqrt(max(0, v.Dot(v)-t.depth*t.depth))
	t.i, t.j = s.at(x, y)
	return t
}

// under is the lower bound that one touching point gives: a positive one, or
// minus the distance to the touching point, which holds on either side of the
// surface.
func (s *surface) under(t touch) float64 {
	// The ball about p that only just reaches the tangent plane.
	lean := math.Hypot(t.n.X, t.n.Y)
	m := max(0, s.dip.around(t.i, t.j, t.depth*(1+lean)+t.aside))
	d := 0.0
	switch {
	case t.depth <= 0:
	case m*t.depth < 0.95:
		d = math.Sqrt(max(0, t.depth*t.depth-t.depth*m*t.aside*t.aside/(1-m*t.depth)))
	default:
		// Vertical gap at p itself, from the touching point and the steepest slope.
		h := t.depth*t.n.Z - s.steep*math.Hypot(t.depth*lean, t.aside)
		d = max(h/math.Sqrt(1+s.steep*s.steep), s.shells(t))
	}
	if d > 0 {
		return d
	}
	return -math.Hypot(t.depth, t.aside)
}

// shells bounds the distance from below where the surface turns too fast for one
// paraboloid. A point of the surface at the offset o beside p's foot on the tangent
// plane lies at most its drop under that plane, so it is at least
// hypot(depth - drop, o) away; the drop grows with the offset, and is taken at the
// far end of each of a number of shells, the offset at the near end. In plan the
// point is further off than o by no more than the drop times the lean; the drop,
// square to the plane, is at most the offset in plan times (steep cos + sin) of the
// plane's own slope.
func (s *surface) shells(t touch) float64 {
	const parts = 24
	lean := math.Hypot(t.n.X, t.n.Y)
	if lean > 0.5 || s.steep > 1 {
		return 0
	}
	best, spread := t.depth, 1/(1-lean*(s.steep*t.n.Z+lean))
	for k := range parts {
		near, far := t.depth*float64(k)/parts, t.depth*float64(k+1)/parts
		drop := s.dip.off((far+t.aside)*spread, t.i, t.j)
		best = min(best, math.Hypot(max(0, t.depth-drop), near))
	}
	return best
}
