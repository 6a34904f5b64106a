package field

import (
	"math"
	"sync"

	"cabwright/geometry"
)

// surface is a thin plate tabulated over the window a body lies in, seen so
// that the body lies below it: for a lower surface both heights and z are
// negated.
type surface struct {
	plate   *geometry.ThinPlate
	sign    float64 // +1: the body lies below; -1: above
	origin  geometry.Vec2
	step    float64
	nx, ny  int
	nodes   []node
	rise    bends // largest eigenvalue of the Hessian nearby: how fast the surface turns up
	dip     bends // largest eigenvalue of minus the Hessian: how fast it turns down
	steep   float64
	highest float64 // no place of the table's is higher
	blocks  blocks
	store   tileStore
	raised  raised
	hollows hollows

	overOnce sync.Once
	grid     *coarse   // nil until Field.Prepare
	near     []int32   // by node of the grid: the node of the table that is nearest there
	tabledAt []float32 // by node of the grid: a lower bound of the distance
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
	s.highest = math.Inf(-1)
	for k, n := range s.nodes {
		rise := max(0, float64(up[k])) * step * step / 4
		s.highest = max(s.highest, n.z+(math.Abs(n.zx)+math.Abs(n.zy))*step/2+rise)
	}
	s.store.of = make([]tiles, len(s.nodes))
	s.blocks, s.raised, s.hollows = newBlocks(s), newRaised(s), newHollows(s)
	return s
}

// above tells whether the surface may come above a height in its own sense of up.
func (s *surface) above(z float64) bool { return !math.IsInf(z, 0) && s.highest > z+1e-9 }

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
	t := s.touching(q, lift)
	sin := math.Sqrt(max(0, 1-t.n.Z*t.n.Z))
	t.radius = t.aside + reach.along(1, sin) + sin*max(0, reach.along(sin, t.n.Z)-t.depth)
	r := Row{Value: t.depth - allowance, Gradient: s.flip(t.n).Scale(-1), Slack: s.rise.over(t.i, t.j, t.radius)}
	return r, t
}

// closeReach is the reach, mm, within which a row looks at the surface itself where the
// table's nodes are too far apart: the row of a point that hardly moves has to come down
// to the clearance there, or the smallest box could not be ruled out.
const closeReach = 0.25

// closeRow is row from the surface itself: from the foot of the perpendicular, or from the
// place nearest by the tree where the face has hollows.
func (s *surface) closeRow(p geometry.Vec3, reach Reach, allowance float64) Row {
	q := s.flip(p)
	t := s.touching(q, 0)
	r := s.rowAt(s.descend(q, t.k.X, t.k.Y), q, reach, allowance)
	if len(s.hollows.all) == 0 {
		return r
	}
	best := r.Value + r.Slack + allowance
	d, b := s.nearest(query{q: q, touch: nowhere, stop: best, detail: toTiles})
	if best-d < fineSag {
		return r
	}
	if e := s.rowAt(s.descend(q, b.x, b.y), q, reach, allowance); e.Value+e.Slack < r.Value+r.Slack {
		return e
	}
	return r
}

// descend goes from a place of the surface to the one nearest to q next to it, by
// Newton's method on the squared distance, halving a step that leads away.
func (s *surface) descend(q geometry.Vec3, x, y float64) touch {
	end := s.end()
	dist := func(c geometry.Sheet, x, y float64) float64 {
		dx, dy, dz := x-q.X, y-q.Y, s.sign*c.Z-q.Z
		return dx*dx + dy*dy + dz*dz
	}
	c, _ := s.plate.Curvature(x, y, 0)
	d := dist(c, x, y)
	for range 8 {
		dz, zx, zy := s.sign*c.Z-q.Z, s.sign*c.ZX, s.sign*c.ZY
		gx, gy := x-q.X+dz*zx, y-q.Y+dz*zy
		hxx, hxy, hyy := 1+zx*zx+dz*s.sign*c.ZXX, zx*zy+dz*s.sign*c.ZXY, 1+zy*zy+dz*s.sign*c.ZYY
		det := hxx*hyy - hxy*hxy
		if det < 0.1 || hxx < 0.1 { // not bent upwards: downhill
			hxx, hxy, hyy = 1+zx*zx+zy*zy, 0, 1+zx*zx+zy*zy
			det = hxx * hyy
		}
		sx, sy := (hyy*gx-hxy*gy)/det, (hxx*gy-hxy*gx)/det
		if math.Hypot(sx, sy) < 1e-5 {
			break
		}
		better := false
		for range 6 {
			nx, ny := max(s.origin.X, min(end.X, x-sx)), max(s.origin.Y, min(end.Y, y-sy))
			e, _ := s.plate.Curvature(nx, ny, 0)
			if v := dist(e, nx, ny); v < d {
				x, y, c, d, better = nx, ny, e, v, true
				break
			}
			sx, sy = sx/2, sy/2
		}
		if !better {
			break
		}
	}
	return s.touchOn(q, x, y, node{s.sign * c.Z, s.sign * c.ZX, s.sign * c.ZY})
}

