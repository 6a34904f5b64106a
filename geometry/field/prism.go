package field

import (
	"math"

	"cabwright/geometry"
)

// Prism is an obstacle with upright walls over a simple polygon, solid between
// the heights Low and High in mm, which may be infinite. One that AddPit makes has
// a floor instead: it reaches from one of the body's own surfaces, moved into the
// body by its depth, on outwards without end.
type Prism struct {
	Polygon   []geometry.Vec2 // counter-clockwise
	Low, High float64
	Allowance float64
	floor     *surface // of the body's own surfaces, or nil
	depth     float64  // how far into the body the floor lies
}

type prism struct {
	Prism
	ring     *ring
	facets   []facet // whole walls
	edges    []facet // pieces of walls along a floor, for narrow boxes
	discs    []disc
	mesh     mesh
	zLo, zHi float64 // a window that covers the body
	lid      lid     // where there is a floor
}

// disc is a circle inside the polygon that touches one of its edges.
type disc struct {
	c      geometry.Vec2
	radius float64
}

// floorStray is how far the floor may stray from a straight line along a wall.
const floorStray = 0.002

func newPrism(in Prism, zLo, zHi float64) *prism {
	p := &prism{Prism: in, zLo: zLo - 3, zHi: zHi + 3}
	lo, hi := geometry.Bounds(in.Polygon)
	p.ring = newRing(in.Polygon, lo, hi, max(0.25, max(hi.X-lo.X, hi.Y-lo.Y)/64))
	for i := range p.ring.edges {
		p.addWall(&p.ring.edges[i])
	}
	if f := p.floor; f != nil {
		// The box holds the floor between the walls as well.
		z := f.sign * p.sink()
		p.mesh.lo.Z, p.mesh.hi.Z = min(p.mesh.lo.Z, z), max(p.mesh.hi.Z, z)
		p.lid = p.newLid()
	}
	return p
}

// span returns the heights between which the prism is solid at (x, y).
func (p *prism) span(x, y float64) (lo, hi float64) {
	if p.floor == nil {
		return p.Low, p.High
	}
	f := p.floor.sign * (p.floor.sign*p.floor.plate.At(x, y) - p.depth)
	if p.floor.sign > 0 {
		return f, math.Inf(1)
	}
	return math.Inf(-1), f
}

// addWall makes the upper-bound facet, the inscribed disc and the exact mesh of
// one wall. The facet stops short of the floor's highest point along the wall.
func (p *prism) addWall(e *edge) {
	b := e.a.Add(e.d.Scale(e.length))
	zl, zh := math.Inf(-1), math.Inf(1)
	var plate *geometry.ThinPlate
	if p.floor != nil {
		plate = p.floor.plate
	}
	for _, q := range pieces(plate, e.a, b) {
		lo0, hi0 := p.span(q.a.X, q.a.Y)
		lo1, hi1 := p.span(q.b.X, q.b.Y)
		zl, zh = max(zl, max(lo0, lo1)+q.stray), min(zh, min(hi0, hi1)-q.stray)
		at := func(v geometry.Vec2, z float64) geometry.Vec3 {
			return geometry.Vec3{X: v.X, Y: v.Y, Z: max(p.zLo, min(p.zHi, z))}
		}
		p.mesh.quad(at(q.a, lo0), at(q.b, lo1), at(q.b, hi1), at(q.a, hi0))
		p.mesh.error = max(p.mesh.error, q.stray)
		p.addPiece(e, q, lo0, lo1, hi0, hi1)
	}
	k := geometry.Vec3{X: e.a.X, Y: e.a.Y}
	along, out := geometry.Vec3{X: e.d.X, Y: e.d.Y}, geometry.Vec3{X: -e.n.X, Y: -e.n.Y}
	if zh > zl {
		f := newFacet(k, along, geometry.Vec3{Z: 1}, out, [2]float64{0, e.length}, [2]float64{zl, zh}, p.behind(e))
		f.back = p.floorBehind(zl, zh, f.thick)
		p.facets = append(p.facets, f)
	}
	if !p.ring.convex {
		return
	}
	// The largest disc touching the edge's middle m from within: its centre
	// m + r n keeps r from every other edge's line, s + r (n.f) >= r.
	m, r := e.a.Add(e.d.Scale(e.length/2)), math.Inf(1)
	for i := range p.ring.edges {
		f := &p.ring.edges[i]
		if c := 1 - e.n.Dot(f.n); c > 1e-12 {
			r = min(r, f.n.Dot(m.Sub(f.a))/c)
		}
	}
	if r > 0 && !math.IsInf(r, 1) {
		p.discs = append(p.discs, disc{m.Add(e.n.Scale(r)), r})
	}
}

