package search

import (
	"cmp"
	"slices"

	"cabwright/geometry/outline"
	"cabwright/geometry/solid"
	"cabwright/planner"
	"cabwright/planner/search/internal/poses"
	"cabwright/planner/search/internal/proofs"
	"cabwright/presets"
)

// trial is one candidate on its way to a verdict. In a wave of work each is touched
// by one task only.
type trial struct {
	Candidate
	volume  float64
	size    int // index of its outline; -1: a freeform
	model   *poses.Model
	verdict Verdict
	at      poses.Coord // best pose met
	value   float64     // its clearance as the samples see it
	lower   float64     // its certified clearance, when it fits
	bound   float64     // upper bound on any pose's clearance
	from    *trial      // whose refusal ruled it out; nil: its own
	proved  bool
	passed  bool   // a fuller solid on the same outline and as many sides fits: not reported
	settled bool   // undecided, but by less than the tolerance
	effort  int    // how hard poses were looked for
	holds   *trial // a lighter one inside it whose verdict it waits for
	cost    int    // boxes that the last refusing took
	proof   *proofs.State
	kept    int // open boxes of the proof that are counted in run.kept
	tried   int // boxes of a proof that was not kept

	limits    []string // what its fit is limited by, certified at the pose limitsAt
	limitsAt  poses.Coord
	near      []string // the same as the samples see it, at the pose nearAt
	nearAt    poses.Coord
	colour    float64 // its colour share at the pose weighedAt
	weighedAt poses.Coord
	weighed   bool
	why       []Shortfall // at the pose whyAt
	whyAt     poses.Coord
}

// unknownBound and unknownValue stand for "nothing is known yet", mm.
const (
	unknownBound = 1e9
	unknownValue = -1e9
)

// open tells whether a trial is still asked about.
func (t *trial) open() bool { return t.verdict == Undecided && !t.passed && !t.settled }

// fits tells whether a trial is in the list.
func (t *trial) fits() bool { return t.verdict == Fits && !t.passed }

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
	slices.SortStableFunc(out, func(a, b outline.Outline) int { return cmp.Compare(a.Area(), b.Area()) })
	return out
}

// leastRim is the share of the width that the wall must leave for the dome: nobody
// cuts less (from memory).
const leastRim = 0.3

// Candidates lists every calibrated solid that a search with the options asks about,
// heaviest first.
func Candidates(set *presets.Set, opt Options) []Candidate {
	return CandidatesOf(set, opt, sizes(set, opt)...)
}

// CandidatesOf lists the solids of some outlines that a search with the options would ask
// about, heaviest first.
func CandidatesOf(set *presets.Set, opt Options, outlines ...outline.Outline) []Candidate {
	opt = opt.filled()
	var trials []*trial
	for _, face := range opt.Faces {
		trials = append(trials, trialsFor(set, outlines, face, opt)...)
	}
	heaviestFirst(trials)
	out := make([]Candidate, len(trials))
	for i, t := range trials {
		out[i] = t.Candidate
	}
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
				if c.RimRatio() < leastRim {
					continue
				}
				out = append(out, &trial{
					Candidate: Candidate{Solid: c, Face: face, DomeStyle: style.Key, BackStyle: back.Key},
					volume:    c.Volume(), size: i, bound: unknownBound, value: unknownValue,
				})
			}
		}
	}
	slices.SortStableFunc(out, func(a, b *trial) int {
		return cmp.Or(cmp.Compare(a.size, b.size), cmp.Compare(a.Solid.Sides, b.Solid.Sides), cmp.Compare(b.volume, a.volume))
	})
	return out
}

// heaviestFirst orders trials by volume.
func heaviestFirst(trials []*trial) {
	slices.SortStableFunc(trials, func(a, b *trial) int { return cmp.Compare(b.volume, a.volume) })
}