// touchOn is the touching point on the surface itself over a spot.
func (s *surface) touchOn(q geometry.Vec3, x, y float64, n node) touch {
	c := 1 / math.Sqrt(1+n.zx*n.zx+n.zy*n.zy)
	t := touch{k: geometry.Vec3{X: x, Y: y, Z: n.z}, n: geometry.Vec3{X: -n.zx * c, Y: -n.zy * c, Z: c}}
	v := t.k.Sub(q)
	t.depth = t.n.Dot(v)
	t.aside = math.Sqrt(max(0, v.Dot(v)-t.depth*t.depth))
	t.i, t.j = s.at(x, y)
	return t
}

// rowAt bounds by what is known of the surface about a touching point on it: the tangent
// plane, or the point alone.
func (s *surface) rowAt(t touch, q geometry.Vec3, reach Reach, allowance float64) Row {
	sin := math.Sqrt(max(0, 1-t.n.Z*t.n.Z))
	radius := t.aside + reach.along(1, sin) + sin*max(0, reach.along(sin, t.n.Z)-t.depth)
	m := max(0, s.rise.around(t.i, t.j, radius))
	r := Row{Value: t.depth - allowance, Gradient: s.flip(t.n).Scale(-1), Slack: m * radius * radius / 2}
	if b := ball(q, t.k, reach, allowance); b.Value+b.Slack < r.Value+r.Slack {
		b.Gradient = s.flip(b.Gradient)
		return b
	}
	return r
}

// lower returns a lower bound on the signed distance from p to the surface,
// positive inside the body; above enough it may stop early.
func (s *surface) lower(p geometry.Vec3, lift, enough float64) float64 {
	q := s.flip(p)
	t := s.foot(q, lift)
	if t.depth >= enough {
		// The table may do.
		if d, _ := s.under(t, s.wide(t)); d >= enough {
			return d
		}
	}
	// Exact steps bring the touching point to the foot within micrometres.
	for range 3 {
		t = s.closer(t, q, lift)
		if t.aside < 1e-4 {
			break
		}
	}
	d, ok := s.under(t, s.wide(t))
	if ok && d > t.depth-1e-6 || s.sign*s.plate.At(q.X, q.Y)+lift < q.Z {
		return d
	}
	// How the surface turns next to the touching point tells how near it comes there,
	// the tree how near it comes elsewhere.
	local, ok := s.under(t, max(0, float64(s.dip.least[1][t.j*s.nx+t.i])))
	if !ok {
		local = 0
	}
	e, _ := s.nearest(query{q: q, lift: lift, touch: t, local: local, stop: enough, detail: toTiles})
	return max(d, e)
}

// tabled is lower from the table alone.
func (s *surface) tabled(p geometry.Vec3, lift float64) float64 {
	d, _ := s.tabledNode(p, lift)
	return d
}

// tabledNode is tabled with the node that is nearest.
func (s *surface) tabledNode(p geometry.Vec3, lift float64) (float64, int) {
	q := s.flip(p)
	t := s.foot(q, lift)
	d, ok := s.under(t, s.wide(t))
	if ok || !s.below(q, lift) {
		return d, t.j*s.nx + t.i
	}
	e, b := s.nearest(query{q: q, lift: lift, touch: t, stop: math.Inf(1), detail: toSquares})
	return max(d, e), int(b.j)*s.nx + int(b.i)
}