// addPiece makes the facet of one piece of a wall with a floor: its edge follows
// the floor, which the whole wall's facet only clears at its highest point.
func (p *prism) addPiece(e *edge, q piece, lo0, lo1, hi0, hi1 float64) {
	if p.floor == nil {
		return
	}
	z0, z1, up := lo0+q.stray, lo1+q.stray, [2]float64{0, math.Inf(1)}
	if math.IsInf(lo0, -1) {
		z0, z1, up = hi0-q.stray, hi1-q.stray, [2]float64{math.Inf(-1), 0}
	}
	k := geometry.Vec3{X: q.a.X, Y: q.a.Y, Z: z0}
	along := geometry.Vec3{X: q.b.X, Y: q.b.Y, Z: z1}.Sub(k)
	length := along.Norm()
	if length < 1e-9 {
		return
	}
	out := geometry.Vec3{X: -e.n.X, Y: -e.n.Y}
	p.edges = append(p.edges, newFacet(k, along.Scale(1/length), geometry.Vec3{Z: 1}, out, [2]float64{0, length}, up, 0))
}

// floorBehind returns by how much the floor can stand proud of the facet's own
// range of heights within thick behind it: there the prism is that much shorter.
func (p *prism) floorBehind(zl, zh, thick float64) float64 {
	if p.floor == nil {
		return 0
	}
	const step = 0.2 // mm: the floor rises between the points by its slope at most
	lo, hi := geometry.Bounds(p.Polygon)
	proud, n := 0.0, 0
	for x := lo.X; x < hi.X+step; x += step {
		for y := lo.Y; y < hi.Y+step; y += step {
			if p.ring.signed(geometry.Vec2{X: x, Y: y}) < -step {
				continue
			}
			low, high := p.span(x, y)
			if p.floor.sign > 0 { // the other end goes on for ever
				proud = max(proud, low-zl)
			} else {
				proud = max(proud, zh-high)
			}
			if n++; n > 10000 {
				return p.floor.steep * thick
			}
		}
	}
	return min(p.floor.steep*thick, proud+p.floor.steep*step/math.Sqrt2)
}

// pieces is split for a wall with a floor, and the whole wall for one without.
func pieces(plate *geometry.ThinPlate, a, b geometry.Vec2) []piece {
	if plate == nil {
		return []piece{{a: a, b: b}}
	}
	return split(Uncut(plate), 1, a, b, floorStray, 1)
}

// behind returns how deep the polygon is behind edge e, square to it.
func (p *prism) behind(e *edge) float64 {
	depth := math.Inf(1)
	for i := range p.ring.edges {
		f := &p.ring.edges[i]
		if f == e || f.a == e.a {
			continue
		}
		v, w := f.a.Sub(e.a), f.a.Add(f.d.Scale(f.length)).Sub(e.a)
		u0, u1, s0, s1 := e.d.Dot(v), e.d.Dot(w), e.n.Dot(v), e.n.Dot(w)
		if u0 > u1 {
			u0, u1, s0, s1 = u1, u0, s1, s0
		}
		if u1 <= 1e-9 || u0 >= e.length-1e-9 {
			continue
		}
		if u0 < 0 {
			s0 += (s1 - s0) * (0 - u0) / (u1 - u0)
		}
		if u1 > e.length {
			s1 += (s0 - s1) * (u1 - e.length) / (u1 - u0)
		}
		depth = min(depth, max(0, min(s0, s1)))
	}
	return depth
}

func (p *prism) rows(at geometry.Vec3, reach Reach, span *Span, limit float64, out []Row) []Row {
	full := reach.Full()
	if p.mesh.toBox(at)-p.Allowance-full >= limit || span != nil && full >= bentReach {
		return out
	}
	best := Row{Value: math.Inf(1)}
	try := func(r Row) {
		if r.Value+r.Slack < best.Value+best.Slack {
			best = r
		}
	}
	bent := span != nil && p.ring.convex && full < bentReach
	if bent && p.distance(at.Add(span.Shift))-p.Allowance-full >= limit {
		if p.floor == nil {
			return out
		}
		bent = false // the part that the distance is to is far off; the floor may not be
	}
	if bent {
		if r, ok := p.straight(at, span); ok {
			best = r
		} else {
			best = cornerRow(at, span, p.Allowance, p.distance)
		}
	}
	if !bent || full < narrowReach && best.Slack > slight {
		p.walls(at, reach, &best, try)
	}
	p.ends(at, reach, best.Value+best.Slack, try)
	best = p.mesh.sharpen(best, at, reach, p.Allowance)
	if best.Value-full < limit {
		out = append(out, best)
	}
	return out
}

