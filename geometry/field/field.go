package field

import (
	"math"

	"cabwright/geometry"
)

// Body describes what a Field measures: the solid between two surfaces over a
// polygon, from whose outside every point keeps the allowance Skin, and the
// obstacles in it.
type Body struct {
	Polygon   []geometry.Vec2 // simple, counter-clockwise
	Top, Base *geometry.ThinPlate
	Low, High float64 // heights that enclose the body
	Skin      float64
}

// Field is a body with its obstacles, ready to be asked. It is safe for use by
// several goroutines once all obstacles are in.
type Field struct {
	body      Body
	lo, hi    geometry.Vec2
	top, base *surface
	ring      *ring
	sheets    []*sheet
	prisms    []*prism
	coarse    coarse
}

// Skin is the index that rows and Nearest give for the outside of the body;
// sheets follow in the order they were added, then prisms.
const Skin = 0

// New tabulates the body. The step of the tables is a quarter of a millimetre,
// or a 160th of the body's extent where that is more: it decides how tight the
// bounds are, not whether they hold.
func New(b Body) *Field {
	lo, hi := geometry.Bounds(b.Polygon)
	step := max(0.25, max(hi.X-lo.X, hi.Y-lo.Y)/160)
	margin := geometry.Vec2{X: 2 * step, Y: 2 * step}
	f := &Field{body: b, lo: lo, hi: hi}
	f.top = newSurface(b.Top, +1, lo.Sub(margin), hi.Add(margin), step)
	f.base = newSurface(b.Base, -1, lo.Sub(margin), hi.Add(margin), step)
	f.ring = newRing(b.Polygon, lo.Sub(margin), hi.Add(margin), step)
	f.ring.addNotches()
	return f
}

// AddSheet adds a thin obstacle.
func (f *Field) AddSheet(s Sheet) {
	from := f.base
	if s.FromTop {
		from = f.top
	}
	s.plate = from.plate
	// Carried on above the surface the sheet stays outside the body, unless it
	// leans over more than the surface falls away; a point there bounds the clearance
	// by the skin's allowance, so it may stand for the sheet's when that is no larger.
	s.open = math.Hypot(s.Into.X, s.Into.Y)*from.steep < 1 && s.Allowance <= f.body.Skin
	f.sheets = append(f.sheets, newSheet(s))
}

// AddPrism adds an upright prism.
func (f *Field) AddPrism(p Prism) { f.prisms = append(f.prisms, newPrism(p, f.body.Low, f.body.High)) }

// AddPit adds a prism that goes into the body from its top (or base) by depth.
func (f *Field) AddPit(polygon []geometry.Vec2, fromTop bool, depth, allowance float64) {
	p := Prism{Polygon: polygon, Allowance: allowance, floor: f.base, depth: depth}
	if fromTop {
		p.floor = f.top
	}
	// The floor has to be known wherever the pit goes, be it beside the body.
	if lo, hi := geometry.Bounds(polygon); !p.floor.covers(lo, hi) {
		lo, hi = geometry.Bounds([]geometry.Vec2{lo, hi, p.floor.origin, p.floor.end()})
		step := max(p.floor.step, max(hi.X-lo.X, hi.Y-lo.Y)/160)
		p.floor = newSurface(p.floor.plate, p.floor.sign, lo, hi, step)
	}
	f.AddPrism(p)
}

// Bounds returns the box around the body.
func (f *Field) Bounds() (lo, hi geometry.Vec3) {
	return geometry.Vec3{X: f.lo.X, Y: f.lo.Y, Z: f.body.Low}, geometry.Vec3{X: f.hi.X, Y: f.hi.Y, Z: f.body.High}
}

// Obstacles returns how many obstacles there are, the outside included.
func (f *Field) Obstacles() int { return 1 + len(f.sheets) + len(f.prisms) }

