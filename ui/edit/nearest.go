package edit

import (
	"math"

	"cabwright/geometry"
	"cabwright/ui/view"
)

// Shape is where a thing is drawn: a point, a path or an outline.
type Shape struct {
	Thing  view.Selection
	Points []geometry.Vec2
	Closed bool // the last point is joined to the first
	Apart  bool // its points are picked one by one
	Behind bool // on the face turned away: it gives way to what is in front
}

// within is how near the pointer must be to a thing, in cells.
const within = 1.0

// What makes a thing lose or win against another at the same distance, in cells:
// one behind gives way, and a point wins against the edges it lies on.
const (
	behindBy = 0.5
	pointBy  = 0.25
)

// Nearest returns the thing that is drawn within one cell of p, or the point of
// one whose points are picked one by one.
func Nearest(s *view.State, w Window, p geometry.Vec2, shapes []Shape) (view.Selection, bool) {
	best, least := view.Selection{}, math.Inf(1)
	for _, shape := range shapes {
		extra := 0.0
		if shape.Behind {
			extra = behindBy
		}
		if d := w.toPath(s, p, shape.Points, shape.Closed) + extra; d <= within && d < least {
			best, least = shape.Thing, d
		}
		if !shape.Apart {
			continue
		}
		for i, q := range shape.Points {
			if d := w.Apart(s, p, q) + extra; d <= within && d < least+pointBy {
				best, least = shape.Thing, d
				best.Point = i
			}
		}
	}
	return best, best.Kind != view.Nothing
}

// toPath returns how far from a path a point is drawn, in cells.
func (w Window) toPath(s *view.State, p geometry.Vec2, path []geometry.Vec2, closed bool) float64 {
	if len(path) == 1 {
		return w.Apart(s, p, path[0])
	}
	least := math.Inf(1)
	for i := range Edges(path, closed) {
		least = min(least, w.Apart(s, p, OnSegment(p, path[i], path[(i+1)%len(path)])))
	}
	return least
}

// Edges returns how many edges a path or an outline has.
func Edges(points []geometry.Vec2, closed bool) int {
	if closed {
		return len(points)
	}
	return len(points) - 1
}

// OnSegment returns the point of the segment from a to b that is nearest to p.
func OnSegment(p, a, b geometry.Vec2) geometry.Vec2 {
	d := b.Sub(a)
	t := 0.0
	if l := d.Dot(d); l > 0 {
		t = max(0, min(1, p.Sub(a).Dot(d)/l))
	}
	return a.Add(d.Scale(t))
}

// NearestEdge returns the edge of an outline that is nearest to p.
func NearestEdge(outline []geometry.Vec2, p geometry.Vec2) int {
	best, least := 0, math.Inf(1)
	for i, a := range outline {
		if d := geometry.ToSegment(p, a, outline[(i+1)%len(outline)]); d < least {
			best, least = i, d
		}
	}
	return best
}