// walls tries the bounds from the walls and from the discs inside them.
func (p *prism) walls(at geometry.Vec3, reach Reach, best *Row, try func(Row)) {
	for i := range p.facets {
		f := &p.facets[i]
		if s := f.n.Dot(at.Sub(f.k)); s-p.Allowance < best.Value+best.Slack {
			try(f.bound(at, reach, p.Allowance))
		}
	}
	for i := range p.edges {
		if reach.Full() > wideReach {
			break
		}
		f := &p.edges[i]
		// Seen from behind, another wall is nearer.
		if s := f.n.Dot(at.Sub(f.k)); s >= 0 && s-p.Allowance < best.Value+best.Slack {
			try(f.bound(at, reach, p.Allowance))
		}
	}
	lo, hi := p.span(at.X, at.Y)
	for i := range p.discs {
		c := &p.discs[i]
		v := at.XY().Sub(c.c)
		d := v.Norm()
		// The floor may rise or fall by its steepest slope within the reach.
		if d < 1e-3 || d-c.radius-p.Allowance >= best.Value+best.Slack {
			continue
		}
		grow := reach.Rise
		if p.floor != nil {
			grow += p.floor.steep * (reach.Plan + d + c.radius)
		}
		if at.Z-grow >= lo && at.Z+grow <= hi {
			away := geometry.Vec3{X: v.X / d, Y: v.Y / d}
			try(Row{Value: d - c.radius - p.Allowance, Gradient: away, Slack: reach.Plan * reach.Plan / (2 * d)})
		}
	}
}

// ends tries the bounds from the floor, or from the flat ends of a prism inside,
// where they can be below limit.
func (p *prism) ends(at geometry.Vec3, reach Reach, limit float64, try func(Row)) {
	if p.floor != nil {
		r, t := p.floor.row(at, -p.depth, reach, p.Allowance)
		if r.Value+r.Slack >= limit {
			return
		}
		foot := geometry.Vec2{X: t.k.X, Y: t.k.Y}
		over := max(0, t.radius+r.Slack-p.ring.signed(foot))
		around := geometry.Vec2{X: t.radius, Y: t.radius}
		if over == 0 {
			try(r)
		} else if t.depth > reach.Full() && p.floor.covers(foot.Sub(around), foot.Add(around)) {
			// Sliding along the floor to the polygon climbs by its slope at most.
			r.Slack += over * math.Sqrt(1+p.floor.steep*p.floor.steep)
			try(r)
		}
		return
	}
	for _, end := range [2]struct{ z, up float64 }{{p.Low, -1}, {p.High, 1}} {
		s := end.up * (at.Z - end.z)
		if math.IsInf(end.z, 0) || s-p.Allowance >= limit {
			continue
		}
		over := max(0, reach.Plan-p.ring.signed(at.XY()))
		value, slope, slack := wall(s, reach.Rise, over, p.High-p.Low)
		try(Row{Value: value - p.Allowance, Gradient: geometry.Vec3{Z: end.up * slope}, Slack: slack})
	}
}

func (p *prism) lower(at geometry.Vec3, enough float64) float64 {
	// Within the box the point may be inside.
	if box := p.mesh.toBox(at); box > 0 && box-p.mesh.error-p.Allowance >= enough {
		return box - p.mesh.error - p.Allowance
	}
	d := p.mesh.distance(at, math.Inf(1))
	lo, hi := p.span(at.X, at.Y)
	inPlan := geometry.InPolygon(p.ring.corners, at.XY())
	if inPlan && at.Z >= lo && at.Z <= hi {
		exit := min(d+2*p.mesh.error, min(at.Z-lo, hi-at.Z))
		return -exit - p.Allowance
	}
	if p.floor != nil {
		d = min(d, p.toFloor(at, d, enough+p.Allowance))
	} else if inPlan {
		d = min(d, max(lo-at.Z, at.Z-hi))
	}
	return d - p.Allowance
}

