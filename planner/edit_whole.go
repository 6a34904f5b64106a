package planner

import (
	"fmt"
	"math"

	"cabwright/geometry"
)

// ScaleOutlineTo stretches the stone in plan, along the length and the breadth
// that Extent finds, until those are the caliper's length and width in mm.
// Everything that was placed by eye against the outline goes with it: readings
// (their heights stay), cracks, pockets, colour zones and cuts.
func ScaleOutlineTo(s Stone, length, width float64) (Stone, error) {
	for _, v := range []float64{length, width} {
		if !(v >= sameSpot && v <= 2*maxReach) {
			return refuse(s, "outline", "%v mm is no length to scale to", v)
		}
	}
	e := Extent(s.Outline)
	if !(e.Width > 0) {
		return refuse(s, "outline", "there is no outline to scale")
	}
	along := geometry.Vec2{X: math.Cos(e.Angle), Y: math.Sin(e.Angle)}
	across := geometry.Vec2{X: -along.Y, Y: along.X}
	stretch := func(p geometry.Vec2) geometry.Vec2 {
		d := p.Sub(e.Centre)
		return e.Centre.Add(along.Scale(d.Dot(along) * length / e.Length)).Add(across.Scale(d.Dot(across) * width / e.Width))
	}
	return inPlan(s, stretch)
}

// TurnOutline turns the whole stone in plan by an angle in degrees,
// counter-clockwise, about the middle of its outline's bounds.
func TurnOutline(s Stone, degrees float64) (Stone, error) {
	if math.IsNaN(degrees) || math.IsInf(degrees, 0) {
		return refuse(s, "outline", "%v is not a number of degrees", degrees)
	}
	if len(s.Outline) == 0 {
		return refuse(s, "outline", "there is no outline to turn")
	}
	lo, hi := geometry.Bounds(s.Outline)
	centre := lo.Add(hi).Scale(0.5)
	sin, cos := math.Sincos(math.Mod(degrees, 360) * math.Pi / 180)
	out, err := inPlan(s, func(p geometry.Vec2) geometry.Vec2 {
		d := p.Sub(centre)
		return geometry.Vec2{X: centre.X + cos*d.X - sin*d.Y, Y: centre.Y + sin*d.X + cos*d.Y}
	})
	if err != nil {
		return s, err
	}
	for i := range out.Cracks {
		out.Cracks[i].Toward = compass(out.Cracks[i].Toward + degrees)
	}
	return out, nil
}

// compass brings a direction into 0 <= degrees < 360.
func compass(degrees float64) float64 {
	d := tidy(math.Mod(degrees, 360))
	if d < 0 {
		d += 360
	}
	return d
}

// TurnOver turns the stone over about the y axis, left to right: the base
// becomes the top. Heights are counted so that they keep their range, which
// makes turning over twice the stone as it was. A crack keeps its lean and a
// pocket its depth; what was seen on one face is on the other.
func TurnOver(s Stone) (Stone, error) {
	sum := heightSum(s)
	out, err := inPlan(s, func(p geometry.Vec2) geometry.Vec2 { return geometry.Vec2{X: -p.X, Y: p.Y} })
	if err != nil {
		return s, err
	}
	flip := func(z float64) float64 { return tidy(sum - z) }
	out.Top, out.Base = out.Base, out.Top
	for _, readings := range [][]geometry.Vec3{out.Top, out.Base} {
		for i := range readings {
			readings[i].Z = flip(readings[i].Z)
		}
	}
	for i := range out.Cracks {
		k := &out.Cracks[i]
		k.Face, k.Toward = k.Face.other(), compass(180-k.Toward)
	}
	for i := range out.Pockets {
		p := &out.Pockets[i]
		p.Face = p.Face.other()
		if p.Face == Inside {
			p.Low, p.High = flip(p.High), flip(p.Low)
			p.TopRange, p.BottomRange = flipped(p.BottomRange, flip), flipped(p.TopRange, flip)
		}
	}
	for i := range out.Colour {
		out.Colour[i].Face = out.Colour[i].Face.other()
	}
	for i := range out.Cuts {
		k := &out.Cuts[i]
		k.Point.Z, k.Normal.Z = flip(k.Point.Z), -k.Normal.Z+0
	}
	var c checker
	for i, k := range out.Cuts {
		c.reach(at("cuts", i)+".point", k.Point.Z)
	}
	for i, r := range out.Top {
		c.reach(fmt.Sprintf("top[%d]", i), r.Z)
	}
	for i, r := range out.Base {
		c.reach(fmt.Sprintf("base[%d]", i), r.Z)
	}
	if err := c.first(); err != nil {
		return s, err
	}
	return out, nil
}

