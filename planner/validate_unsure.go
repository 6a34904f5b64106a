package planner

import (
	"fmt"
	"math"
)

// lengthRange checks what a length that is not sure may be.
func (c *checker) lengthRange(place, what string, r *Range, likely float64) {
	if c.lengths(place, r) {
		c.holds(place, what, r, likely)
	}
}

// lengths checks the two ends of a range of lengths; false when there is none.
func (c *checker) lengths(place string, r *Range) bool {
	if r == nil {
		return false
	}
	before := len(c.problems)
	c.length(place+"[0]", r.Least)
	if !r.Open {
		c.length(place+"[1]", r.Most)
	}
	return len(c.problems) == before && c.rising(place, r)
}

// heightRange checks what a height that is not sure may be.
func (c *checker) heightRange(place, what string, r *Range, likely float64) {
	switch {
	case r == nil:
	case r.Open:
		c.add(place+"[1]", "missing: give the greatest height")
	case c.reach(place+"[0]", r.Least) && c.reach(place+"[1]", r.Most) && c.rising(place, r):
		c.holds(place, what, r, likely)
	}
}

func (c *checker) rising(place string, r *Range) bool {
	if !r.Open && r.Least > r.Most {
		c.add(place, "the wrong way round: the least, %v mm, is more than the most, %v mm", r.Least, r.Most)
		return false
	}
	return true
}

// holds checks that the likely value lies in a range.
func (c *checker) holds(place, what string, r *Range, likely float64) {
	switch {
	case likely < r.Least:
		c.add(place, "begins at %v mm and so does not hold the likely %s, %v mm", r.Least, what, likely)
	case !r.Open && likely > r.Most:
		c.add(place, "ends at %v mm and so does not hold the likely %s, %v mm", r.Most, what, likely)
	}
}

func (c *checker) chance(place string, p *float64) {
	if p != nil && !(*p >= 0 && *p <= 1) {
		c.add(place, "%v lies outside 0 to 1", *p)
	}
}

// unsureCrack checks what is not sure of a crack. The likely depth of one that
// goes right through is the rough's thickness, which thicknesses looks at.
func (c *checker) unsureCrack(place string, k Crack) {
	if k.Through {
		c.lengths(place+".depth_range", k.DepthRange)
	} else {
		c.lengthRange(place+".depth_range", "depth", k.DepthRange, k.Depth)
	}
	c.lengthRange(place+".run_on_range", "run-on", k.RunOnRange, k.RunOn)
	c.chance(place+".chance", k.Chance)
}

func (c *checker) unsurePocket(place string, p Pocket) {
	fromFace := p.Face == Top || p.Face == Base
	if p.DepthRange != nil && !fromFace {
		c.add(place+".depth_range", "only a pocket from the top or the base has one")
	} else {
		c.lengthRange(place+".depth_range", "depth", p.DepthRange, p.Depth)
	}
	for _, r := range []struct {
		key, what string
		is        *Range
		likely    float64
	}{{".top_range", "top", p.TopRange, p.High}, {".bottom_range", "bottom", p.BottomRange, p.Low}} {
		if r.is != nil && p.Face != Inside {
			c.add(place+r.key, "only a pocket inside has one")
			continue
		}
		c.heightRange(place+r.key, r.what, r.is, r.likely)
	}
	c.chance(place+".chance", p.Chance)
}

// rightThrough checks that what the depth of a crack may be holds the rough's
// greatest thickness: the likely depth of one that goes right through.
func (c *checker) rightThrough(place string, s Stone, r *Range) {
	if r == nil || r.Open {
		return
	}
	rough, err := NewRough(s)
	if err != nil {
		return
	}
	if thick, _ := rough.Thickness(); r.Most < tidy(thick)-sameSpot {
		c.add(place, "ends at %v mm and so does not hold a depth right through, %.2f mm", r.Most, thick)
	}
}

// thicknesses holds the ranges that end at, or a likely depth that is, the
// rough's greatest thickness against the heights between the highest reading of
// the top and the lowest of the base: it is no thicker than that.
func (c *checker) thicknesses(s Stone) {
	low, high := math.Inf(1), math.Inf(-1)
	for _, r := range s.Base {
		low = math.Min(low, r.Z)
	}
	for _, r := range s.Top {
		high = math.Max(high, r.Z)
	}
	thick := tidy(high - low)
	open := func(place, what string, r *Range, likely float64) {
		if r == nil || !r.Open {
			return
		}
		if r.Least > thick || likely > thick {
			c.add(place, "ends at the rough's greatest thickness, no more than %v mm, and so does not hold %s, %v mm",
				thick, what, max(r.Least, likely))
		}
	}
	for i, k := range s.Cracks {
		place := fmt.Sprintf("cracks[%d]", i)
		depth := k.Depth
		if k.Through {
			depth = 0
			c.rightThrough(place+".depth_range", s, k.DepthRange)
		}
		open(place+".depth_range", "the likely depth", k.DepthRange, depth)
		open(place+".run_on_range", "the likely run-on", k.RunOnRange, k.RunOn)
	}
	for i, p := range s.Pockets {
		open(fmt.Sprintf("pockets[%d].depth_range", i), "the likely depth", p.DepthRange, p.Depth)
	}
}
