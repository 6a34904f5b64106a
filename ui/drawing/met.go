package drawing

import (
	"cabwright/geometry"
	"cabwright/planner/search"
)

// Met returns the ids of the marks that a cut runs through inside the rough, in
// the stone's order: cracks, pockets, colour zones. Without surfaces it returns
// none.
func Met(s Scene, k Cut) []string {
	if s.Rough == nil {
		return nil
	}
	x := slicer{scene: s, rough: s.Rough, cut: k, spans: k.through(s.Stone.Outline)}
	var ids []string
	for _, c := range s.Stone.Cracks {
		path := extended(c)
		for i := 1; i < len(path); i++ {
			if len(x.meets(c, path[i-1], path[i], 0, reach(s.Rough, c))) > 0 {
				ids = append(ids, c.ID)
				break
			}
		}
	}
	for _, p := range s.Stone.Pockets {
		if len(both(x.spans, k.through(p.Outline))) > 0 {
			ids = append(ids, p.ID)
		}
	}
	for _, z := range s.Stone.Colour {
		if len(both(x.spans, k.through(z.Outline))) > 0 {
			ids = append(ids, z.ID)
		}
	}
	return ids
}

// Inside reports whether the cut runs through the outline at all.
func (k Cut) Inside(outline []geometry.Vec2) bool { return len(k.through(outline)) > 0 }

// Upright returns between which heights the upright line through p of the plan
// runs inside a fit's finished stone; ok is false where it misses it.
func Upright(f *search.Fit, p geometry.Vec2) (low, high float64, ok bool) {
	if !drawable(f) {
		return 0, 0, false
	}
	return upright(f, p)
}