// Rows appends to out upper bounds on the clearance around p that hold for
// displacements within reach, leaving out those that cannot fall below limit.
// span may be nil; it must not go beyond the reach, and gives rows that are Bent
// where these are lower.
func (f *Field) Rows(p geometry.Vec3, reach Reach, span *Span, limit float64, out []Row) []Row {
	full := reach.Full()
	skin := f.body.Skin
	n := len(out)
	if r, _ := f.top.row(p, 0, reach, skin); r.Value-full < limit {
		out = append(out, r)
	}
	if r, _ := f.base.row(p, 0, reach, skin); r.Value-full < limit {
		out = append(out, r)
	}
	out = f.ring.rows(p, reach, span, skin, limit, out)
	for ; n < len(out); n++ {
		out[n].Obstacle = Skin
	}
	for i, s := range f.sheets {
		out = s.rows(p, reach, span, limit, out)
		for ; n < len(out); n++ {
			out[n].Obstacle = 1 + i
		}
	}
	for i, q := range f.prisms {
		out = q.rows(p, reach, span, limit, out)
		for ; n < len(out); n++ {
			out[n].Obstacle = 1 + len(f.sheets) + i
		}
	}
	return out
}

// Lower returns a lower bound on the clearance at p. Where the clearance is
// below enough it is exact to a few micrometres; above, it may stop early at
// any bound that is at least enough.
func (f *Field) Lower(p geometry.Vec3, enough float64) float64 {
	d, _ := f.Nearest(p, enough)
	return d
}

// Nearest is Lower with the index of the obstacle that decides.
func (f *Field) Nearest(p geometry.Vec3, enough float64) (float64, int) {
	skin := f.body.Skin
	d := f.ring.lower(p.XY(), enough+skin)
	d = min(d, f.top.lower(p, 0, min(d, enough+skin)))
	d = min(d, f.base.lower(p, 0, min(d, enough+skin))) - skin
	at := Skin
	for i, s := range f.sheets {
		if e := s.lower(p, min(d, enough)); e < d {
			d, at = e, 1+i
		}
	}
	for i, q := range f.prisms {
		if e := q.lower(p, min(d, enough)); e < d {
			d, at = e, 1+len(f.sheets)+i
		}
	}
	return d, at
}

// Each calls do with a lower bound of the clearance at p from every obstacle
// (exact below enough), in order of index.
func (f *Field) Each(p geometry.Vec3, enough float64, do func(obstacle int, clearance float64)) {
	skin := f.body.Skin
	d := f.ring.lower(p.XY(), enough+skin)
	d = min(d, f.top.lower(p, 0, enough+skin))
	d = min(d, f.base.lower(p, 0, enough+skin))
	do(Skin, d-skin)
	for i, s := range f.sheets {
		do(1+i, s.lower(p, enough))
	}
	for i, q := range f.prisms {
		do(1+len(f.sheets)+i, q.lower(p, enough))
	}
}

// Witness returns one point of an obstacle other than the outside: a body
// whose skin keeps clear of the obstacle holds all of it or none of it, and
// this point tells which.
func (f *Field) Witness(obstacle int) geometry.Vec3 {
	if i := obstacle - 1; i < len(f.sheets) {
		return f.sheets[i].mesh.tri[0].mid
	}
	return f.prisms[obstacle-1-len(f.sheets)].mesh.tri[0].mid
}

// Estimate returns the clearance at p as the tables have it, right to about a
// hundredth of a millimetre below limit and at least limit above: what a search
// climbs on. It is neither a lower nor an upper bound.
func (f *Field) Estimate(p geometry.Vec3, limit float64) float64 {
	skin := f.body.Skin
	d := f.top.foot(p, 0).depth
	if q := f.base.foot(f.base.flip(p), 0).depth; q < d {
		d = q
	}
	if q := f.ring.estimate(p.XY()); q < d {
		d = q
	}
	d -= skin
	for _, s := range f.sheets {
		if m := min(d, limit); s.mesh.toBox(p)-s.allowance < m {
			d = min(d, s.estimate(p))
		}
	}
	for _, q := range f.prisms {
		if m := min(d, limit); q.mesh.toBox(p)-q.Allowance < m {
			d = min(d, q.estimate(p))
		}
	}
	return d
}
