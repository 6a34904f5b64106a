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
	Top, Base Face
	Low, High float64 // heights that enclose the body, mm
	Skin      float64 // mm
}

// Field is a body with its obstacles, ready to be asked. It is safe for use by
// several goroutines once all obstacles are in.
type Field struct {
	body      Body
	lo, hi    geometry.Vec2
	top, base *surface
	parts     []part
	obstacles int
	coarse    *coarse
}

// part is an obstacle with the index that rows and Nearest give for it: the outside
// of the body is several, all with the index Skin.
type part struct {
	obstacle
	index int
}

// Skin is the index of the outside of the body; the obstacles follow in the order
// that they were added in.
const Skin = 0

// New tabulates the body. The step of the tables is a quarter of a millimetre,
// or a 160th of the body's extent where that is more: it decides how tight the
// bounds are, not whether they hold.
func New(b Body) *Field {
	lo, hi := geometry.Bounds(b.Polygon)
	step := max(0.25, max(hi.X-lo.X, hi.Y-lo.Y)/160)
	margin := geometry.Vec2{X: 2 * step, Y: 2 * step}
	f := &Field{body: b, lo: lo, hi: hi, obstacles: 1}
	f.top = newSurface(b.Top.Plate, +1, lo.Sub(margin), hi.Add(margin), step)
	f.base = newSurface(b.Base.Plate, -1, lo.Sub(margin), hi.Add(margin), step)
	for _, s := range [2]struct {
		surface *surface
		level   float64
	}{{f.top, b.Top.Level}, {f.base, b.Base.Level}} {
		f.parts = append(f.parts, part{&plateFace{s.surface, b.Skin}, Skin})
		if s.surface.above(s.surface.sign * s.level) {
			f.AddHalfSpace(geometry.Vec3{Z: s.level}, geometry.Vec3{Z: -s.surface.sign}, b.Skin)
		}
	}
	r := newRing(b.Polygon, lo.Sub(margin), hi.Add(margin), step)
	r.addNotches()
	f.parts = append(f.parts, part{&walls{r, b.Skin}, Skin})
	return f
}

// Fresh returns the body alone, with none of the obstacles: its tables are shared.
func (f *Field) Fresh() *Field {
	out := &Field{body: f.body, lo: f.lo, hi: f.hi, top: f.top, base: f.base, obstacles: 1}
	for _, q := range f.parts {
		if q.index == Skin {
			out.parts = append(out.parts, q)
		}
	}
	return out
}

// add gives the parts of one obstacle the next index.
func (f *Field) add(parts ...obstacle) {
	for _, o := range parts {
		f.parts = append(f.parts, part{o, f.obstacles})
	}
	f.obstacles++
}

// AddSheet adds a thin obstacle.
func (f *Field) AddSheet(s Sheet) {
	from := f.base
	s.face, s.sign = f.body.Base, -1
	if s.FromTop {
		from, s.face, s.sign = f.top, f.body.Top, 1
	}
	// Carried on above the surface the sheet stays outside the body, unless it
	// leans over more than the surface falls away; a point there bounds the clearance
	// by the skin's allowance, so it may stand for the sheet's when that is no larger.
	s.open = math.Hypot(s.Into.X, s.Into.Y)*from.steep < 1 && s.Allowance <= f.body.Skin
	f.add(newSheet(s))
}

// AddPrism adds an upright prism.
func (f *Field) AddPrism(p Prism) { f.add(newPrism(p, f.body.Low, f.body.High)) }

