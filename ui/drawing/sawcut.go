package drawing

import (
	"math"

	"cabwright/geometry"
	"cabwright/planner"
	"cabwright/ui/canvas"
)

// SawCut is one saw cut: a plane through the middle of the kerf, as a stone file
// and a plan give it.
type SawCut struct {
	Name   string // what is written beside it: its number in the order of cutting, or its id
	Point  geometry.Vec3
	Normal geometry.Vec3 // of any length; it points to the offcut
	Kerf   float64       // mm
	Offcut bool          // what lies beyond is taken off, and dimmed
	Chosen bool
}

// beyond reports whether a point lies on the side the normal points to.
func (k SawCut) beyond(p geometry.Vec3) bool { return p.Sub(k.Point).Dot(k.Normal) > 0 }

// onFace returns the point of the face looked at over or under q.
func (s Scene) onFace(q geometry.Vec2) geometry.Vec3 {
	if s.Rough == nil {
		return geometry.Vec3{X: q.X, Y: q.Y}
	}
	if s.face() == planner.Base {
		return geometry.Vec3{X: q.X, Y: q.Y, Z: s.Rough.Base(q.X, q.Y)}
	}
	return geometry.Vec3{X: q.X, Y: q.Y, Z: s.Rough.Top(q.X, q.Y)}
}

// trace returns where a cut meets the face looked at, inside the outline: a row
// of lines. One that lies flat meets it nowhere that could be drawn.
func (k SawCut) trace(s Scene) [][]geometry.Vec2 {
	n := k.Normal
	flat := math.Hypot(n.X, n.Y)
	if flat < 1e-9*n.Norm() || flat == 0 {
		return nil
	}
	// At height z the plane runs along a line whose points q meet
	// n.X q.X + n.Y q.Y = n . Point - n.Z z.
	at := func(z float64) geometry.Vec2 {
		d := (n.Dot(k.Point) - n.Z*z) / (flat * flat)
		return geometry.Vec2{X: n.X * d, Y: n.Y * d}
	}
	along := geometry.Vec2{X: -n.Y / flat, Y: n.X / flat}
	mid := at(k.Point.Z)
	start := k.Point.XY().Sub(mid).Dot(along)
	line := Cut{mid.Add(along.Scale(start)), mid.Add(along.Scale(start + 1))}
	if s.Rough != nil && n.Z != 0 {
		// The face's own height moves a leaning cut.
		z := s.onFace(k.Point.XY()).Z
		line = Cut{at(z).Add(along.Scale(start)), at(z).Add(along.Scale(start + 1))}
	}
	var out [][]geometry.Vec2
	for _, sp := range line.through(s.Stone.Outline) {
		parts := 1
		if n.Z != 0 && s.Rough != nil {
			parts = 24
		}
		var path []geometry.Vec2
		for i := 0; i <= parts; i++ {
			q := line.At(sp.from + (sp.to-sp.from)*float64(i)/float64(parts))
			if parts > 1 {
				z := s.onFace(q).Z
				q = at(z).Add(along.Scale(q.Dot(along)))
			}
			path = append(path, q)
		}
		out = append(out, path)
	}
	return out
}

// stroke is how a cut is drawn: doubled, as a kerf has two sides, but in one line
// where two would be much wider than the kerf and the colour tells it apart.
func (k SawCut) stroke(c *canvas.Canvas, s Scene) canvas.Stroke {
	const wide = 1.3
	if !k.Chosen && s.painted(c) && c.View().MMPerCell > wide*k.Kerf {
		return canvas.Solid
	}
	return canvas.Double
}

// sawCuts draws the cuts.
func sawCuts(c *canvas.Canvas, s Scene) {
	for _, k := range s.Saw {
		class := canvas.SawCut
		if k.Chosen {
			class = canvas.Chosen
		}
		for _, path := range k.trace(s) {
			c.Polyline(path, false, canvas.Pen{Class: class, Stroke: k.stroke(c, s)})
		}
	}
}

// sawCuts draws where the cuts meet a section.
func (x *slicer) sawCuts() {
	d := x.cut.direction()
	for _, k := range x.scene.Saw {
		class := canvas.SawCut
		if k.Chosen {
			class = canvas.Chosen
		}
		across := k.Normal.X*d.X + k.Normal.Y*d.Y
		if math.Abs(across) < 1e-6*k.Normal.Norm() {
			continue // it runs along the section or lies flat
		}
		at := func(z float64) float64 {
			return (k.Normal.Dot(k.Point) - k.Normal.Z*z - k.Normal.X*x.cut.A.X - k.Normal.Y*x.cut.A.Y) / across
		}
		low, high := x.rough.Heights()
		mid := at((low + high) / 2)
		p := x.cut.At(mid)
		if !geometry.InPolygon(x.scene.Stone.Outline, p) {
			continue
		}
		low, high = x.rough.Base(p.X, p.Y), x.rough.Top(p.X, p.Y)
		a, b := geometry.Vec2{X: at(low), Y: low}, geometry.Vec2{X: at(high), Y: high}
		x.c.Line(a, b, canvas.Pen{Class: class, Stroke: k.stroke(x.c, x.scene)})
		x.add(label{text: planner.Visible(k.Name), class: canvas.SawCut, matters: sawMatters, near: []geometry.Vec2{b, a}})
	}
}
