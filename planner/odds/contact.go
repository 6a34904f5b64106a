package odds

import (
	"math"

	"cabwright/geometry"
	"cabwright/planner"
)

// growing is a mark whose number grows from harmless to the worst. In closed form, with a
// face taken as straight over half a millimetre; what is told to people is asked of the
// exact shapes.
type growing interface {
	// contact returns the value at which the mark first comes nearer to a point than its
	// allowance and so much beyond, mm, and from which slice of the run-on on it does,
	// of those up to the given one; infinity where it never does.
	contact(p geometry.Vec3, beyond float64, slice int32) (value float64, from int32)
	// witness is a point of the mark as small as it gets, and whether it has one: what
	// lies wholly inside a solid touches its skin nowhere.
	witness() (geometry.Vec3, bool)
}

// box is where a mark comes too near at its worst, at the most.
type box struct{ lo, hi geometry.Vec3 }

func noBox() box {
	inf := math.Inf(1)
	return box{geometry.Vec3{X: inf, Y: inf, Z: inf}, geometry.Vec3{X: -inf, Y: -inf, Z: -inf}}
}

func (b *box) add(p geometry.Vec3, by float64) {
	b.lo = geometry.Vec3{X: min(b.lo.X, p.X-by), Y: min(b.lo.Y, p.Y-by), Z: min(b.lo.Z, p.Z-by)}
	b.hi = geometry.Vec3{X: max(b.hi.X, p.X+by), Y: max(b.hi.Y, p.Y+by), Z: max(b.hi.Z, p.Z+by)}
}

// holds reports whether a point is nearer to the box than a distance, about.
func (b *box) holds(p geometry.Vec3, by float64) bool {
	return p.X >= b.lo.X-by && p.X <= b.hi.X+by && p.Y >= b.lo.Y-by && p.Y <= b.hi.Y+by &&
		p.Z >= b.lo.Z-by && p.Z <= b.hi.Z+by
}

// sheet is a crack that grows, as strips.
type sheet struct {
	strips []strip
	within float64
	at     box
}

func (c *sheet) witness() (geometry.Vec3, bool) { return geometry.Vec3{}, false }

func (c *sheet) contact(p geometry.Vec3, beyond float64, slice int32) (value float64, from int32) {
	value = math.Inf(1)
	if !c.at.holds(p, beyond) {
		return value, 0
	}
	for i := range c.strips {
		s := &c.strips[i]
		if s.slice > slice {
			continue
		}
		v, ok := s.first(p, c.within+beyond)
		if v += s.least; ok && (v < value || v == value && s.slice < from) {
			value, from = v, s.slice
		}
	}
	return value, from
}

// pit is a pocket that goes in from a face and grows deeper.
type pit struct {
	rough  *planner.Rough
	face   planner.Face
	poly   []geometry.Vec2
	sign   float64 // +1 from the top
	within float64
	slope  float64 // how much further an inclined floor reaches straight down
	at     box
}

func (c *pit) witness() (geometry.Vec3, bool) { return geometry.Vec3{}, false }

func (c *pit) contact(p geometry.Vec3, beyond float64, _ int32) (value float64, from int32) {
	if !c.at.holds(p, beyond) {
		return math.Inf(1), 0
	}
	reach := c.within + beyond
	near, away := nearestIn(c.poly, p.XY())
	if away >= reach {
		return math.Inf(1), 0
	}
	up := math.Sqrt(reach*reach - away*away)
	if away == 0 {
		up *= c.slope
	}
	return math.Max(0, c.sign*(c.rough.Height(c.face, near.X, near.Y)-p.Z)-up), 0
}

// nearestIn returns the point of a polygon that is nearest to another and how far it is
// from there: 0 inside.
func nearestIn(poly []geometry.Vec2, p geometry.Vec2) (geometry.Vec2, float64) {
	if geometry.InPolygon(poly, p) {
		return p, 0
	}
	at, best := p, math.Inf(1)
	for i, a := range poly {
		d := poly[(i+1)%len(poly)].Sub(a)
		t := math.Max(0, math.Min(1, p.Sub(a).Dot(d)/math.Max(1e-18, d.Dot(d))))
		q := a.Add(d.Scale(t))
		if v := p.Sub(q); v.Dot(v) < best {
			at, best = q, v.Dot(v)
		}
	}
	return at, math.Sqrt(best)
}

// hidden is an inside pocket, of which the top or the bottom moves, or one that goes
// right through. As a number that grows a bottom is counted downwards.
type hidden struct {
	poly      []geometry.Vec2
	low, high float64
	bottom    bool // it is the bottom that moves
	within    float64
	at        box
}

func (c *hidden) witness() (geometry.Vec3, bool) {
	p := geometry.Vec3{X: c.poly[0].X, Y: c.poly[0].Y, Z: c.low}
	if c.bottom {
		p.Z = c.high
	}
	return p, !math.IsInf(p.Z, 0)
}

func (c *hidden) contact(p geometry.Vec3, beyond float64, _ int32) (value float64, from int32) {
	if !c.at.holds(p, beyond) {
		return math.Inf(1), 0
	}
	reach := c.within + beyond
	_, away := nearestIn(c.poly, p.XY())
	if away >= reach {
		return math.Inf(1), 0
	}
	up := math.Sqrt(reach*reach - away*away)
	switch {
	case c.bottom && p.Z-up <= c.high:
		return -math.Min(c.high, p.Z+up), 0
	case !c.bottom && p.Z+up >= c.low:
		return math.Max(c.low, p.Z-up), 0
	}
	return math.Inf(1), 0
}
