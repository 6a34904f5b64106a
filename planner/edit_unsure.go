package planner

import "fmt"

// How a length that nobody is sure of is taken at first: half to double, with
// what was said as the likely value (common practice for a first guess).
const (
	unsureLeast = 0.5
	unsureMost  = 2
)

// MakeUnsure makes the depth of a crack or a pocket unsure, from half to double;
// an inside pocket's height about its middle. A crack right through may end
// halfway. A pocket right through has no depth to be unsure of: an error.
func MakeUnsure(s Stone, id string) (Stone, error) {
	for _, k := range s.Cracks {
		if k.ID != id {
			continue
		}
		k.DepthRange = halfToDouble(k.Depth)
		if k.Through {
			k.DepthRange = &Range{Least: unsureLeast * readSpan(s), Open: true}
		}
		return ReplaceCrack(s, id, k)
	}
	for _, p := range s.Pockets {
		if p.ID != id {
			continue
		}
		switch p.Face {
		case Through:
			return s, fmt.Errorf("pocket %s goes right through: it has no depth to be unsure of", id)
		case Inside:
			height := p.High - p.Low
			in, out := tidy((1-unsureLeast)/2*height), tidy((unsureMost-1)/2.0*height)
			p.TopRange = &Range{Least: tidy(p.High - in), Most: tidy(p.High + out)}
			p.BottomRange = &Range{Least: tidy(p.Low - out), Most: tidy(p.Low + in)}
		default:
			p.DepthRange = halfToDouble(p.Depth)
		}
		return ReplacePocket(s, id, p)
	}
	return noMark(s, id)
}

// MakeSure takes what is said of a mark's depth, run-on and chance as known.
func MakeSure(s Stone, id string) (Stone, error) {
	for _, k := range s.Cracks {
		if k.ID == id {
			k.DepthRange, k.RunOnRange, k.Chance = nil, nil, nil
			return ReplaceCrack(s, id, k)
		}
	}
	for _, p := range s.Pockets {
		if p.ID == id {
			p.DepthRange, p.TopRange, p.BottomRange, p.Chance = nil, nil, nil, nil
			return ReplacePocket(s, id, p)
		}
	}
	return noMark(s, id)
}

func halfToDouble(likely float64) *Range {
	return &Range{Least: tidy(unsureLeast * likely), Most: tidy(unsureMost * likely)}
}

// readSpan returns how far apart the highest reading of the top and the lowest of
// the base are, in mm: no rough is thicker than that.
func readSpan(s Stone) float64 {
	if len(s.Top) == 0 || len(s.Base) == 0 {
		return 0
	}
	high, low := s.Top[0].Z, s.Base[0].Z
	for _, r := range s.Top {
		high = max(high, r.Z)
	}
	for _, r := range s.Base {
		low = min(low, r.Z)
	}
	return max(0, tidy(high-low))
}