// below tells whether q lies under the surface, as the table has it.
func (s *surface) below(q geometry.Vec3, lift float64) bool {
	z, _ := s.height(q.X, q.Y)
	return q.Z < z+lift
}

// nowhere is a touching point that no square is next to.
var nowhere = touch{i: -9, j: -9}

// gentle is how far beside the foot of the perpendicular a touching point may lie, in
// steps of the table, to be believed.
const gentle = 1.5

// touching returns the node next to the foot of the perpendicular from q, or where
// that lies well beside the foot, as on a face that turns fast, or another place of a
// face with hollows is nearer, the nearest node: from
// the one that is nearest to a point near by, down to the nearest of its neighbours.
func (s *surface) touching(q geometry.Vec3, lift float64) touch {
	t := s.foot(q, lift)
	believed := t.aside <= gentle*s.step
	if s.grid == nil || lift != 0 || believed && len(s.hollows.all) == 0 || !s.below(q, lift) {
		return t
	}
	k := int(s.near[s.grid.index(s.flip(q))])
	i, j := k%s.nx, k/s.nx
	best := s.toNodeSquared(q, i, j)
	if believed && best >= t.depth*t.depth {
		return t // no other place is nearer
	}
	for moved := true; moved; {
		moved = false
		ci, cj := i, j
		for b := max(0, cj-1); b <= min(s.ny-1, cj+1); b++ {
			for a := max(0, ci-1); a <= min(s.nx-1, ci+1); a++ {
				if d := s.toNodeSquared(q, a, b); d < best {
					best, i, j, moved = d, a, b, true
				}
			}
		}
	}
	return s.touchAt(i, j, q, lift)
}

// toNodeSquared returns the squared distance from q to a node.
func (s *surface) toNodeSquared(q geometry.Vec3, i, j int) float64 {
	x := q.X - s.origin.X - float64(i)*s.step
	y := q.Y - s.origin.Y - float64(j)*s.step
	z := q.Z - s.nodes[j*s.nx+i].z
	return x*x + y*y + z*z
}

// estimate returns about how far q lies under the surface, and the unit vector towards
// it there.
func (s *surface) estimate(q geometry.Vec3, lift float64) (float64, geometry.Vec3) {
	t := s.touching(q, lift)
	if t.aside <= gentle*s.step || !s.below(q, lift) {
		return t.depth, t.n
	}
	v := t.k.Sub(q)
	d := v.Norm()
	return d, v.Scale(1 / max(d, 1e-9))
}

// closer takes the surface itself at the foot of the perpendicular on a touching
// point's plane, or as near to that as the table goes: beyond it nothing is known
// of how the surface turns.
func (s *surface) closer(t touch, q geometry.Vec3, lift float64) touch {
	end := s.end()
	x := max(s.origin.X, min(end.X, q.X+t.depth*t.n.X))
	y := max(s.origin.Y, min(end.Y, q.Y+t.depth*t.n.Y))
	z, zx, zy := s.plate.Slope(x, y)
	return s.touchOn(q, x, y, node{s.sign*z + lift, s.sign * zx, s.sign * zy})
}

// wide returns the fastest that the surface turns down in the ball about p that only
// just reaches the tangent plane.
func (s *surface) wide(t touch) float64 {
	lean := math.Hypot(t.n.X, t.n.Y)
	return max(0, s.dip.around(t.i, t.j, t.depth*(1+lean)+t.aside))
}

// under is the lower bound that one touching point gives, where the surface dips at
// most (m/2) t^2 under its tangent plane: the ball of radius d about p stays below it
// as long as m d < 1, and then
//
//	d^2 >= depth^2 - depth m aside^2 / (1 - m depth)
//
// (the least over the offset of the squared distance to the paraboloid under a
// level plane; under a sloping one the ball of radius 1/m that touches at the
// touching point lies within the paraboloid, by Blaschke's rolling theorem, and
// gives no less). Where the surface turns too fast for that it is minus the distance
// to the touching point, which holds on either side of the surface, and not ok.
func (s *surface) under(t touch, m float64) (d float64, ok bool) {
	if t.depth > 0 && m*t.depth < 0.95 {
		d = math.Sqrt(max(0, t.depth*t.depth-t.depth*m*t.aside*t.aside/(1-m*t.depth)))
		return d, true
	}
	return -math.Hypot(t.depth, t.aside), false
}
