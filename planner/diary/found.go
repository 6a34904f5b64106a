package diary

import (
	"fmt"
	"slices"
	"strings"

	"cabwright/planner"
	"cabwright/planner/stonefile"
	"cabwright/presets"
)

// Check is one value that was found, beside what had been thought.
type Check struct {
	What        string // P1.depth
	Known       bool   // the mark and the value were in the stone then
	Thought     float64
	Least, Most float64 // of the range, when Ranged
	Ranged      bool    // a range was given
	Found       float64
}

// Held reports whether what was found lay in the range that was given.
func (c Check) Held() bool { return c.Ranged && c.Found >= c.Least && c.Found <= c.Most }

// String says it in words.
func (c Check) String() string {
	what := strings.Replace(c.What, ".", " ", 1)
	switch {
	case !c.Known:
		return fmt.Sprintf("%s: found %g mm, not thought of", what, c.Found)
	case !c.Ranged:
		return fmt.Sprintf("%s: found %g mm, thought %g", what, c.Found, c.Thought)
	case c.Held():
		return fmt.Sprintf("%s: found %g mm, within %g to %g (thought %g)", what, c.Found, c.Least, c.Most, c.Thought)
	}
	return fmt.Sprintf("%s: found %g mm, outside %g to %g (thought %g)", what, c.Found, c.Least, c.Most, c.Thought)
}

// Against compares findings with the stone that they were made on. thickest is the
// rough's greatest thickness, where a range without an end ends.
func Against(s planner.Stone, found []planner.Finding, thickest float64) []Check {
	var out []Check
	for _, f := range found {
		c := Check{What: f.What, Found: f.Value}
		if value, r, ok := thought(s, f.What); ok {
			c.Known, c.Thought = true, value
			if r != nil {
				c.Ranged, c.Least, c.Most = true, r.Least, r.Most
				if r.Open {
					c.Most = thickest
				}
			}
		}
		out = append(out, c)
	}
	return out
}

// values are what can be found out about a mark, by the word behind the point.
var values = []string{"depth", "run_on", "top", "bottom"}

// split takes "P1.depth" apart.
func split(what string) (id, value string, err error) {
	i := strings.LastIndexByte(what, '.')
	if i < 1 || !slices.Contains(values, what[i+1:]) {
		return "", "", fmt.Errorf("%q: write a mark and what of it was found, such as P1.depth (%s)",
			planner.Visible(what), strings.Join(values, ", "))
	}
	return what[:i], what[i+1:], nil
}

// thought returns the likely value of a mark and its range.
func thought(s planner.Stone, what string) (likely float64, r *planner.Range, ok bool) {
	id, value, err := split(what)
	if err != nil {
		return 0, nil, false
	}
	for _, k := range s.Cracks {
		if k.ID == id {
			switch {
			case value == "depth" && !k.Through:
				return k.Depth, k.DepthRange, true
			case value == "run_on":
				return k.RunOn, k.RunOnRange, true
			}
		}
	}
	for _, p := range s.Pockets {
		if p.ID == id {
			switch {
			case value == "depth" && (p.Face == planner.Top || p.Face == planner.Base):
				return p.Depth, p.DepthRange, true
			case value == "top" && p.Face == planner.Inside:
				return p.High, p.TopRange, true
			case value == "bottom" && p.Face == planner.Inside:
				return p.Low, p.BottomRange, true
			}
		}
	}
	return 0, nil, false
}

// ApplyFound puts what was found into a stone: the value is sure from then on, and so
// is the mark.
func ApplyFound(s planner.Stone, found []planner.Finding) (planner.Stone, error) {
	for _, f := range found {
		id, value, err := split(f.What)
		if err != nil {
			return s, err
		}
		if s, err = applyOne(s, id, value, f.Value); err != nil {
			return s, err
		}
	}
	return s, nil
}

func applyOne(s planner.Stone, id, value string, found float64) (planner.Stone, error) {
	wrong := func() (planner.Stone, error) {
		return s, fmt.Errorf("%s has no %s to be found", planner.Visible(id), strings.ReplaceAll(value, "_", "-"))
	}
	for _, k := range s.Cracks {
		if k.ID != id {
			continue
		}
		switch value {
		case "depth":
			k.Through, k.Depth, k.DepthRange = false, found, nil
		case "run_on":
			k.RunOn, k.RunOnRange = found, nil
		default:
			return wrong()
		}
		k.Chance = nil
		return planner.ReplaceCrack(s, id, k)
	}
	for _, p := range s.Pockets {
		if p.ID != id {
			continue
		}
		inside := p.Face == planner.Inside
		switch {
		case value == "depth" && (p.Face == planner.Top || p.Face == planner.Base):
			p.Depth, p.DepthRange = found, nil
		case value == "top" && inside:
			p.High, p.TopRange = found, nil
		case value == "bottom" && inside:
			p.Low, p.BottomRange = found, nil
		default:
			return wrong()
		}
		p.Chance = nil
		return planner.ReplacePocket(s, id, p)
	}
	return s, fmt.Errorf("there is no crack or pocket %s", planner.Visible(id))
}

// Checks compares what an entry found with the stone that the entry keeps; set has
// what the stone leaves out. None when it keeps no stone.
func Checks(e planner.Entry, set *presets.Set) []Check {
	if e.Stone == nil || len(e.Found) == 0 {
		return nil
	}
	s, err := stonefile.ReadPast(e.Stone, set)
	if err != nil {
		return nil
	}
	thickest := 0.0
	if rough, err := planner.NewRough(s); err == nil {
		thickest, _ = rough.Thickness()
	}
	return Against(s, e.Found, thickest)
}
