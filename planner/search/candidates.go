package search

import (
	"slices"
	"sort"

	"cabwright/geometry/outline"
	"cabwright/geometry/solid"
	"cabwright/planner"
	"cabwright/presets"
)

// trial is one candidate on its way to a verdict.
type trial struct {
	Candidate
	volume  float64
	size    int // index of its outline
	model   *model
	verdict Verdict
	at      coord   // best pose met
	value   float64 // its clearance as the samples see it
	lower   float64 // its certified clearance, when it fits
	bound   float64 // upper bound on any pose's clearance
	limits  []string
	proved  bool
	leveled bool // a level pose was looked for
	hunt    *hunt
	passed  bool // a fuller solid on the same outline and as many sides fits: not reported

	shown   *Fit // as last shown, at the pose shownAt
	shownAt coord
}

// sizes returns the calibrated outlines that the options ask for.
func sizes(set *presets.Set, opt Options) []outline.Outline {
	var out []outline.Outline
	for _, s := range set.Sizes {
		if len(opt.Shapes) > 0 && !slices.Contains(opt.Shapes, s.Shape) {
			continue
		}
		if o, err := outline.New(s.Shape, s.Length, s.Width); err == nil {
			out = append(out, o)
		}
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].Area() < out[j].Area() })
	return out
}

// trialsFor lists every solid asked about on one face: each outline with each
// back that the options allow and each dome style; for an outline and number of
// sides the fullest first, so that the first that fits is the one to keep. With a
// flat back that is the tallest dome.
func trialsFor(set *presets.Set, outlines []outline.Outline, face planner.Face, opt Options) []*trial {
	wall, _ := set.Wall(set.Defaults.Wall)
	var out []*trial
	for i, o := range outlines {
		for _, back := range set.BackStyles {
			if len(opt.Sides) > 0 && !slices.Contains(opt.Sides, back.Sides()) {
				continue
			}
			for _, style := range set.DomeStyles {
				dome := style.HeightByWidth * o.Width
				c := solid.Cabochon{Outline: o, Wall: wall.Height, WallLeanDeg: wall.LeanDeg, Dome: dome, Sides: back.Sides()}
				if c.Sides == 2 {
					c.Back = back.Depth(c.Wall, dome)
				}
				if c.RimRatio() < 0.3 {
					continue // the wall would leave hardly any dome: nobody cuts that
				}
				out = append(out, &trial{
					Candidate: Candidate{Solid: c, Face: face, DomeStyle: style.Key, BackStyle: back.Key},
					volume:    c.Volume(), size: i, bound: 1e9, value: -1e9,
				})
			}
		}
	}
	sort.SliceStable(out, func(i, j int) bool {
		a, b := out[i], out[j]
		if a.size != b.size {
			return a.size < b.size
		}
		if a.Solid.Sides != b.Solid.Sides {
			return a.Solid.Sides < b.Solid.Sides
		}
		return a.volume > b.volume
	})
	return out
}
