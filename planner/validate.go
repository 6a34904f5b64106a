package planner

import (
	"fmt"
	"math"
	"unicode/utf8"

	"cabwright/geometry"
	"cabwright/presets"
)

// The limits of the stone file, version 1, and of what can be measured.
const (
	MaxCorners  = 10000 // of an outline or a path
	MaxMarks    = 1000  // cracks, pockets and colour zones together
	MaxCuts     = 1000
	MaxReadings = 1000   // of one face: the surface is a dense system of equations
	maxReach    = 1000.0 // mm: no coordinate lies further than this from the origin
	minSG       = 0.5
	maxSG       = 10.0
	maxLean     = 80.0 // degrees
	maxGrade    = 5.0

	// sameSpot is the distance in mm under which two points count as one, and
	// the breadth under which an outline has no area and readings lie on one
	// line: a tenth of what a 0.01 mm caliper shows.
	sameSpot = 0.001
)

// Problem is one thing that is wrong with a stone. It is an error whose text
// is one line.
type Problem struct {
	Place string // as in a stone file: cracks[0].depth, outline[3]
	What  string
	// Edges holds, when an outline crosses or touches itself, the two edges:
	// edge i runs from corner i to the next one. It is nil otherwise.
	Edges *[2]int
	At    *geometry.Vec2 // where in plan; nil: nowhere in particular
}

// Error says where and what.
func (p Problem) Error() string { return p.Place + ": " + p.What }

// Warning is something a reader should be told once, that is no error.
type Warning struct {
	Place, What string
	At          *geometry.Vec2 // where in plan; nil: nowhere in particular
}

func (w Warning) String() string { return w.Place + ": " + w.What }

// Validate returns everything that keeps a stone from being planned, in the
// order of the stone file's keys; none when the stone is good.
func Validate(s Stone, set *presets.Set) []Problem {
	var c checker
	c.head(s, set)
	c.outline("outline", s.Outline)
	c.readings("top", s.Top)
	c.readings("base", s.Base)
	c.marks(s)
	c.allowances(s.Allowances)
	c.cost(s.Cost)
	for i, e := range s.Diary {
		c.entry(at("diary", i), e)
	}
	if len(c.problems) == 0 {
		c.solid(s)
		c.thicknesses(s)
	}
	return c.problems
}

// checker gathers problems.
type checker struct{ problems []Problem }

// at names item i of a list.
func at(list string, i int) string { return fmt.Sprintf("%s[%d]", list, i) }

func (c *checker) add(place, format string, args ...any) {
	c.problems = append(c.problems, problemf(place, format, args...))
}

func problemf(place, format string, args ...any) Problem {
	return Problem{Place: place, What: fmt.Sprintf(format, args...)}
}

// first returns the first problem as an error, or nil.
func (c *checker) first() error {
	if len(c.problems) == 0 {
		return nil
	}
	return c.problems[0]
}

func (c *checker) head(s Stone, set *presets.Set) {
	c.text("name", s.Name)
	c.material(s.Material, set)
	c.sg(s.SG)
	c.weight("scale_ct", s.ScaleCt)
}

func (c *checker) material(key string, set *presets.Set) {
	if _, known := set.Material(key); !known {
		var keys []string
		for _, m := range set.Materials {
			keys = append(keys, m.Key)
		}
		c.add("material", "%q is not a material of the presets%s", Visible(key), DidYouMean(key, keys))
	}
}

func (c *checker) sg(v float64) {
	if v != 0 && !(v >= minSG && v <= maxSG) {
		c.add("sg", "%v lies outside %v to %v", v, minSG, maxSG)
	}
}

func (c *checker) weight(place string, ct float64) {
	if !(ct >= 0) || math.IsInf(ct, 0) {
		c.add(place, "%v is no weight: give carats, 0 or more", ct)
	}
}

func (c *checker) text(place, s string) {
	if !utf8.ValidString(s) {
		c.add(place, "is not UTF-8 text")
	}
}

// length checks a distance that is 0 or more.
func (c *checker) length(place string, v float64) {
	switch {
	case math.IsNaN(v) || math.IsInf(v, 0):
		c.add(place, "%v is not a number of millimetres", v)
	case v < 0:
		c.add(place, "%v mm is negative", v)
	case v > maxReach:
		c.add(place, "%v mm is beyond 1 m", v)
	}
}

