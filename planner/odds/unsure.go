package odds

import (
	"math"
	"slices"

	"cabwright/planner"
)

// What names the number of a mark that is not sure, as the stone file does.
type What string

// The numbers, and There for a mark of which only that it is there is not sure.
const (
	Depth  What = "depth"
	RunOn  What = "run_on"
	Top    What = "top"    // height of an inside pocket's top
	Bottom What = "bottom" // height of its bottom: it grows downwards
	There  What = "there"
)

// Unsure is one number that is not known for sure, in mm, and the chance that the
// mark is there at all.
type Unsure struct {
	ID     string
	What   What
	Range  Triangular // zero for There
	Chance float64
}

// Of lists what is not sure of a stone's marks, cracks before pockets, in the
// stone's order. thickness is the rough's greatest, mm: what a range without an
// end ends at, and the depth of a crack that goes right through.
func Of(s planner.Stone, thickness float64) []Unsure {
	var out []Unsure
	for _, k := range s.Cracks {
		depth := k.Depth
		if k.Through {
			depth = thickness
		}
		out = append(out, listed(k.ID, k.Chance, thickness,
			ranged{Depth, k.DepthRange, depth}, ranged{RunOn, k.RunOnRange, k.RunOn})...)
	}
	for _, p := range s.Pockets {
		out = append(out, listed(p.ID, p.Chance, thickness,
			ranged{Depth, p.DepthRange, p.Depth}, ranged{Top, p.TopRange, p.High}, ranged{Bottom, p.BottomRange, p.Low})...)
	}
	return out
}

// Alike reports whether two stones hold the same fits at the same odds. What no fit or
// chance depends on may differ, such as the name.
func Alike(a, b planner.Stone) bool {
	unsure := func(s planner.Stone) []Unsure { return Of(s, math.Inf(1)) }
	return len(planner.Changed(a, b)) == 0 && slices.Equal(unsure(a), unsure(b))
}

// Any reports whether a stone has a mark that is not sure.
func Any(s planner.Stone) bool { return len(Of(s, 0)) > 0 }

type ranged struct {
	what   What
	r      *planner.Range
	likely float64
}

func listed(id string, chance *float64, thickness float64, all ...ranged) []Unsure {
	p := 1.0
	if chance != nil {
		p = *chance
	}
	var out []Unsure
	for _, a := range all {
		if a.r == nil {
			continue
		}
		most := a.r.Most
		if a.r.Open {
			// A likely value beyond it, which the file's check lets by when the
			// faces lean, is believed.
			most = math.Max(thickness, a.r.Least)
		}
		likely := math.Min(math.Max(a.likely, a.r.Least), most)
		out = append(out, Unsure{id, a.what, Triangular{a.r.Least, likely, most}, p})
	}
	if len(out) == 0 && p < 1 {
		out = append(out, Unsure{ID: id, What: There, Chance: p})
	}
	return out
}

// question is what each place is asked one limit about: an unsure number, or a
// crack's depth for each of several run-ons when both are not sure.
type question struct {
	Unsure
	slices []slice // of the run-on; one with the whole weight when that is sure
}

// slice is a part of the spread of a run-on: its chance and its far end.
type slice struct {
	weight float64
	runOn  float64 // NaN: the mark's own
}

// runOnSlices is how many slices of equal width a run-on that is unsure beside
// the depth is cut into: what the form of the plan promises.
const runOnSlices = 8

// questions puts the run-on of a crack whose depth is unsure too into slices.
func questions(all []Unsure) []question {
	var out []question
	for _, u := range all {
		if n := len(out); n > 0 && u.What == RunOn && out[n-1].ID == u.ID && out[n-1].What == Depth {
			out[n-1].slices = sliced(u.Range)
			continue
		}
		out = append(out, question{u, []slice{{1, math.NaN()}}})
	}
	return out
}

func sliced(t Triangular) []slice {
	var out []slice
	for k := range runOnSlices {
		from := t.Least + (t.Most-t.Least)*float64(k)/runOnSlices
		to := t.Least + (t.Most-t.Least)*float64(k+1)/runOnSlices
		weight := t.Below(to) - t.Below(from)
		if k == 0 {
			weight = t.Below(to)
		}
		if weight > 0 {
			out = append(out, slice{weight, to})
		}
	}
	return out
}

