package poses

import (
	"math"

	"cabwright/geometry"
	"cabwright/geometry/outline"
	"cabwright/geometry/solid"
)

// Sample is a ball inside the cabochon: a point of its skin (radius 0), or a
// point inside it with a radius that stays inside. The clearance of the solid is
// at most the clearance at the centre less the radius, so any set of samples
// gives an upper bound.
type Sample struct {
	At     geometry.Vec3 // about the pivot; for a dome that points down, turned over
	Radius float64
	Lever  float64 // length of at
	Flat   float64 // its length in plan
}

// Model is one cabochon made ready for the search.
type Model struct {
	Solid   solid.Cabochon
	Flip    bool    // the dome points out of the base
	Pivot   float64 // height of the pivot above the girdle plane
	Samples []Sample
	Few     int     // so many of the first samples are spread over the whole solid
	Period  float64 // turn after which the outline repeats, radians; 0: any turn is alike
}

// spacing is the distance between neighbouring samples on the skin, mm. A
// contact between two samples is missed by at most spacing^2/8 times the relative
// curvature of stone and cabochon, here 0.5^2 x 0.3/8 = 0.01 mm; what is missed is
// found by the exact check and added as a sample of its own.
const spacing = 0.9

// NewModel samples the solid.
func NewModel(c solid.Cabochon, flip bool) *Model {
	m := &Model{Solid: c, Flip: flip, Period: c.Outline.TurnPeriod()}
	m.Pivot = (c.Wall + c.Dome - c.BackDepth()) / 2
	around := perimeter(c)
	n := int(max(20, min(110, math.Ceil(around/spacing))))
	rim := c.Outline.Points(n)
	r := c.RimRatio()
	m.ring(rim, 1, 0, 1)
	if c.Wall > 0 {
		m.ring(rim, r, c.Wall, 1)
	}
	half := around / (2 * math.Pi)
	m.bowl(rim, r, half*r, c.Wall, c.Dome)
	if back := c.BackDepth(); back > 0 {
		m.bowl(rim, 1, half, 0, -back)
	} else {
		for rho := 0.8; rho > 0.1; rho -= 0.3 {
			m.ring(rim, rho, 0, 2)
		}
		m.Add(geometry.Vec3{}, 0)
	}
	m.balls(rim)
	m.order()
	return m
}

// order puts the largest ball first, for it bounds most poses alone, and then
// few samples that are spread out: each next one is the furthest from those
// before (Gonzalez 1985). Wide boxes of poses are bounded with these alone.
func (m *Model) order() {
	s := m.Samples
	for i := range s {
		if s[i].Radius > s[0].Radius {
			s[0], s[i] = s[i], s[0]
		}
	}
	far := make([]float64, len(s))
	for i := range far {
		far[i] = math.Inf(1)
	}
	m.Few = min(len(s), 90)
	for k := 1; k < m.Few; k++ {
		best := k
		for i := k; i < len(s); i++ {
			v := s[i].At.Sub(s[k-1].At)
			far[i] = min(far[i], v.Dot(v))
			if far[i] > far[best] {
				best = i
			}
		}
		s[k], s[best] = s[best], s[k]
		far[k], far[best] = far[best], far[k]
	}
}

func perimeter(c solid.Cabochon) float64 {
	pts := c.Outline.Points(48)
	sum := 0.0
	for i, p := range pts {
		sum += p.Sub(pts[(i+1)%len(pts)]).Norm()
	}
	return sum
}

// Add appends a sample given in the solid's own axes.
func (m *Model) Add(at geometry.Vec3, radius float64) {
	at.Z -= m.Pivot
	if m.Flip {
		at.Y, at.Z = -at.Y, -at.Z
	}
	m.Samples = append(m.Samples, Sample{at, radius, at.Norm(), math.Hypot(at.X, at.Y)})
}

// ring adds every step-th point of the outline scaled by rho, at height w.
func (m *Model) ring(rim []geometry.Vec2, rho, w float64, step int) {
	for i := 0; i < len(rim); i += step {
		m.Add(geometry.Vec3{X: rho * rim[i].X, Y: rho * rim[i].Y, Z: w}, 0)
	}
}