// reach checks coordinates; it reports the first bad one.
func (c *checker) reach(place string, coordinates ...float64) bool {
	for _, v := range coordinates {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			c.add(place, "%v is not a number of millimetres", v)
			return false
		}
		if math.Abs(v) > maxReach {
			c.add(place, "%v mm lies beyond 1 m", v)
			return false
		}
	}
	return true
}

// corners checks the number of points and their coordinates.
func (c *checker) corners(place string, points []geometry.Vec2) bool {
	if len(points) > MaxCorners {
		c.add(place, "has %d corners, more than %d", len(points), MaxCorners)
		return false
	}
	for i, p := range points {
		if !c.reach(fmt.Sprintf("%s[%d]", place, i), p.X, p.Y) {
			return false
		}
	}
	return true
}

// outline checks that the corners make a simple polygon that has an area.
func (c *checker) outline(place string, points []geometry.Vec2) {
	if len(points) == 0 {
		c.add(place, "missing: give at least 3 corners")
		return
	}
	if len(points) < 3 {
		c.add(place, "has fewer than 3 corners (%d)", len(points))
		return
	}
	if !c.corners(place, points) {
		return
	}
	if onOneLine(points) {
		c.add(place, "has no area: all its corners lie on one line")
		return
	}
	if first, second, how := crossing(points); how != apart {
		c.problems = append(c.problems, crossingProblem(place, len(points), first, second, how))
		return
	}
	// A simple outline of mean breadth 2 area / perimeter under sameSpot is a thread.
	area, around := 0.0, 0.0
	for i, p := range points {
		q := points[(i+1)%len(points)]
		area += p.Cross(q) / 2
		around += q.Sub(p).Norm()
	}
	if 2*math.Abs(area) < sameSpot*around {
		c.add(place, "has no area")
	}
}

// onOneLine reports whether all points lie within sameSpot of the line through
// the first one and the one furthest from it.
func onOneLine(points []geometry.Vec2) bool {
	far := geometry.Vec2{}
	for _, p := range points {
		if d := p.Sub(points[0]); d.Norm() > far.Norm() {
			far = d
		}
	}
	if far.Norm() <= sameSpot {
		return true
	}
	for _, p := range points {
		if math.Abs(far.Cross(p.Sub(points[0])))/far.Norm() > sameSpot {
			return false
		}
	}
	return true
}

// readings checks what a surface is laid through.
func (c *checker) readings(place string, readings []geometry.Vec3) {
	if len(readings) == 0 {
		c.add(place, "readings missing: give one, or at least three that are not on one line")
		return
	}
	if len(readings) > MaxReadings {
		c.add(place, "has %d readings, more than %d", len(readings), MaxReadings)
		return
	}
	plan := make([]geometry.Vec2, len(readings))
	for i, r := range readings {
		if !c.reach(fmt.Sprintf("%s[%d]", place, i), r.X, r.Y, r.Z) {
			return
		}
		plan[i] = r.XY()
	}
	if i, j, found := sharedSpot(plan); found {
		c.add(fmt.Sprintf("%s[%d]", place, j), "lies at the same spot as %s[%d] (%v, %v)", place, i, plan[i].X, plan[i].Y)
		return
	}
	if len(readings) == 2 {
		c.add(place, "two readings do not make a surface: give one, or at least three that are not on one line")
	} else if len(readings) > 2 && onOneLine(plan) {
		c.add(place, "all readings lie on one line: add one beside it")
	}
}

// sharedSpot finds two points within sameSpot of each other, the earliest first.
func sharedSpot(points []geometry.Vec2) (first, second int, found bool) {
	for j, q := range points {
		for i, p := range points[:j] {
			if math.Abs(p.X-q.X) <= sameSpot && p.Sub(q).Norm() <= sameSpot {
				return i, j, true
			}
		}
	}
	return 0, 0, false
}

func (c *checker) allowances(a Allowances) {
	c.length("allowances.skin", a.Skin)
	c.length("allowances.crack", a.Crack)
	c.length("allowances.sealed_crack", a.SealedCrack)
	c.length("allowances.pocket", a.Pocket)
}