// AddPit adds a prism that goes into the body from its top (or base) by depth. As
// the face is the lower of a plate and a level, the pit is two: one down from each.
func (f *Field) AddPit(polygon []geometry.Vec2, fromTop bool, depth, allowance float64) {
	p := Prism{Polygon: polygon, Allowance: allowance, floor: f.base, depth: depth}
	flat := Prism{Polygon: polygon, Allowance: allowance, Low: math.Inf(-1), High: f.body.Base.Level + depth}
	face := f.body.Base
	if fromTop {
		p.floor, face = f.top, f.body.Top
		flat.Low, flat.High = face.Level-depth, math.Inf(1)
	}
	// The floor has to be known wherever the pit goes, be it beside the body.
	if lo, hi := geometry.Bounds(polygon); !p.floor.covers(lo, hi) {
		lo, hi = geometry.Bounds([]geometry.Vec2{lo, hi, p.floor.origin, p.floor.end()})
		step := max(p.floor.step, max(hi.X-lo.X, hi.Y-lo.Y)/160)
		p.floor = newSurface(p.floor.plate, p.floor.sign, lo, hi, step)
	}
	if !p.floor.above(p.floor.sign * face.Level) {
		f.add(newPrism(p, f.body.Low, f.body.High))
		return
	}
	f.add(newPrism(p, f.body.Low, f.body.High), newPrism(flat, f.body.Low, f.body.High))
}

// Bounds returns the box around the body.
func (f *Field) Bounds() (lo, hi geometry.Vec3) {
	return geometry.Vec3{X: f.lo.X, Y: f.lo.Y, Z: f.body.Low}, geometry.Vec3{X: f.hi.X, Y: f.hi.Y, Z: f.body.High}
}

// Allowance returns what is kept from the outside of the body, mm.
func (f *Field) Allowance() float64 { return f.body.Skin }

// LeastAllowance returns the smallest allowance of all, mm.
func (f *Field) LeastAllowance() float64 {
	least := math.Inf(1)
	for k := range f.parts {
		least = min(least, f.parts[k].keep())
	}
	return least
}

// Obstacles returns how many obstacles there are, the outside included.
func (f *Field) Obstacles() int { return f.obstacles }

// Rows appends to out upper bounds on the clearance around p that hold for
// displacements within reach, leaving out those that cannot fall below limit.
// span may be nil; it must not go beyond the reach, and gives rows that are Bent
// where these are lower.
func (f *Field) Rows(p geometry.Vec3, reach Reach, span *Span, limit float64, out []Row) []Row {
	n := len(out)
	of, off := f.parted(p)
	off += reach.Full()
	for k := range f.parts {
		if k < len(of) && float64(of[k])-off >= limit {
			continue
		}
		q := &f.parts[k]
		out = q.rows(p, reach, span, limit, out)
		for ; n < len(out); n++ {
			out[n].Obstacle = q.index
		}
	}
	return out
}

// Slopes appends to out the clearance at p from every part of the outside and
// from every obstacle, where it is below limit, with its gradient, as Estimate has
// it: what a climb follows. They are no bounds.
func (f *Field) Slopes(p geometry.Vec3, limit float64, out []Row) []Row {
	n := len(out)
	of, off := f.parted(p)
	for k := range f.parts {
		q := &f.parts[k]
		if k < len(of) && float64(of[k])-off >= limit || q.apart(p) >= limit {
			continue
		}
		out = q.slopes(p, limit, out)
		for ; n < len(out); n++ {
			out[n].Obstacle = q.index
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
	d, at := math.Inf(1), Skin
	for k := range f.parts {
		q := &f.parts[k]
		if e := q.lower(p, min(d, enough)); e < d {
			d, at = e, q.index
		}
	}
	return d, at
}

// Witness returns one point of each part of an obstacle other than the outside: a
// body whose skin keeps clear of the part holds all of it or none of it, and this
// point tells which.
func (f *Field) Witness(obstacle int) []geometry.Vec3 {
	var out []geometry.Vec3
	for k := range f.parts {
		if q := &f.parts[k]; q.index == obstacle {
			if at, ok := q.inside(); ok {
				out = append(out, at)
			}
		}
	}
	return out
}

// Estimate returns the clearance at p as the tables have it, right to about a
// hundredth of a millimetre below limit and at least limit above: what a search
// climbs on. It is neither a lower nor an upper bound.
func (f *Field) Estimate(p geometry.Vec3, limit float64) float64 {
	d := math.Inf(1)
	of, off := f.parted(p)
	for k := range f.parts {
		q := &f.parts[k]
		most := min(d, limit)
		if (k >= len(of) || float64(of[k])-off < most) && q.apart(p) < most {
			d = min(d, q.estimate(p))
		}
	}
	return d
}