// flipped turns a range of heights over.
func flipped(r *Range, flip func(float64) float64) *Range {
	if r == nil {
		return nil
	}
	return &Range{Least: flip(r.Most), Most: flip(r.Least)}
}

// heightSum is the highest plus the lowest reading: a height z turned over is
// at that sum less z.
func heightSum(s Stone) float64 {
	low, high := math.Inf(1), math.Inf(-1)
	for _, readings := range [][]geometry.Vec3{s.Top, s.Base} {
		for _, r := range readings {
			low, high = min(low, r.Z), max(high, r.Z)
		}
	}
	if low > high {
		return 0
	}
	return low + high
}

// other returns the opposite face; Through and Inside are their own.
func (f Face) other() Face {
	switch f {
	case Top:
		return Base
	case Base:
		return Top
	}
	return f
}

// inPlan moves every point of the stone in plan. The lists in what it returns
// are its own.
func inPlan(s Stone, move func(geometry.Vec2) geometry.Vec2) (Stone, error) {
	tidied := func(p geometry.Vec2) geometry.Vec2 { return tidy2(move(p)) }
	heights := func(readings []geometry.Vec3) []geometry.Vec3 {
		return mapped(readings, func(r geometry.Vec3) geometry.Vec3 {
			p := tidied(r.XY())
			return geometry.Vec3{X: p.X, Y: p.Y, Z: r.Z}
		})
	}
	s.Outline = mapped(s.Outline, tidied)
	s.Top, s.Base = heights(s.Top), heights(s.Base)
	s.Cracks = mapped(s.Cracks, func(k Crack) Crack { k.Path = mapped(k.Path, tidied); return k })
	s.Pockets = mapped(s.Pockets, func(p Pocket) Pocket { p.Outline = mapped(p.Outline, tidied); return p })
	s.Colour = mapped(s.Colour, func(z Zone) Zone { z.Outline = mapped(z.Outline, tidied); return z })
	s.Cuts = cutsInPlan(s.Cuts, move)
	var c checker
	if len(s.Outline) > 0 {
		c.outline("outline", s.Outline)
	}
	for _, part := range []struct {
		place    string
		readings []geometry.Vec3
	}{{"top", s.Top}, {"base", s.Base}} {
		for i, r := range part.readings {
			c.reach(fmt.Sprintf("%s[%d]", part.place, i), r.X, r.Y)
		}
	}
	c.marks(s)
	return s, c.first()
}

// cutsInPlan moves cuts by an affine map of the plan. A plane's normal goes by
// the inverse transpose of the map's linear part; it keeps its length.
func cutsInPlan(cuts []Cut, move func(geometry.Vec2) geometry.Vec2) []Cut {
	origin := move(geometry.Vec2{})
	x, y := move(geometry.Vec2{X: 1}).Sub(origin), move(geometry.Vec2{Y: 1}).Sub(origin)
	det := x.Cross(y)
	return mapped(cuts, func(k Cut) Cut {
		p, n := move(k.Point.XY()), k.Normal
		k.Point = geometry.Vec3{X: tidy(p.X), Y: tidy(p.Y), Z: k.Point.Z}
		turned := geometry.Vec3{X: (y.Y*n.X - x.Y*n.Y) / det, Y: (x.X*n.Y - y.X*n.X) / det, Z: n.Z}
		turned = turned.Scale(n.Norm() / turned.Norm())
		k.Normal = geometry.Vec3{X: tidy(turned.X), Y: tidy(turned.Y), Z: tidy(turned.Z)}
		return k
	})
}

func mapped[E any](list []E, f func(E) E) []E {
	if len(list) == 0 {
		return nil
	}
	out := make([]E, len(list))
	for i, e := range list {
		out[i] = f(e)
	}
	return out
}
