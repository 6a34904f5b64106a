package planner

import (
	"fmt"
	"math"

	"cabwright/geometry"
)

// Grinding is stone taken off a face: a depth in mm all over, or about one place.
type Grinding struct {
	Face   Face // Top or Base
	MM     float64
	At     *geometry.Vec2 // the middle of where it was ground; nil: all over
	Radius float64        // how far about At, mm; 0: GrindRadius
}

// GrindRadius is how far about a place grinding reaches when nothing is said, mm: a
// window to look in through (a convention of our own).
const GrindRadius = 3.0

// leastOff is the lowering of a face in mm that marks take no notice of: a surface
// through readings gives a little everywhere when one of them moves.
const leastOff = 0.02

// ringPoints is how many readings hold the face around a place that was ground.
const ringPoints = 8

// Ground is what became of the marks.
type Ground struct {
	Gone  []string // marks of which nothing is left, by id
	Maybe []string // marks that are likely gone: they were not sure to go as deep
}

// Grind takes stone off a face: its readings go down, what was measured in from
// the face gets shallower with its ranges, a leaning crack comes out where it is
// now. Heights do not move; what lay inside and is ground through is gone. The
// weight on the scale is forgotten: it was that of a heavier stone.
func Grind(s Stone, g Grinding) (Stone, Ground, error) {
	var c checker
	c.length("ground", g.MM)
	c.face("face", g.Face, Top, Base)
	if err := c.first(); err != nil {
		return s, Ground{}, err
	}
	if len(s.Readings(g.Face)) == 0 || len(s.Outline) == 0 {
		return s, Ground{}, Problem{Place: string(g.Face), What: "there is no reading to lower yet"}
	}
	before, err := geometry.FitThinPlate(s.Readings(g.Face))
	if err != nil {
		return s, Ground{}, Problem{Place: string(g.Face), What: err.Error()}
	}
	out := s.withReadings(g.Face, g.lowered(s, before))
	after, err := geometry.FitThinPlate(out.Readings(g.Face))
	if err != nil {
		return s, Ground{}, Problem{Place: string(g.Face), What: err.Error()}
	}
	if _, err := NewRough(out); err != nil {
		return s, Ground{}, Problem{
			Place: "ground",
			What:  fmt.Sprintf("%v mm off the %s leaves nothing of the stone", g.MM, g.Face),
		}
	}
	f := follower{g: g, before: before, after: after}
	out.Cracks, out.Pockets, out.Colour = f.cracks(s.Cracks), f.pockets(s), f.zones(s.Colour)
	out.ScaleCt = 0
	return out, f.ground, nil
}

// into is -1 for the top and +1 for the base: the way into the stone.
func (g Grinding) into() float64 {
	if g.Face == Base {
		return 1
	}
	return -1
}

// lowered returns the readings of the face after the grinding. About a place, a
// reading is added in its middle, and at the old height where none stands around it
// and along the rim, so that the rest of the face stays as it was.
func (g Grinding) lowered(s Stone, face *geometry.ThinPlate) []geometry.Vec3 {
	readings := s.Readings(g.Face)
	deeper := func(r geometry.Vec3) geometry.Vec3 {
		r.Z = tidy(r.Z + g.into()*g.MM)
		return r
	}
	if g.At == nil {
		return mapped(readings, deeper)
	}
	radius := g.Radius
	if radius <= 0 {
		radius = GrindRadius
	}
	near := func(list []geometry.Vec3, p geometry.Vec2, d float64) bool {
		for _, r := range list {
			if r.XY().Sub(p).Norm() < d {
				return true
			}
		}
		return false
	}
	out := mapped(readings, func(r geometry.Vec3) geometry.Vec3 {
		if r.XY().Sub(*g.At).Norm() < radius {
			return deeper(r)
		}
		return r
	})
	read := func(p geometry.Vec2) geometry.Vec3 {
		p = tidy2(p)
		return geometry.Vec3{X: p.X, Y: p.Y, Z: tidy(face.At(p.X, p.Y))}
	}
	if !near(readings, *g.At, radius/4) {
		out = append(out, deeper(read(*g.At)))
	}
	for i := range ringPoints {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / ringPoints)
		if p := g.At.Add(geometry.Vec2{X: radius * cos, Y: radius * sin}); !near(readings, p, radius/4) {
			out = append(out, read(p))
		}
	}
	for i := range ringPoints {
		p := s.Outline[i*len(s.Outline)/ringPoints]
		if p.Sub(*g.At).Norm() > radius && !near(out, p, radius) {
			out = append(out, read(p))
		}
	}
	return out
}

