package cuts

import (
	"math"

	"cabwright/geometry"
	"cabwright/planner"
)

// obstacles returns the cracks and pockets of which something lies within the
// sides, each with the points that can be its outermost ones there.
func (b *Body) obstacles(sides []half) []obstacle {
	var out []obstacle
	for i := range b.sheets {
		if o := b.sheetEnds(&b.sheets[i], sides); len(o.points) > 0 {
			out = append(out, o)
		}
	}
	for i := range b.Stone.Pockets {
		if o := b.pocketEnds(&b.Stone.Pockets[i], sides); len(o.points) > 0 {
			out = append(out, o)
		}
	}
	return out
}

// sheetEnds are both ends of every line of a sheet inside the rough: a line's
// outermost point in any direction is one of them.
func (b *Body) sheetEnds(s *sheet, sides []half) obstacle {
	o := obstacle{id: s.id}
	for _, start := range s.starts {
		from, to := s.within(start, sides)
		if to < from {
			continue
		}
		in := func(depth float64) bool { return b.holds(start.Add(s.into.Scale(depth))) }
		// Ends that lie outside of the rough are drawn in to where it begins.
		parts := math.Ceil((to-from)/(4*sheetStep)) + 1
		first, last := -1.0, -1.0
		for k := 0.0; k <= parts; k++ {
			if in(from + (to-from)*k/parts) {
				if first < 0 {
					first = k
				}
				last = k
			}
		}
		if first < 0 {
			continue
		}
		at := func(k float64) float64 { return from + (to-from)*math.Max(0, math.Min(1, k/parts)) }
		o.points = append(o.points,
			start.Add(s.into.Scale(edge(in, at(first), at(first-1)))), start.Add(s.into.Scale(edge(in, at(last), at(last+1)))))
	}
	return o
}

// edge halves the way from a depth at which a line is inside the rough to one
// at which it is not, and returns the last one inside.
func edge(in func(float64) bool, good, bad float64) float64 {
	if in(bad) {
		return bad
	}
	for range 12 {
		if m := (good + bad) / 2; in(m) {
			good = m
		} else {
			bad = m
		}
	}
	return good
}

// pocketEnds are the ends of a pocket's columns within the rough: along its
// outline, and over its middle.
func (b *Body) pocketEnds(p *planner.Pocket, sides []half) obstacle {
	o := obstacle{id: p.ID}
	add := func(at geometry.Vec2) {
		if !geometry.InPolygon(b.Rough.Outline, at) {
			return
		}
		c := b.pocketColumn(p, at.X, at.Y)
		if low, high := clipAll(&c, sides); high > low {
			o.points = append(o.points, geometry.Vec3{X: at.X, Y: at.Y, Z: low}, geometry.Vec3{X: at.X, Y: at.Y, Z: high})
		}
	}
	n := len(p.Outline)
	for i, q := range p.Outline {
		r := p.Outline[(i+1)%n]
		parts := math.Min(500, math.Ceil(r.Sub(q).Norm()/sheetStep)+1)
		for k := 0.0; k < parts; k++ {
			add(q.Add(r.Sub(q).Scale(k / parts)))
		}
	}
	for i := range b.columns {
		if at := (geometry.Vec2{X: b.columns[i].x, Y: b.columns[i].y}); geometry.InPolygon(p.Outline, at) {
			add(at)
		}
	}
	for i := range b.rim {
		if at := (geometry.Vec2{X: b.rim[i].x, Y: b.rim[i].y}); geometry.InPolygon(p.Outline, at) {
			add(at)
		}
	}
	return o
}

// pocketColumn is what of a pocket lies in the rough over one place.
func (b *Body) pocketColumn(p *planner.Pocket, x, y float64) column {
	c := b.at(x, y)
	switch p.Face {
	case planner.Top:
		c.low = math.Max(c.low, c.high-p.Depth)
	case planner.Base:
		c.high = math.Min(c.high, c.low+p.Depth)
	case planner.Inside:
		c.low, c.high = math.Max(c.low, p.Low), math.Min(c.high, p.High)
	}
	return c
}
