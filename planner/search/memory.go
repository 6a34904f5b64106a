package search

import (
	"math"
	"slices"

	"cabwright/planner"
	"cabwright/planner/search/internal/certify"
	"cabwright/planner/search/internal/climbing"
	"cabwright/planner/search/internal/poses"
)

// memory is what a search found out about one state of a stone, kept with its plan so
// that the search about the next state begins there: copies, as the search itself may
// still be running.
type memory struct {
	stone  planner.Stone
	opt    Options
	trials []knownTrial
}

type knownTrial struct {
	Candidate
	size    int
	verdict Verdict
	at      poses.Coord
	value   float64
	lower   float64
	bound   float64
	settled bool
	why     []Shortfall // what rules it out, or was found in the way
}

// remember copies what is known of the trials.
func (r *run) remember() *memory {
	k := &memory{stone: r.stone, opt: r.opt}
	k.opt.After = nil // only the last state is kept
	for _, t := range r.trials {
		if t.passed || t.value == unknownValue && t.bound == unknownBound {
			continue
		}
		k.trials = append(k.trials, knownTrial{
			t.Candidate, t.size, t.verdict, t.at, t.value, t.lower, t.bound, t.settled, t.reason(),
		})
	}
	return k
}

// recall takes over from an earlier plan what still holds. Where marks were only added
// or have grown no pose keeps more than it did, so refusals and bounds stay; where they
// were only removed or have shrunk none keeps less, so fits stay. All other fits are
// climbed for again from where they were, the heaviest first.
func (r *run) recall(k *memory) {
	if k == nil || !slices.Equal(k.opt.Shapes, r.opt.Shapes) ||
		k.opt.Tolerance != r.opt.Tolerance || k.opt.TiltMaxDeg != r.opt.TiltMaxDeg ||
		k.opt.CornerRadius != r.opt.CornerRadius {
		return
	}
	same := slices.EqualFunc(k.opt.Cuts, r.opt.Cuts, func(a, b HalfSpace) bool { return a == b })
	less, more := same && keepsLess(k.stone, r.stone), same && keepsLess(r.stone, k.stone)
	type key struct {
		shape, dome, back string
		length, width     float64
		face              planner.Face
	}
	keyOf := func(c Candidate) key {
		o := c.Solid.Outline
		return key{o.Shape, c.DomeStyle, c.BackStyle, o.Length, o.Width, c.Face}
	}
	now := map[key]*trial{}
	for _, t := range r.trials {
		now[keyOf(t.Candidate)] = t
	}
	var again []*trial
	for i := range k.trials {
		o := &k.trials[i]
		t := now[keyOf(o.Candidate)]
		switch {
		case o.size < 0:
			t = &trial{Candidate: o.Candidate, volume: o.Solid.Volume(), size: -1, bound: unknownBound, value: unknownValue}
			sided := len(r.opt.Sides) == 0 || slices.Contains(r.opt.Sides, o.Solid.Sides)
			if o.verdict != Fits || !slices.Contains(r.opt.Faces, o.Face) || !sided || !r.opt.wantsFreeform() {
				continue
			}
		case t == nil || t.Solid.Wall != o.Solid.Wall || t.Solid.Dome != o.Solid.Dome || t.Solid.Back != o.Solid.Back:
			continue // the cutter's own sizes or styles have changed since
		}
		if less && o.verdict != Fits {
			t.verdict, t.bound, t.settled, t.why = o.verdict, o.bound, o.settled, o.why
		} else if less {
			t.bound = o.bound
		}
		if o.value > unknownValue {
			t.at = o.at
		}
		if o.verdict == Fits {
			t.lower = o.lower
			again = append(again, t)
		}
	}
	heaviestFirst(again)
	r.inWaves(again, func(*trial) bool { return true }, func(t *trial) { r.recheck(t, more) }, func(t *trial) {
		if t.size < 0 && t.verdict == Fits {
			r.addFreeform(t)
			return
		}
		r.taken(t)
	})
}

// recheck asks whether a fit still is one, at its pose if nothing is more in the way
// than it was, else at the best pose near by. Only calibrated sizes are moved: a
// freeform is looked for anew.
func (r *run) recheck(t *trial, holds bool) {
	p := r.prober(t, r.tiltMax)
	at, lower := t.at, t.lower
	t.value = p.Value(at, math.Inf(-1))
	if !holds {
		lower = p.Certify(at, math.Inf(1), certify.Resolution).Lower
	}
	if lower >= certify.LeastClearance {
		t.verdict, t.lower = Fits, lower
		return
	}
	t.lower = 0
	if t.size >= 0 {
		climbAndAccept(p, t, at, climbing.ManySteps, climbing.CloseTrust)
	}
}

// keepsLess tells whether no point of the stone after keeps more than it did before,
// because outline and readings are the same and marks and allowances were only added
// or have grown.
func keepsLess(before, after planner.Stone) bool {
	a, b := before.Allowances, after.Allowances
	if !slices.Equal(before.Outline, after.Outline) ||
		!slices.Equal(before.Top, after.Top) || !slices.Equal(before.Base, after.Base) ||
		b.Skin < a.Skin || b.Crack < a.Crack || b.SealedCrack < a.SealedCrack || b.Pocket < a.Pocket {
		return false
	}
	for _, c := range before.Cracks {
		if !slices.ContainsFunc(after.Cracks, func(d planner.Crack) bool { return crackHolds(d, c, b) }) {
			return false
		}
	}
	for _, p := range before.Pockets {
		if !slices.ContainsFunc(after.Pockets, func(q planner.Pocket) bool { return pocketHolds(q, p) }) {
			return false
		}
	}
	return true
}

// crackHolds tells whether crack d is in the way wherever c is. A sealed crack that is
// no longer sealed is so only if the allowance for it is not the smaller one.
func crackHolds(d, c planner.Crack, a planner.Allowances) bool {
	return slices.Equal(d.Path, c.Path) && d.Face == c.Face &&
		d.Lean == c.Lean && d.Toward == c.Toward && d.RunOn >= c.RunOn &&
		(d.Through || !c.Through && d.Depth >= c.Depth) && (d.Sealed == c.Sealed || c.Sealed && a.Crack >= a.SealedCrack)
}

// pocketHolds tells whether pocket q is in the way wherever p is.
func pocketHolds(q, p planner.Pocket) bool {
	if !slices.Equal(q.Outline, p.Outline) {
		return false
	}
	switch {
	case q.Face == planner.Through:
		return true
	case q.Face != p.Face:
		return false
	case q.Face == planner.Inside:
		return q.Low <= p.Low && q.High >= p.High
	}
	return q.Depth >= p.Depth
}
