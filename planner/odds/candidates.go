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
		for _, c := range shaped(set, o, wall, opt.Sides) {
			for _, c.Face = range faces {
				out = append(out, c)
			}
		}
	}
	heaviestFirst(out)
	return out
}

// shaped returns the cabochons of an outline in every dome and back there is, of the
// sides asked for (none: all), without a face.
func shaped(set *presets.Set, o outline.Outline, wall presets.Wall, sides []int) (out []search.Candidate) {
	for _, back := range set.BackStyles {
		if len(sides) > 0 && !slices.Contains(sides, back.Sides()) {
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
			if c.RimRatio() >= leastRim {
				out = append(out, search.Candidate{Solid: c, DomeStyle: style.Key, BackStyle: back.Key})
			}
		}
	}
	return out
}

// leastRim is the gauge at which the wall may end at the least, as in the search:
// below it the wall would leave hardly any dome.
const leastRim = 0.3