// toFloor bounds from below the distance from a point in front of the floor to
// the part of it over the polygon, given that to the walls. A point of the floor
// that is nearer than the edge, which the walls share, is the foot of a
// perpendicular. The squared distance, as a function of the place in plan, has a
// Hessian of at least 1 - gap m, with the largest gap in height and the largest
// second derivative of the floor nearby: where that is positive there is one foot
// only, no further from the one found than the slope left there over that.
func (p *prism) toFloor(at geometry.Vec3, walls, enough float64) float64 {
	beside := max(0, -p.ring.signed(at.XY()))
	least := min(walls, enough)
	d := max(beside, p.lid.below(p.floor.flip(at)), p.floor.lower(at, -p.depth, least))
	if d >= least {
		return d
	}
	q := p.floor.flip(at)
	t := p.floor.foot(q, -p.depth)
	for range 6 {
		if t = p.floor.closer(t, q, -p.depth); t.aside < 1e-6 {
			break
		}
	}
	foot := t.k.XY()
	if p.ring.signed(foot) >= 0 && d > t.depth-fineSag {
		return d // no place of the whole surface is nearer than one over the polygon
	}
	size := foot.Sub(at.XY()).Norm() + walls
	m := max(0, max(p.floor.dip.around(t.i, t.j, size), p.floor.rise.around(t.i, t.j, size)))
	gap := max(walls, math.Abs(t.k.Z-q.Z)) + m*size*size/8
	if left := 1 - gap*m; left > 0 {
		miss := t.aside / t.n.Z / left
		if p.ring.signed(foot) < -miss || t.k.Z-q.Z+p.floor.steep*miss < 0 {
			return walls
		}
	}
	// The floor goes on beside the polygon, and may be nearer there.
	ask := query{q: q, lift: -p.depth, touch: nowhere, stop: least, detail: toTiles, within: p.over}
	over, _ := p.floor.nearest(ask)
	return min(walls, max(d, over))
}

// over tells how much of an upright square, given by its middle and half width, may be
// over the polygon.
func (p *prism) over(x, y, r float64) int {
	switch in := p.ring.signed(geometry.Vec2{X: x, Y: y}); {
	case in < -r*math.Sqrt2:
		return outside
	case in < r*math.Sqrt2:
		return across
	}
	return whole
}

// sink is the lowest that the floor can come over the polygon, in its own sense of up.
func (p *prism) sink() float64 {
	f := p.floor
	lo, hi := geometry.Bounds(p.Polygon)
	i0, j0 := f.at(lo.X, lo.Y)
	i1, j1 := f.at(hi.X, hi.Y)
	low, reach := math.Inf(1), f.step*math.Sqrt2/2
	for j := j0; j <= j1; j++ {
		for i := i0; i <= i1; i++ {
			n := f.nodes[j*f.nx+i]
			down := float64(f.dip.least[0][j*f.nx+i])
			low = min(low, n.z-math.Hypot(n.zx, n.zy)*reach-max(0, down)*reach*reach/2)
		}
	}
	return low - p.depth
}

func (p *prism) tabled(at geometry.Vec3, enough float64) float64 { return p.lower(at, enough) }

func (p *prism) apart(at geometry.Vec3) float64 { return p.mesh.toBox(at) - p.mesh.error - p.Allowance }

// bend is that of the distance to a point, but in front of an end, where all feet are on
// it: a flat end costs nothing, a floor what it turns up.
func (p *prism) bend(at geometry.Vec3, distance, radius float64) float64 {
	c := inverse(distance - radius)
	beside := p.ring.signed(at.XY()) - 2*radius
	if distance <= 0 || beside < 0 {
		return c
	}
	f := p.floor
	if f == nil {
		if at.Z-2*radius > p.High || at.Z+2*radius < p.Low {
			return 0
		}
		return c
	}
	z, _ := f.height(at.X, at.Y)
	far := max(0, z-p.depth-f.sign*at.Z) + 2*radius
	aside := far * min(1, f.steep)
	if aside > beside {
		return c
	}
	i, j := f.at(at.X, at.Y)
	return min(c, max(0, f.rise.within(i, j, 2*radius+aside+f.step)))
}

func (p *prism) keep() float64                 { return p.Allowance }
func (p *prism) inside() (geometry.Vec3, bool) { return p.mesh.tri[0].mid, true }

func (p *prism) slopes(at geometry.Vec3, limit float64, out []Row) []Row {
	if d, g := p.slope(at); d-p.Allowance < limit {
		out = append(out, Row{Value: d - p.Allowance, Gradient: g})
	}
	return out
}

// estimate is the distance from p to the walls and the ends, negative inside,
// less the allowance.
func (p *prism) estimate(at geometry.Vec3) float64 {
	d, _ := p.slope(at)
	return d - p.Allowance
}