// bowl adds rings over a half-ellipsoid of gauge r and height h over the level w.
func (m *Model) bowl(rim []geometry.Vec2, r, radius, w, h float64) {
	length := math.Pi / 2 * math.Sqrt((radius*radius+h*h)/2)
	n := int(max(3, math.Ceil(length/spacing)))
	for k := 1; k < n; k++ {
		s, c := math.Sincos(math.Pi / 2 * float64(k) / float64(n))
		m.ring(rim, r*c, w+h*s, int(max(1, min(float64(len(rim)/6), math.Floor(1.2/c)))))
	}
	m.Add(geometry.Vec3{Z: w + h}, 0)
}

// balls adds balls inside the solid, which settle most poses at once and see
// defects that lie wholly inside it.
func (m *Model) balls(rim []geometry.Vec2) {
	far := spread(m.Solid.Outline)
	m.ball(geometry.Vec2{}, far)
	for _, rho := range []float64{0.35, 0.7} {
		for i := 0; i < len(rim); i += max(1, len(rim)/10) {
			m.ball(rim[i].Scale(rho), far)
		}
	}
}

// spread returns what bounds the gauge over the disc of radius r about a point.
func spread(o outline.Outline) func(at geometry.Vec2, r float64) float64 {
	if !o.Convex() {
		return spreadOfArcs(o)
	}
	least := math.Inf(1)
	for _, p := range o.Points(180) {
		least = min(least, p.Norm())
	}
	// The gauge of a convex outline grows by at most this a millimetre. Between two of
	// 180 points a chord dips under the curve by less than 2%.
	steep := 1 / (0.98 * least)
	return func(at geometry.Vec2, r float64) float64 { return o.Gauge(at.X, at.Y) + r*steep }
}

// spreadOfArcs is spread for an outline whose gauge does not bound how near the curve
// comes. The polygon of points of it lies within it, for between its corners it bulges
// outwards: the disc is inside the outline scaled by k where it is inside the polygon
// scaled by k.
func spreadOfArcs(o outline.Outline) func(at geometry.Vec2, r float64) float64 {
	polygon := o.Points(72)
	inside := func(at geometry.Vec2, r, k float64) bool {
		at = at.Scale(1 / k)
		if !geometry.InPolygon(polygon, at) {
			return false
		}
		for i, p := range polygon {
			if k*geometry.ToSegment(at, p, polygon[(i+1)%len(polygon)]) < r {
				return false
			}
		}
		return true
	}
	return func(at geometry.Vec2, r float64) float64 {
		if !inside(at, r, 1) {
			return math.Inf(1)
		}
		lo, hi := 0.0, 1.0
		for range 6 {
			if k := (lo + hi) / 2; inside(at, r, k) {
				hi = k
			} else {
				lo = k
			}
		}
		return hi
	}
}

// ball adds the largest ball about a point over at that a few halvings find. Upper side
// and back only fall off outwards: where the solid is still thick enough at the largest
// gauge that the ball can reach, the ball is inside.
func (m *Model) ball(at geometry.Vec2, spread func(at geometry.Vec2, r float64) float64) {
	c := m.Solid
	lo, hi, height := 0.0, c.Height()/2, 0.0
	for range 9 {
		r := (lo + hi) / 2
		far := spread(at, r)
		if far < 1 && c.Upper(far)-c.Lower(far) >= 2*r {
			lo, height = r, (c.Upper(far)+c.Lower(far))/2
		} else {
			hi = r
		}
	}
	if lo > 0 {
		m.Add(geometry.Vec3{X: at.X, Y: at.Y, Z: height}, lo)
	}
}

// Own turns a sample back into the solid's own axes.
func (m *Model) Own(s Sample) geometry.Vec3 {
	p := s.At
	if m.Flip {
		p.Y, p.Z = -p.Y, -p.Z
	}
	p.Z += m.Pivot
	return p
}
