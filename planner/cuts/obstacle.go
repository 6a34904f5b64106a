package cuts

import (
	"math"
	"slices"

	"cabwright/geometry"
	"cabwright/planner"
)

// obstacles returns the cracks and pockets of which something lies within the
// sides, each with the points that can be its outermost ones there.
func (b *Body) obstacles(sides []half) []obstacle {
	var out []obstacle
	for i := range b.sheets {
		if o := b.sheets[i].ends(sides); len(o.points) > 0 {
			out = append(out, o)
		}
	}
	for i := range b.hollows {
		if o := b.hollows[i].ends(sides); len(o.points) > 0 {
			out = append(out, o)
		}
	}
	return out
}

// ends are both ends of every part of a line of a sheet inside the rough: its
// outermost point in any direction is one of them.
func (s *sheet) ends(sides []half) obstacle {
	o := obstacle{id: s.id}
	s.each(sides, func(part stretch) bool {
		o.points = append(o.points, part.start.Add(s.into.Scale(part.from)), part.start.Add(s.into.Scale(part.to)))
		return true
	})
	return o
}

// hollow is a pocket as what of it lies in the rough: columns along its outline and over
// its middle, worked out when first asked for.
type hollow struct {
	id      string
	columns func() []column
}

// ends are those of a pocket's columns within the sides.
func (p *hollow) ends(sides []half) obstacle {
	o := obstacle{id: p.id}
	for _, c := range p.columns() {
		if low, high := clipAll(&c, sides); high > low {
			o.points = append(o.points, geometry.Vec3{X: c.x, Y: c.y, Z: low}, geometry.Vec3{X: c.x, Y: c.y, Z: high})
		}
	}
	return o
}

// any tells whether something of a pocket lies in the rough and the sides.
func (p *hollow) any(sides []half) bool {
	return slices.ContainsFunc(p.columns(), func(c column) bool {
		low, high := clipAll(&c, sides)
		return high > low
	})
}

func (b *Body) columnsOf(p *planner.Pocket) []column {
	var out []column
	add := func(at geometry.Vec2) {
		if !geometry.InPolygon(b.Rough.Outline, at) {
			return
		}
		if c := b.pocketColumn(p, at.X, at.Y); c.high > c.low {
			out = append(out, c)
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
	return out
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
