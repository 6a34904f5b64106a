package geometry

import (
	"math"
	"sort"
)

// Area returns the signed area of the polygon: positive counter-clockwise.
func Area(poly []Vec2) float64 {
	a := 0.0
	for i, p := range poly {
		q := poly[(i+1)%len(poly)]
		a += p.Cross(q)
	}
	return a / 2
}

// Bounds returns the corners of the smallest upright rectangle around points.
func Bounds(points []Vec2) (lo, hi Vec2) {
	if len(points) == 0 {
		return
	}
	lo, hi = points[0], points[0]
	for _, p := range points[1:] {
		lo = Vec2{math.Min(lo.X, p.X), math.Min(lo.Y, p.Y)}
		hi = Vec2{math.Max(hi.X, p.X), math.Max(hi.Y, p.Y)}
	}
	return
}

// CounterClockwise returns the polygon with its corners counter-clockwise; it
// shares the slice when they already are.
func CounterClockwise(poly []Vec2) []Vec2 {
	if Area(poly) >= 0 {
		return poly
	}
	out := make([]Vec2, len(poly))
	for i, p := range poly {
		out[len(poly)-1-i] = p
	}
	return out
}

// InPolygon tells whether p lies inside the polygon (even-odd rule); on an edge
// either answer may come.
func InPolygon(poly []Vec2, p Vec2) bool {
	in := false
	for i, a := range poly {
		b := poly[(i+1)%len(poly)]
		if (a.Y > p.Y) != (b.Y > p.Y) && p.X < a.X+(p.Y-a.Y)/(b.Y-a.Y)*(b.X-a.X) {
			in = !in
		}
	}
	return in
}

// ToSegment returns the distance from p to the segment ab.
func ToSegment(p, a, b Vec2) float64 {
	d := b.Sub(a)
	t := 0.0
	if l := d.Dot(d); l > 0 {
		t = math.Max(0, math.Min(1, p.Sub(a).Dot(d)/l))
	}
	return p.Sub(a.Add(d.Scale(t))).Norm()
}

// Crossings returns the x at which the polygon's edges cross the level y, in
// ascending order: between the first and second, third and fourth, and so on,
// lies the inside.
func Crossings(poly []Vec2, y float64, buf []float64) []float64 {
	xs := buf[:0]
	for i, a := range poly {
		b := poly[(i+1)%len(poly)]
		if (a.Y > y) != (b.Y > y) {
			xs = append(xs, a.X+(y-a.Y)/(b.Y-a.Y)*(b.X-a.X))
		}
	}
	sort.Float64s(xs)
	return xs
}

// Meeting returns where the line from p along d meets that from q along e; p
// itself when they are as good as parallel, for then the curve between is straight,
// or when there is no line, the points being one.
func Meeting(p, d, q, e Vec2) Vec2 {
	cross := d.Cross(e)
	if !(math.Abs(cross) > 1e-9*d.Norm()*e.Norm()) {
		return p
	}
	return p.Add(d.Scale(q.Sub(p).Cross(e) / cross))
}