// alone returns the stone with one mark only, given a value of what is asked about it
// and, unless that is NaN, a run-on. It reports false when nothing is left of the
// mark: a pocket whose top is not above its bottom.
func alone(s planner.Stone, u Unsure, value, runOn float64) (planner.Stone, bool) {
	cracks, pockets := s.Cracks, s.Pockets
	s.Cracks, s.Pockets = nil, nil
	if i := slices.IndexFunc(cracks, func(k planner.Crack) bool { return k.ID == u.ID }); i >= 0 {
		k := cracks[i]
		switch u.What {
		case Depth:
			k.Depth, k.Through = value, false
		case RunOn:
			k.RunOn = value
		}
		if !math.IsNaN(runOn) {
			k.RunOn = runOn
		}
		s.Cracks = []planner.Crack{k}
		return s, true
	}
	i := slices.IndexFunc(pockets, func(p planner.Pocket) bool { return p.ID == u.ID })
	p := pockets[i]
	switch u.What {
	case Depth:
		p.Depth = value
	case Top:
		p.High = value
	case Bottom:
		p.Low = value
	}
	s.Pockets = []planner.Pocket{p}
	return s, p.Face != planner.Inside || p.High > p.Low
}

// At returns the stone with every unsure number at the given level of its spread,
// from 0 (least) by 0.5 (likely) to 1 (most), and every mark there: whatever keeps
// clear of it at 1 is sure. A crack that may be as deep as the rough is thick goes
// right through at 1. thickness is as for Of.
func At(s planner.Stone, thickness, level float64) planner.Stone {
	at := map[string]map[What]float64{}
	for _, u := range Of(s, thickness) {
		if at[u.ID] == nil {
			at[u.ID] = map[What]float64{}
		}
		at[u.ID][u.What] = u.Range.level(level, u.What == Bottom)
	}
	s.Cracks, s.Pockets = slices.Clone(s.Cracks), slices.Clone(s.Pockets)
	for i := range s.Cracks {
		k := &s.Cracks[i]
		if v, is := at[k.ID][Depth]; is {
			k.Depth, k.Through = v, k.DepthRange.Open && level == 1
		}
		if v, is := at[k.ID][RunOn]; is {
			k.RunOn = v
		}
		k.DepthRange, k.RunOnRange, k.Chance = nil, nil, nil
	}
	for i := range s.Pockets {
		p := &s.Pockets[i]
		p.Depth = valueOr(at[p.ID], Depth, p.Depth)
		p.High, p.Low = valueOr(at[p.ID], Top, p.High), valueOr(at[p.ID], Bottom, p.Low)
		p.DepthRange, p.TopRange, p.BottomRange, p.Chance = nil, nil, nil, nil
	}
	s.Pockets = slices.DeleteFunc(
		s.Pockets, func(p planner.Pocket) bool { return p.Face == planner.Inside && p.High <= p.Low },
	)
	return s
}

func valueOr(at map[What]float64, w What, is float64) float64 {
	if v, set := at[w]; set {
		return v
	}
	return is
}

// level goes straight from least to likely and on to most; from most down for
// what grows downwards.
func (t Triangular) level(at float64, down bool) float64 {
	if down {
		t = Triangular{t.Most, t.Likely, t.Least}
	}
	if at <= 0.5 {
		return t.Least + 2*at*(t.Likely-t.Least)
	}
	return t.Likely + (2*at-1)*(t.Most-t.Likely)
}

// sure returns the stone with the skin and the sure marks only.
func sure(s planner.Stone, all []Unsure) planner.Stone {
	unsure := func(id string) bool {
		return slices.ContainsFunc(all, func(u Unsure) bool { return u.ID == id })
	}
	s.Cracks = slices.DeleteFunc(slices.Clone(s.Cracks), func(k planner.Crack) bool { return unsure(k.ID) })
	s.Pockets = slices.DeleteFunc(slices.Clone(s.Pockets), func(p planner.Pocket) bool { return unsure(p.ID) })
	return s
}

// sureMarks lists the ids of the marks that are sure.
func sureMarks(s planner.Stone, all []Unsure) []string {
	s = sure(s, all)
	var out []string
	for _, k := range s.Cracks {
		out = append(out, k.ID)
	}
	for _, p := range s.Pockets {
		out = append(out, p.ID)
	}
	return out
}
