package odds

import (
	"slices"

	"cabwright/geometry/outline"
	"cabwright/geometry/solid"
	"cabwright/planner"
	"cabwright/planner/search"
	"cabwright/presets"
)

// Candidates lists every calibrated solid that a search with the options asks about,
// heaviest first: what a place that fails may be cut down to.
func Candidates(set *presets.Set, opt search.Options) []search.Candidate {
	faces := opt.Faces
	if len(faces) == 0 {
		faces = []planner.Face{planner.Top, planner.Base}
	}
	wall, _ := set.Wall(set.Defaults.Wall)
	var out []search.Candidate
	for _, size := range set.Sizes {
		if len(opt.Shapes) > 0 && !slices.Contains(opt.Shapes, size.Shape) {
			continue
		}
		o, err := outline.New(size.Shape, size.Length, size.Width)
		if err != nil {
			continue
		}
		for _, back := range set.BackStyles {
			if len(opt.Sides) > 0 && !slices.Contains(opt.Sides, back.Sides()) {
				continue
			}
			for _, style := range set.DomeStyles {
				c := solid.Cabochon{
					Outline:     o,
					Wall:        wall.Height,
					WallLeanDeg: wall.LeanDeg,
					Dome:        style.HeightByWidth * o.Width,
					Sides:       back.Sides(),
				}
				if c.Sides == 2 {
					c.Back = back.Depth(c.Wall, c.Dome)
				}
				if c.RimRatio() < leastRim {
					continue
				}
				for _, face := range faces {
					out = append(out, search.Candidate{Solid: c, Face: face, DomeStyle: style.Key, BackStyle: back.Key})
				}
			}
		}
	}
	heaviestFirst(out)
	return out
}

// leastRim is the gauge at which the wall may end at the least, as in the search:
// below it the wall would leave hardly any dome.
const leastRim = 0.3
