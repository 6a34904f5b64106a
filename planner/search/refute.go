package search

import (
	"cabwright/planner/search/internal/certify"
	"cabwright/planner/search/internal/climbing"
	"cabwright/planner/search/internal/proofs"
)

// budgets are counted in boxes, not in time, so that a plan is the same on any
// machine.
type budgets struct {
	rounds []int // of one proof, in all, after each round
	heavy  int   // for the refusals of what would outweigh the best fit, together
	list   int   // of what would enter the list
	after  int   // of what is nearly as heavy as the best, after the answer
	light  int   // of all others
	soft   int   // see goal
	prove  int   // for proving the clearance of one fit
	top    int   // how many fits are proved
}

// A level box takes about 50 microseconds, and one that may lean twice that; what the
// demo stones need is far less than these.
func budgetsFor(o Options) budgets {
	if o.TiltMaxDeg == 0 {
		return budgets{
			rounds: []int{40, 400, 1500, 6000, 20000}, heavy: 400000, list: 400000, after: 100000, light: 120000,
			soft: 100, prove: 15000, top: 8,
		}
	}
	return budgets{
		rounds: []int{40, 1000, 6000, 30000}, heavy: 400000, list: 100000, after: 200000, light: 100000,
		soft: 200, prove: 30000, top: 3,
	}
}

// mostKept is how many open boxes the proofs that wait for another round keep together:
// 20 MB and what lists of samples some of them have.
const mostKept = 120000

// mostMet is how many poses that turn out to be good only between the samples one
// proof goes on after. Each leaves a sample, and so spares the next one its place.
const mostMet = 100

// touching covers what the bound on how far one solid sticks out of another is too high
// by, mm, where both touch (see outline.Profile): a refusal goes that far below zero, so
// that it holds for a cushion about an oval as well.
const touching = 0.0015

// refute asks whether a trial can be ruled out, with so many boxes in all; where the
// proof meets a pose that fits, that ends it too. It returns the boxes spent, and
// touches no other trial.
func (r *run) refute(t *trial, budget int) int {
	defer r.explain(t)
	p := r.prober(t, r.tiltMax)
	if t.proof == nil {
		t.proof = proofs.New(p)
	}
	h, spent := t.proof, 0
	for range mostMet {
		goal := proofs.Goal{Want: r.want, Close: r.opt.Tolerance, Soft: r.budget.soft, Budget: budget}
		res := proofs.Prove(r.ctx, p, h, goal)
		spent += res.Boxes
		if res.Value > t.value {
			t.at, t.value = res.At, res.Value
		}
		t.bound = min(t.bound, res.Bound)
		switch {
		case res.Done:
			t.verdict, t.proof = CannotFit, nil
			return spent
		case r.ctx.Err() != nil:
			return spent
		case !res.Found:
			if t.bound < r.opt.Tolerance && res.Near {
				t.settled, t.proof = true, nil
			}
			return spent
		}
		fits, stuck := accept(p, t, res.At, climbing.ManySteps)
		if fits {
			return spent
		}
		if stuck {
			// Within a hair of fitting: what is no better is no news.
			h.PassOver(res.Value + certify.Resolution/10)
		}
	}
	return spent
}

// mostSamples is more than any solid of a real stone has gathered by some times; a
// proof that wants more samples is given up.
const mostSamples = 5000

// prove proves the clearance of a fit, or finds better poses and proves those.
func (r *run) prove(t *trial) {
	p := r.prober(t, r.tiltMax)
	t.lower = max(t.lower, p.Certify(t.at, unknownBound, certify.Resolution).Lower)
	noBetter := 0 // poses met that led to nothing
	for h := proofs.New(p); r.ctx.Err() == nil && noBetter < 4 && len(p.Model.Samples) < mostSamples; {
		want := t.lower + r.opt.Tolerance
		res := proofs.Prove(r.ctx, p, h, proofs.Goal{Want: want, Close: want, Soft: r.budget.prove, Budget: r.budget.prove})
		if t.proved = res.Done; !res.Found {
			return
		}
		if !improve(p, t, res.At) {
			noBetter++
		}
	}
}
