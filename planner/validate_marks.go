package planner

import (
	"fmt"
	"math"

	"cabwright/geometry"
)

// marks checks the cracks, pockets, colour zones and cuts and that their ids
// differ.
func (c *checker) marks(s Stone) {
	if n := len(s.Cracks) + len(s.Pockets) + len(s.Colour); n > MaxMarks {
		c.add("cracks", "%d cracks, pockets and colour zones are more than %d", n, MaxMarks)
		return
	}
	seen := map[string]string{}
	id := func(place, id string) {
		c.text(place, id)
		switch first, twice := seen[id]; {
		case id == "":
			c.add(place, "missing")
		case twice:
			c.add(place, "%q is already the id of %s", Visible(id), first)
		default:
			seen[id] = place[:len(place)-len(".id")]
		}
	}
	for i, k := range s.Cracks {
		place := fmt.Sprintf("cracks[%d]", i)
		id(place+".id", k.ID)
		c.crack(place, k)
	}
	for i, p := range s.Pockets {
		place := fmt.Sprintf("pockets[%d]", i)
		id(place+".id", p.ID)
		c.pocket(place, p)
	}
	for i, z := range s.Colour {
		place := fmt.Sprintf("colour[%d]", i)
		id(place+".id", z.ID)
		c.zone(place, z)
	}
	c.cuts(s.Cuts, id)
}

func (c *checker) crack(place string, k Crack) {
	c.path(place+".path", k.Path)
	c.face(place+".face", k.Face, Top, Base)
	if !k.Through {
		c.length(place+".depth", k.Depth)
	}
	if !(k.Lean >= 0 && k.Lean <= maxLean) {
		c.add(place+".lean", "%v degrees lies outside 0 to %v", k.Lean, maxLean)
	}
	c.angle(place+".toward", k.Toward)
	c.length(place+".run_on", k.RunOn)
	c.unsureCrack(place, k)
}

func (c *checker) angle(place string, degrees float64) {
	if math.IsNaN(degrees) || math.IsInf(degrees, 0) {
		c.add(place, "%v is not a number of degrees", degrees)
	}
}

// path checks a crack's line: two points or more, none at the one before it,
// so that the direction it runs on in is known.
func (c *checker) path(place string, points []geometry.Vec2) {
	if len(points) < 2 {
		c.add(place, "needs at least two points, has %d", len(points))
		return
	}
	if !c.corners(place, points) {
		return
	}
	for i := 1; i < len(points); i++ {
		if points[i].Sub(points[i-1]).Norm() <= sameSpot {
			c.add(fmt.Sprintf("%s[%d]", place, i), "lies at the same spot as the point before it")
			return
		}
	}
}

func (c *checker) pocket(place string, p Pocket) {
	c.outline(place+".outline", p.Outline)
	c.face(place+".face", p.Face, Top, Base, Through, Inside)
	c.length(place+".depth", p.Depth)
	if p.Face == Inside && c.reach(place+".between", p.Low, p.High) && p.Low >= p.High {
		c.add(place+".between", "heights the wrong way round: %v is not below %v", p.Low, p.High)
	}
	c.unsurePocket(place, p)
}

func (c *checker) zone(place string, z Zone) {
	c.face(place+".face", z.Face, Top, Base)
	c.outline(place+".outline", z.Outline)
	if !(z.Grade >= 0 && z.Grade <= maxGrade) {
		c.add(place+".grade", "%v lies outside 0 to %v", z.Grade, maxGrade)
	}
	c.text(place+".pattern", z.Pattern)
	c.length(place+".depth", z.Depth)
}

func (c *checker) face(place string, f Face, allowed ...Face) {
	for _, a := range allowed {
		if f == a {
			return
		}
	}
	names := ""
	for i, a := range allowed {
		switch {
		case i == 0:
		case i == len(allowed)-1:
			names += " or "
		default:
			names += ", "
		}
		names += string(a)
	}
	c.add(place, "%q is not a face: %s", Visible(string(f)), names)
}
