package outline

import (
	"errors"
	"fmt"
	"math"
	"sort"

	"cabwright/geometry"
)

// polygon is a closed polygon, star-shaped about the origin.
type polygon struct {
	corner []geometry.Vec2 // counter-clockwise by rising direction from -pi
	angle  []float64       // their directions
}

// Freeform returns the outline with the given corners, in millimetres, in
// either direction. An error says that there are fewer than 3 corners, one is
// not a number or beyond 1 m, or the polygon is not star-shaped about the
// origin: every corner and every side must be seen from it, no side pointing
// nearer to it than closest.
func Freeform(corners []geometry.Vec2) (Outline, error) {
	if len(corners) < 3 {
		return Outline{}, fmt.Errorf("freeform outline: %d corners, at least 3 are needed", len(corners))
	}
	for i, p := range corners {
		if !(math.Abs(p.X) <= maxSize && math.Abs(p.Y) <= maxSize) {
			return Outline{}, fmt.Errorf("freeform outline: corner %d at %g, %g is not within %d mm", i, p.X, p.Y, maxSize)
		}
	}
	ring := append([]geometry.Vec2(nil), corners...)
	if twiceArea(ring) < 0 {
		for i, j := 0, len(ring)-1; i < j; i, j = i+1, j-1 {
			ring[i], ring[j] = ring[j], ring[i]
		}
	}
	c, err := newPolygon(ring)
	if err != nil {
		return Outline{}, fmt.Errorf("freeform outline: %w", err)
	}
	low, high := c.extent()
	return Outline{
		Shape: freeformShape, Length: high.X - low.X, Width: high.Y - low.Y,
		Polygon: ring, curve: c,
	}, nil
}

// closest is how near the origin may lie to the line of a side, in mm: a
// thousandth, finer than any corner is measured. With it, rounding moves a
// gauge by a part in 10^9 at most: 1e-16 of a corner's distance, up to 1.5 m,
// over closest.
const closest = 1e-3

var errNotStar = errors.New(
	"not every side is seen from the origin: move the origin, or leave out the corners that hide others",
)

// newPolygon orders a counter-clockwise ring by direction. The ring is
// star-shaped when each side turns counter-clockwise about the origin and,
// from the corner of least direction on, directions never fall: then the sides
// turn about it just once.
func newPolygon(ring []geometry.Vec2) (*polygon, error) {
	first := 0
	angle := make([]float64, len(ring))
	for i, p := range ring {
		angle[i] = direction(p.X, p.Y)
		if angle[i] < angle[first] {
			first = i
		}
		d := ring[(i+1)%len(ring)].Sub(p)
		if !(p.Cross(d) > 0 && p.Cross(d) >= closest*d.Norm()) {
			return nil, errNotStar
		}
	}
	g := &polygon{}
	for i := range ring {
		k := (first + i) % len(ring)
		g.corner = append(g.corner, ring[k])
		g.angle = append(g.angle, angle[k])
	}
	if !sort.Float64sAreSorted(g.angle) {
		return nil, errNotStar
	}
	return g, nil
}

// direction is the angle of (u, v) above -pi and up to pi: adding 0 turns a
// negative zero, whose angle could be -pi, into a plain one.
func direction(u, v float64) float64 { return math.Atan2(v+0, u) }

// gauge is that of the line through the side that the direction (u, v) meets.
func (g *polygon) gauge(u, v float64) float64 {
	if u == 0 && v == 0 {
		return 0
	}
	n := len(g.corner)
	after := sort.SearchFloat64s(g.angle, direction(u, v))
	p, q := g.corner[(after+n-1)%n], g.corner[after%n]
	d := q.Sub(p)
	return (u*d.Y - v*d.X) / p.Cross(d)
}

func (g *polygon) area() float64 { return twiceArea(g.corner) / 2 }

func (g *polygon) corners() []float64 { return append([]float64(nil), g.angle...) }

func (g *polygon) extent() (min, max geometry.Vec2) {
	min, max = g.corner[0], g.corner[0]
	for _, p := range g.corner {
		min = geometry.Vec2{X: math.Min(min.X, p.X), Y: math.Min(min.Y, p.Y)}
		max = geometry.Vec2{X: math.Max(max.X, p.X), Y: math.Max(max.Y, p.Y)}
	}
	return min, max
}

func (g *polygon) period() float64 { return 2 * math.Pi }

func (g *polygon) pieces() []support {
	n := len(g.corner)
	for i, p := range g.corner {
		q, r := g.corner[(i+1)%n], g.corner[(i+2)%n]
		if geometry.Turn(p, q, r) < 0 {
			return nil
		}
	}
	return []support{g.reach}
}

func (g *polygon) cover() []support { return []support{g.reach} }

// reach is the support of the polygon's convex hull.
func (g *polygon) reach(cu, cv float64) float64 {
	far := math.Inf(-1)
	for _, p := range g.corner {
		far = math.Max(far, p.X*cu+p.Y*cv)
	}
	return far
}

// twiceArea is the shoelace formula, negative for a clockwise ring.
func twiceArea(ring []geometry.Vec2) float64 {
	sum := 0.0
	for i, p := range ring {
		sum += p.Cross(ring[(i+1)%len(ring)])
	}
	return sum
}
