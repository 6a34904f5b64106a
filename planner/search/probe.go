package search

import (
	"math"
	"math/rand/v2"

	"cabwright/planner/search/internal/bounds"
	"cabwright/planner/search/internal/climbing"
	"cabwright/planner/search/internal/poses"
)

// How hard poses are looked for.
const (
	quickLook = 1 // from the best known place
	wideLook  = 2 // from several places all over the stone, and again from poses near the best
)

// shakesFor returns how often a climb is tried again from a pose near the best one known:
// the more often, the less that one lacks, mm. What is found here spares its proof
// thousands of boxes.
func shakesFor(value float64) int {
	switch {
	case value >= -0.1:
		return 20
	case value >= climbing.Hopeless/2:
		return 8
	}
	return 0
}

// probe looks for a pose that a trial fits at, with the given effort, starting from
// the poses of its face's pool as well. It touches nothing but the trial.
func (r *run) probe(t *trial, effort int) {
	if !t.open() || t.effort >= effort || r.ctx.Err() != nil {
		return // the clearance of a fit belongs to its pose: only improve moves that
	}
	t.effort = effort
	p := r.prober(t, r.tiltMax)
	// The generator is seeded by the solid alone: the same stone gives the same plan.
	random := rand.New(rand.NewPCG(uint64(t.size+2), math.Float64bits(t.volume)))
	pooled := r.pools[t.Face].Poses
	if effort == quickLook {
		deep := r.deep[:min(len(r.deep), 8)]
		found := climbing.Evolve(p, climbing.QuickCrowd, places(climbing.Starts(p, pooled, deep, 2, 4, false)), random, 1)
		if len(found) > 0 {
			climbAndAccept(p, t, found[0].At, climbing.FewSteps, climbing.WideTrust)
		}
		return
	}
	begin := places(climbing.Starts(p, pooled, r.deep, 6, 4, true))
	for _, s := range climbing.Evolve(p, climbing.WideCrowd, begin, random, 4) {
		if climbAndAccept(p, t, s.At, 2*climbing.FewSteps, climbing.WideTrust) || r.ctx.Err() != nil {
			return
		}
	}
	for k := 0; k < shakesFor(t.value) && r.ctx.Err() == nil; k++ {
		width := 1.0
		if k%2 == 1 {
			width = 0.3
		}
		if climbAndAccept(p, t, climbing.Shaken(p, t.at, width, random), 2*climbing.FewSteps, climbing.CloseTrust) {
			return
		}
	}
}

// places returns the poses alone.
func places(starts []climbing.Start) []poses.Coord {
	out := make([]poses.Coord, len(starts))
	for k, s := range starts {
		out[k] = s.At
	}
	return out
}

// behind is how far, mm, a climb may be behind the best pose known after a third of its
// steps: the others gain less than that nearly always.
const behind = 0.2

// climbAndAccept climbs from a pose and takes what it finds as a fit if it is one. It
// gives up a climb that will hardly come up to the best pose known.
func climbAndAccept(p *bounds.Prober, t *trial, at poses.Coord, steps int, trust float64) bool {
	at, v := climbing.Climb(p, at, steps/3, trust)
	if v > t.value-behind {
		at, v = climbing.Climb(p, at, steps-steps/3, climbing.CloseTrust)
	}
	if v > t.value {
		t.at, t.value = at, v
	}
	if v < 0 {
		return false
	}
	fits, _ := accept(p, t, at, climbing.ManySteps)
	return fits
}

// fit notes a fit: lighter domes and backs on the same outline need not be asked
// about any more, and other solids are tried at its pose.
func (r *run) fit(t *trial) {
	for _, s := range r.siblings[sibling{t.Face, t.size, t.Solid.Sides}] {
		if s != t && s.volume <= t.volume {
			s.passed, s.proof = true, nil
		}
	}
	t.proof = nil
	r.pools[t.Face].Note(t.at)
}

// ruleOut notes a refusal and passes it on to every solid that holds this one.
func (r *run) ruleOut(t *trial) {
	t.verdict, t.bound, t.proof = CannotFit, min(t.bound, -1e-6), nil
	for _, o := range r.trials {
		if o.volume < t.volume {
			break
		}
		if o.verdict != Undecided || o == t || o.passed || o.Face != t.Face || o.size < 0 {
			continue
		}
		if s := r.inside.stickOut(o, t, -t.bound); t.bound+s < 0 {
			o.verdict, o.bound, o.from, o.proof = CannotFit, t.bound+s, t, nil
		}
	}
}

// taken shares what a task found out about a trial.
func (r *run) taken(t *trial) {
	switch {
	case t.verdict == Fits && !t.passed:
		r.fit(t)
	case t.verdict == CannotFit && t.from == nil && t.proof == nil:
		r.ruleOut(t)
	}
}