// follower lets the marks of a stone follow its grinding.
type follower struct {
	g             Grinding
	before, after *geometry.ThinPlate
	ground        Ground
}

// off is how much was taken off the face over all of a mark: the least at any of
// its points. What is left of the mark then reaches no less deep than it does.
func (f *follower) off(points []geometry.Vec2) float64 {
	least := math.Inf(1)
	for _, p := range points {
		least = min(least, f.g.into()*(f.after.At(p.X, p.Y)-f.before.At(p.X, p.Y)))
	}
	if least < leastOff {
		return 0
	}
	return tidy(min(least, f.g.MM))
}

// shallower returns a depth and its range less what was taken off. gone says that
// nothing is left, maybe that nothing is if the likely depth is right.
func shallower(depth float64, r *Range, off float64) (left float64, rest *Range, gone, maybe bool) {
	left = tidy(depth - off)
	if r == nil {
		return max(left, 0), nil, left <= 0, false
	}
	rest = &Range{Least: max(0, tidy(r.Least-off)), Most: tidy(r.Most - off), Open: r.Open}
	if !r.Open && rest.Most <= 0 {
		return 0, nil, true, false
	}
	return max(left, rest.Least), rest, false, left <= 0
}

func (f *follower) note(id string, gone, maybe bool) {
	if gone {
		f.ground.Gone = append(f.ground.Gone, id)
	} else if maybe {
		f.ground.Maybe = append(f.ground.Maybe, id)
	}
}

func (f *follower) cracks(list []Crack) []Crack {
	var out []Crack
	for _, k := range list {
		if k.Face != f.g.Face {
			out = append(out, k)
			continue
		}
		off := f.off(k.Path)
		gone, maybe := false, false
		if !k.Through {
			k.Depth, k.DepthRange, gone, maybe = shallower(k.Depth, k.DepthRange, off)
		} else if k.DepthRange != nil {
			_, k.DepthRange, _, _ = shallower(math.Inf(1), k.DepthRange, off)
		}
		f.note(k.ID, gone, maybe)
		if gone {
			continue
		}
		if k.Lean > 0 && off > 0 {
			sin, cos := math.Sincos(k.Toward * math.Pi / 180)
			by := geometry.Vec2{X: cos, Y: sin}.Scale(off * math.Tan(k.Lean*math.Pi/180))
			k.Path = mapped(k.Path, func(p geometry.Vec2) geometry.Vec2 { return tidy2(p.Add(by)) })
		}
		out = append(out, k)
	}
	return out
}

// pockets follows those that go in from the face, and drops those inside that lie
// wholly in what was ground away.
func (f *follower) pockets(s Stone) []Pocket {
	var out []Pocket
	for _, p := range s.Pockets {
		gone, maybe := false, false
		switch p.Face {
		case f.g.Face:
			p.Depth, p.DepthRange, gone, maybe = shallower(p.Depth, p.DepthRange, f.off(p.Outline))
		case Inside:
			gone = f.passed(p)
		}
		f.note(p.ID, gone, maybe)
		if !gone {
			out = append(out, p)
		}
	}
	return out
}

// passed reports whether the face now lies beyond a pocket inside, over all of it.
func (f *follower) passed(p Pocket) bool {
	for _, at := range p.Outline {
		z, was := f.after.At(at.X, at.Y), f.before.At(at.X, at.Y)
		beyond := f.g.Face == Top && z <= p.Low && was > p.Low || f.g.Face == Base && z >= p.High && was < p.High
		if !beyond {
			return false
		}
	}
	return true
}

// zones follows the colour; of a zone of unknown depth some is always left.
func (f *follower) zones(list []Zone) []Zone {
	var out []Zone
	for _, z := range list {
		if z.Face == f.g.Face && z.Depth > 0 {
			left, _, gone, _ := shallower(z.Depth, nil, f.off(z.Outline))
			f.note(z.ID, gone, false)
			if gone {
				continue
			}
			z.Depth = left
		}
		out = append(out, z)
	}
	return out
}
