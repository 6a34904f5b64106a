package planner

import (
	"fmt"
	"math"
	"slices"

	"cabwright/geometry"
	"cabwright/presets"
)

// An edit is a function from a stone to a stone. It copies what it changes and
// shares the rest. It refuses, with a Problem, what no later edit could be
// meant to mend: points that are no numbers, an outline that crosses itself.
// What is merely unfinished, such as two readings on the way to three, passes:
// Validate says when a stone is ready to be planned.

// refuse returns the stone as it was with a problem.
func refuse(s Stone, place, format string, args ...any) (Stone, error) {
	return s, Problem{Place: place, What: fmt.Sprintf(format, args...)}
}

// no returns the problem of an index that counts nothing.
func no(s Stone, place string, i, n int) (Stone, error) {
	return refuse(s, fmt.Sprintf("%s[%d]", place, i), "does not exist; there %s", countWords(place, n))
}

// countWords says how many there are: "are 10 corners", "is 1 reading".
func countWords(place string, n int) string {
	thing := "reading"
	if place == "outline" {
		thing = "corner"
	}
	if n == 1 {
		return "is 1 " + thing
	}
	return fmt.Sprintf("are %d %ss", n, thing)
}

// with returns a copy of a list in which item i is v.
func with[E any](list []E, i int, v E) []E {
	out := slices.Clone(list)
	out[i] = v
	return out
}

// without returns a copy of a list that lacks item i.
func without[E any](list []E, i int) []E {
	return append(slices.Clip(list[:i:i]), list[i+1:]...)
}

// inserted returns a copy of a list in which v stands at i.
func inserted[E any](list []E, i int, v E) []E {
	return slices.Insert(slices.Clone(list), i, v)
}

// tidy rounds a calculated length or angle to a millionth, far below any
// caliper, so that files and forms show 0.3 and not 0.30000000000000004.
func tidy(v float64) float64 {
	return math.Round(v*1e6)/1e6 + 0
}

func tidy2(p geometry.Vec2) geometry.Vec2 { return geometry.Vec2{X: tidy(p.X), Y: tidy(p.Y)} }

// SetName names the stone.
func SetName(s Stone, name string) (Stone, error) {
	var c checker
	c.text("name", name)
	if err := c.first(); err != nil {
		return s, err
	}
	s.Name = name
	return s, nil
}

// SetMaterial says what the stone is: the key of one of the materials of set.
func SetMaterial(s Stone, key string, set *presets.Set) (Stone, error) {
	var c checker
	c.material(key, set)
	if err := c.first(); err != nil {
		return s, err
	}
	s.Material = key
	return s, nil
}

// SetSG gives the specific gravity, 0.5 to 10, or 0 for the material's typical one.
func SetSG(s Stone, sg float64) (Stone, error) {
	var c checker
	c.sg(sg)
	if err := c.first(); err != nil {
		return s, err
	}
	s.SG = sg + 0
	return s, nil
}

// SetScaleWeight gives the weight on the scale in carats; 0: not weighed.
func SetScaleWeight(s Stone, ct float64) (Stone, error) {
	var c checker
	c.weight("scale_ct", ct)
	if err := c.first(); err != nil {
		return s, err
	}
	s.ScaleCt = ct + 0
	return s, nil
}

// SetAllowances gives the distances kept, in mm.
func SetAllowances(s Stone, a Allowances) (Stone, error) {
	var c checker
	c.allowances(a)
	if err := c.first(); err != nil {
		return s, err
	}
	a.Unknown = s.Allowances.Unknown
	s.Allowances = a
	return s, nil
}
