package ui

import (
	"cabwright/planner"
	"cabwright/planner/search"
)

// outcomesKept is how many stones' plans are remembered: enough to go back and
// forth over the last few edits, and some megabytes at most.
const outcomesKept = 8

// outcomes remembers what was found for the last few stones, so that the answer
// can be compared with the one before an edit, and an edit that is undone has its
// fits back at once.
type outcomes struct {
	list []outcome // latest last
}

type outcome struct {
	stone planner.Stone
	plan  search.Plan
}

// alike reports whether two stones hold the same fits.
func alike(a, b planner.Stone) bool { return len(planner.Changed(a, b)) == 0 }

// of returns what was found for a stone.
func (o *outcomes) of(stone planner.Stone) (search.Plan, bool) {
	for i := len(o.list) - 1; i >= 0; i-- {
		if alike(o.list[i].stone, stone) {
			return o.list[i].plan, true
		}
	}
	return search.Plan{}, false
}

// note remembers what is found for a stone so far. What a finished search found
// stands until another one ends.
func (o *outcomes) note(stone planner.Stone, plan search.Plan) {
	for i, known := range o.list {
		if !alike(known.stone, stone) {
			continue
		}
		if ended(known.plan) && !ended(plan) {
			return
		}
		o.list = append(o.list[:i], o.list[i+1:]...)
		break
	}
	o.list = append(o.list, outcome{stone, plan})
	if len(o.list) > outcomesKept {
		o.list = o.list[1:]
	}
}

// forget drops everything: another question is asked of the search.
func (o *outcomes) forget() { o.list = nil }

// ended reports whether a plan is what a search came to, not a snapshot.
func ended(p search.Plan) bool { return p.Stopped == search.Complete || p.Stopped == search.Budget }

// heaviest returns the heaviest fit of a plan, however it is ranked; nil when
// nothing fits.
func heaviest(p search.Plan) *search.Fit {
	var best *search.Fit
	for i := range p.Fits {
		if f := &p.Fits[i]; best == nil || f.Carat > best.Carat {
			best = f
		}
	}
	return best
}
