package cuts

import (
	"cmp"
	"math"
	"slices"

	"cabwright/geometry"
	"cabwright/geometry/solid"
	"cabwright/planner"
	"cabwright/planner/search"
	"cabwright/presets"
)

// Least is the smallest stone worth sawing for.
type Least struct {
	Carat  float64
	Length float64 // mm
}

// entry is a solid that may be laid into a piece.
type entry struct {
	search.Candidate
	carat float64
	frame geometry.Mat3 // how it lies, but for a turn
	seed  *spot         // where the plan has it
}

// pool returns the calibrated solids to choose from, heaviest first: those of the plan,
// and on the same outlines the lower domes and shallower backs that need less
// room. Of two that one of is nowhere longer, wider or higher, and heavier,
// only that one is kept.
func pool(plan search.Plan, set *presets.Set, sg float64, least Least) []entry {
	var all []entry
	add := func(e entry) {
		c := e.Solid
		e.carat = planner.Carat(c.Volume(), sg)
		if e.carat >= least.Carat && c.Outline.Length >= least.Length {
			all = append(all, e)
		}
	}
	for _, f := range plan.Fits {
		if !calibrated(f) {
			continue // freeforms are grown anew on every piece
		}
		m := f.Solid.CentreOfHeight()
		at := spot{at: f.Pose.Origin.Add(f.Pose.Axes.W.Scale(m))}
		add(entry{Candidate: f.Candidate, frame: f.Pose.Axes, seed: &at})
		for _, c := range lower(f, set) {
			add(entry{Candidate: c, frame: level(c.Face)})
		}
	}
	slices.SortStableFunc(all, func(a, b entry) int { return cmp.Compare(b.carat, a.carat) })
	var kept []entry
	for _, e := range all {
		matched := slices.ContainsFunc(kept, func(k entry) bool {
			a, b := k.Solid, e.Solid
			return k.Face == e.Face && a.Outline.Length <= b.Outline.Length+1e-9 &&
				a.Outline.Width <= b.Outline.Width+1e-9 && a.Height() <= b.Height()+1e-9
		})
		if !matched {
			kept = append(kept, e)
		}
	}
	return kept
}

// lower returns the solids on a fit's outline and face that are less full.
func lower(f search.Fit, set *presets.Set) []search.Candidate {
	var out []search.Candidate
	for _, back := range set.BackStyles {
		for _, style := range set.DomeStyles {
			c := solid.Cabochon{
				Outline: f.Solid.Outline, Wall: f.Solid.Wall, WallLeanDeg: f.Solid.WallLeanDeg,
				Dome: style.HeightByWidth * f.Solid.Outline.Width, Sides: back.Sides(),
			}
			if c.Sides == 2 {
				c.Back = back.Depth(c.Wall, c.Dome)
			}
			if c.Sides == f.Solid.Sides && c.Volume() < f.Volume-1e-6 {
				out = append(out, search.Candidate{Solid: c, Face: f.Face, DomeStyle: style.Key, BackStyle: back.Key})
			}
		}
	}
	return out
}

// seedStep is how far apart places are that solids are started from, mm: no
// climb crosses a crack, so every room between cracks needs one of its own.
const seedStep = 2.5

// spots returns places over a piece, in the middle of its height.
func (b *Body) spots(sides []half) []geometry.Vec3 {
	var out []geometry.Vec3
	every := max(1, int(math.Round(seedStep/b.step)))
	for y := every / 2; y < len(b.index); y += every {
		for x := every / 2; x < len(b.index[y]); x += every {
			if i := b.index[y][x]; i >= 0 {
				c := &b.columns[i]
				if low, high := clipAll(c, sides); high > low {
					out = append(out, geometry.Vec3{X: c.x, Y: c.y, Z: (low + high) / 2})
				}
			}
		}
	}
	return out
}

// Numbers of tries, of some tried the least with which no demo stone lost
// weight.
const (
	seedsKept   = 4
	seedsApart  = 1.2 // mm
	roomsSeen   = 10  // seeds from which a solid is pushed
	roomsApart  = 3.5
	settleTries = 120
	pushTries   = 120
	turnsTried  = 6
	// A solid whose best seed lacks more than this is not settled: it moves by
	// some millimetres at most.
	hopelessSeed = -1.6
)

// starts returns the most promising spots of a solid in a piece, the best
// first, so many and so far apart.
func (m *mover) starts(places []geometry.Vec3, e *entry, most int, apart float64) []spot {
	type scored struct {
		spot
		value float64
	}
	descending := func(a, b scored) int { return cmp.Compare(b.value, a.value) }
	var best []scored
	try := func(s spot) {
		floor := hopelessSeed
		if len(best) == most {
			floor = best[len(best)-1].value
		}
		v := m.value(s, floor)
		if v <= floor {
			return
		}
		for i := range best {
			if best[i].at.Sub(s.at).Norm() < apart {
				if best[i].value < v {
					best[i] = scored{s, v}
					slices.SortFunc(best, descending)
				}
				return
			}
		}
		best = append(best, scored{s, v})
		slices.SortFunc(best, descending)
		best = best[:min(len(best), most)]
	}
	if e.seed != nil {
		try(*e.seed)
	}
	period := e.Solid.Outline.TurnPeriod()
	turns := turnsTried
	if period == 0 {
		turns = 1
	}
	for _, at := range places {
		for k := range turns {
			try(spot{at: at, turn: period * float64(k) / float64(turns)})
		}
	}
	out := make([]spot, len(best))
	for i := range best {
		out[i] = best[i].spot
	}
	return out
}
