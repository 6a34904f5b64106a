package field

import (
	"math"

	"cabwright/geometry"
)

// Face is the top or the base of a body: the thin plate through its readings, cut
// off level. The body lies below the lower of the two (of a base: above the higher).
type Face struct {
	Plate *geometry.ThinPlate
	Level float64 // height, mm; infinite where nothing is cut off
}

// Uncut is a face that is not cut off.
func Uncut(plate *geometry.ThinPlate) Face { return Face{plate, math.Inf(1)} }

// heightOf returns the height of the face with the given sense (+1: a top).
func (f Face) heightOf(sign, x, y float64) float64 {
	z := f.Plate.At(x, y)
	if math.IsInf(f.Level, 0) {
		return z
	}
	return sign * min(sign*z, sign*f.Level)
}

// stray bounds how far the face strays, over the segment ab, from the straight line
// between its heights at the ends: l^2/8 times the largest second derivative of the
// plate. Where plate and level cross, the face is no steeper than the plate and
// strays by at most that over half the length.
func (f Face) stray(sign float64, a, b geometry.Vec2) float64 {
	l := b.Sub(a).Norm()
	mid := a.Add(b).Scale(0.5)
	c, change := f.Plate.Curvature(mid.X, mid.Y, l/2)
	bend := math.Hypot((c.ZXX-c.ZYY)/2, c.ZXY) + math.Abs(c.ZXX+c.ZYY)/2 + change
	plate := l * l / 8 * bend
	if math.IsInf(f.Level, 0) || l == 0 {
		return plate
	}
	d := b.Sub(a).Scale(1 / l)
	slope := math.Abs(c.ZX*d.X+c.ZY*d.Y) + bend*l/2
	off, drift := sign*(c.Z-f.Level), slope*l/2
	switch {
	case off+drift <= 0: // the plate is the lower one all along
		return plate
	case off-drift >= 0:
		return 0
	}
	return min(drift, plate+math.Abs(off)+drift)
}

// edged tells whether plate and level cross between a and b.
func (f Face) edged(sign float64, a, b geometry.Vec2) bool {
	if math.IsInf(f.Level, 0) {
		return false
	}
	over := func(p geometry.Vec2) bool { return sign*f.Plate.At(p.X, p.Y) > sign*f.Level }
	return over(a) != over(b)
}

// plateFace is the thin plate of a face as an obstacle: all that lies beyond it.
type plateFace struct {
	*surface
	allowance float64
}

func (f *plateFace) rows(p geometry.Vec3, reach Reach, span *Span, limit float64, out []Row) []Row {
	r, t := f.surface.row(p, 0, reach, f.allowance)
	full := reach.Full()
	if r.Value-full >= limit {
		return out
	}
	loose := r.Slack > fineSag
	better := func(q Row) {
		if q.Value+q.Slack < r.Value+r.Slack {
			r = q
		}
	}
	if r.Slack > slight {
		if q, ok := f.beyond(p, full); ok && q.Value+q.Slack < 0 {
			return append(out, q)
		} else if ok {
			better(q)
		}
		better(ball(p, f.flip(t.k), reach, f.allowance))
	}
	if loose && full < closeReach {
		better(f.closeRow(p, reach, f.allowance))
	}
	if r.Slack <= slight {
		return append(out, r)
	}
	if q, ok := f.raised.row(f.surface, p, reach); ok {
		q.Value -= f.allowance
		better(q)
	}
	if span != nil && len(f.hollows.all) > 0 && full < bentReach {
		if q, ok := f.hollowRow(p, span, r.Value+r.Slack+f.allowance); ok {
			q.Value -= f.allowance
			better(q)
		}
	}
	return append(out, r)
}

// farBeyond is how far beyond a face a point is looked at, mm: few go further.
const farBeyond = 1

// beyond bounds what a point keeps that is beyond the face and moves by full: where it is
// in the body again, the way back is no longer than what it moves by.
func (f *plateFace) beyond(p geometry.Vec3, full float64) (Row, bool) {
	enough := max(0, full-f.allowance) + slight
	if enough > farBeyond {
		return Row{}, false
	}
	gap := f.gap(f.flip(p), enough)
	return Row{Value: -f.allowance - gap, Slack: full}, gap > 0
}

func (f *plateFace) slopes(p geometry.Vec3, limit float64, out []Row) []Row {
	d, n := f.surface.estimate(f.flip(p), 0)
	if d-f.allowance < limit {
		out = append(out, Row{Value: d - f.allowance, Gradient: f.flip(n).Scale(-1)})
	}
	return out
}

func (f *plateFace) estimate(p geometry.Vec3) float64 {
	d, _ := f.surface.estimate(f.flip(p), 0)
	return d - f.allowance
}

func (f *plateFace) lower(p geometry.Vec3, enough float64) float64 {
	return f.surface.lower(p, 0, enough+f.allowance) - f.allowance
}

func (f *plateFace) tabled(p geometry.Vec3, _ float64) float64 {
	return f.surface.tabled(p, 0) - f.allowance
}

func (f *plateFace) apart(geometry.Vec3) float64 { return math.Inf(-1) }

// bend is how much the face turns up where it can be nearest: a plane costs
// nothing. No point within twice radius is further from it than far, nor, in plan,
// from what it is nearest to. The distance to a point bounds it as well.
func (f *plateFace) bend(p geometry.Vec3, distance, radius float64) float64 {
	if distance <= 0 {
		return math.Inf(1)
	}
	i, j := f.at(p.X, p.Y)
	r, _ := f.surface.row(p, 0, Reach{}, 0)
	far := max(0, r.Value+r.Slack) + 2*radius
	m := max(0, f.rise.within(i, j, 2*radius+far*min(1, f.steep)+f.step))
	return min(m, inverse(distance-radius))
}

func (f *plateFace) keep() float64                 { return f.allowance }
func (f *plateFace) inside() (geometry.Vec3, bool) { return geometry.Vec3{}, false }
