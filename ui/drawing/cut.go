package drawing

import (
	"math"
	"slices"

	"cabwright/geometry"
	"cabwright/planner"
)

// Cut is an upright plane through the stone: in plan the line through A and B.
// A section is drawn with A on the left, distances along it counted from A.
type Cut struct{ A, B geometry.Vec2 }

// direction returns the unit vector from A to B; +x when they are one point.
func (k Cut) direction() geometry.Vec2 {
	d := k.B.Sub(k.A)
	if l := d.Norm(); l > 0 && !math.IsInf(l, 0) {
		return d.Scale(1 / l)
	}
	return geometry.Vec2{X: 1}
}

// At returns the point of the line t mm from A.
func (k Cut) At(t float64) geometry.Vec2 { return k.A.Add(k.direction().Scale(t)) }

// Of returns how far along the line from A a point lies and how far to its
// left, both in mm.
func (k Cut) Of(p geometry.Vec2) (along, left float64) {
	d := k.direction()
	r := p.Sub(k.A)
	return r.Dot(d), d.Cross(r)
}

// Moved returns the cut moved to its left by so many mm: the next slice.
func (k Cut) Moved(mm float64) Cut {
	d := k.direction()
	step := geometry.Vec2{X: -d.Y * mm, Y: d.X * mm}
	return Cut{k.A.Add(step), k.B.Add(step)}
}

// Turned returns the cut turned counter-clockwise about its middle, in radians.
func (k Cut) Turned(angle float64) Cut {
	sin, cos := math.Sincos(angle)
	mid := k.A.Add(k.B.Sub(k.A).Scale(0.5))
	turn := func(p geometry.Vec2) geometry.Vec2 {
		r := p.Sub(mid)
		return mid.Add(geometry.Vec2{X: r.X*cos - r.Y*sin, Y: r.X*sin + r.Y*cos})
	}
	return Cut{turn(k.A), turn(k.B)}
}

// LongAxis returns the cut along the fit's length, or without one along the
// longer side of the rectangle around the outline, through its middle. A lies on
// the left, or nearer to the cutter, as the face looked at is seen.
func (s Scene) LongAxis() Cut {
	lo, hi := geometry.Bounds(s.Stone.Outline)
	mid := middle(s.Stone.Outline)
	k := Cut{geometry.Vec2{X: lo.X, Y: mid.Y}, geometry.Vec2{X: hi.X, Y: mid.Y}}
	if hi.Y-lo.Y > hi.X-lo.X {
		k = Cut{geometry.Vec2{X: mid.X, Y: lo.Y}, geometry.Vec2{X: mid.X, Y: hi.Y}}
	}
	if drawable(s.Fit) {
		lo, hi := s.Fit.Solid.Outline.Extent()
		k = Cut{s.Fit.Pose.Place(geometry.Vec3{X: lo.X}).XY(), s.Fit.Pose.Place(geometry.Vec3{X: hi.X}).XY()}
		k = k.rightward().Across(s.Stone.Outline)
	}
	if s.face() == planner.Base && k.A.X != k.B.X {
		return Cut{k.B, k.A}
	}
	return k
}

// Across returns the cut with its ends where it enters and leaves the outline;
// one that misses it is left as it is.
func (k Cut) Across(outline []geometry.Vec2) Cut {
	spans := k.through(outline)
	if len(spans) == 0 {
		return k
	}
	return Cut{k.At(spans[0].from), k.At(spans[len(spans)-1].to)}
}

// rightward returns the cut with A on the left in plan, or else below.
func (k Cut) rightward() Cut {
	if k.B.X < k.A.X || k.B.X == k.A.X && k.B.Y < k.A.Y {
		return Cut{k.B, k.A}
	}
	return k
}

// span is a stretch of the line, in mm from A.
type span struct{ from, to float64 }

// through returns the stretches of the line inside a polygon, in order.
func (k Cut) through(polygon []geometry.Vec2) []span {
	var ts []float64
	for i, p := range polygon {
		q := polygon[(i+1)%len(polygon)]
		t0, off0 := k.Of(p)
		t1, off1 := k.Of(q)
		if (off0 > 0) != (off1 > 0) {
			ts = append(ts, t0+off0/(off0-off1)*(t1-t0))
		}
	}
	slices.Sort(ts)
	spans := make([]span, 0, len(ts)/2)
	for i := 0; i+1 < len(ts); i += 2 {
		spans = append(spans, span{ts[i], ts[i+1]})
	}
	return spans
}

// both returns the stretches that lie in a and in b, each in order.
func both(a, b []span) []span {
	var out []span
	for _, p := range a {
		for _, q := range b {
			if s := (span{math.Max(p.from, q.from), math.Min(p.to, q.to)}); s.from < s.to {
				out = append(out, s)
			}
		}
	}
	return out
}
