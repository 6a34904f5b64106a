package search

import (
	"context"
	"math"
	"slices"
	"sort"

	"cabwright/geometry"
	"cabwright/geometry/field"
	"cabwright/planner"
)

// job is the search on one face. The jobs of the two faces run beside each
// other and meet between their stages, so the plan does not depend on timing.
type job struct {
	ctx     context.Context
	field   *field.Field
	names   []string
	face    planner.Face
	tiltMax float64
	tol     float64
	trials  []*trial // by outline area, then sides, then from full to light
	inside  *containment
	tell    func(share float64) // something was decided; the share of the stage that is done
	report  reporter
	slots   chan struct{} // room for as many goroutines as there are workers; all jobs share it
	budget  budgets
}

// budgets are counted in boxes, not in time, so that a plan is the same on any
// machine.
type budgets struct {
	each  int // for one proof
	heavy int // for one proof of a size as heavy as the best, once it is within the tolerance
	soft  int // for one of a light size
	level int // for the level part of a tilted proof
	light int // for all trials lighter than the best fit, together
	prove int // for proving the clearance of one fit
	top   int // how many fits are proved
}

func (j *job) prober(t *trial) *prober {
	if t.model == nil {
		t.model = newModel(t.Solid, j.face == planner.Base)
	}
	return newProber(j.field, t.model, j.tiltMax)
}

// hopeless is the clearance below which a size that contains a given one is not
// climbed for: the next sizes take off about half a millimetre.
const hopeless = -0.5

// find climbs for every outline from the small to the large and keeps, single-
// and double-sided, the fullest solid that fits.
func (j *job) find() {
	type key struct{ back, dome string }
	lost := map[key]int{} // how many sizes in a row were hopeless
	var pool []coord
	for _, d := range j.field.Deepest(3, 3) {
		for k := range 2 {
			pool = append(pool, coord{d.X, d.Y, d.Z, float64(k) * math.Pi / 2})
		}
	}
	seeds := len(pool)
	for i, t := range j.trials {
		if j.ctx.Err() != nil {
			return
		}
		k := key{t.BackStyle, t.DomeStyle}
		if t.passed || lost[k] >= 12 {
			continue
		}
		p := j.prober(t)
		at := j.bestSeed(p, pool)
		if j.startFrom(p, t, at) {
			j.pass(t)
			lost[k] = 0
			if len(pool) < seeds+8 {
				pool = append(pool, t.at)
			} else {
				copy(pool[seeds:], pool[seeds+1:])
				pool[len(pool)-1] = t.at
			}
			j.tell(float64(i) / float64(len(j.trials)))
		} else if t.value < hopeless {
			lost[k]++
		}
	}
}

// bestSeed returns the pose of the pool that this solid likes best, as it is or
// turned by a quarter.
func (j *job) bestSeed(p *prober, pool []coord) coord {
	best, at := math.Inf(-1), pool[0]
	for _, c := range pool {
		for _, turned := range [2]float64{0, math.Pi / 2} {
			q := c
			if turned > 0 {
				q[turn] += turned
				// The plane of the girdle stays as it was, but for the second order.
				q[lean], q[lean+1] = c[lean+1], -c[lean]
			}
			if v := p.value(q, best); v > best {
				best, at = v, q
			}
		}
	}
	return at
}

func (j *job) startFrom(p *prober, t *trial, at coord) bool {
	at, v := p.climb(at, math.Inf(1), 14)
	if v > t.value {
		t.at, t.value = at, v
	}
	if v < 0 {
		return false
	}
	return p.accept(t, at, 4)
}

// refute asks, of every trial that no pose was found for, whether there is
// none: first of those that would outweigh the best fit, then of the others,
// lightest first, because what rules out a small solid rules out all that hold it.
func (j *job) refute(bestVolume float64) {
	var open []*trial
	for _, t := range j.trials {
		if t.verdict == Undecided && !t.passed {
			open = append(open, t)
		}
	}
	sort.SliceStable(open, func(a, b int) bool { return open[a].volume < open[b].volume })
	heavy, light := []*trial{}, []*trial{}
	for _, t := range open {
		if t.volume >= 0.99*bestVolume {
			heavy = append(heavy, t)
		} else {
			light = append(light, t)
		}
	}
	j.decideAll(heavy, open, j.budget.each, j.budget.heavy, 1<<40, 0)
	// What is far from fitting goes for few boxes, and takes with it what holds it;
	// the rest is taken up again with more, at last from the heaviest down, as that is
	// of more use to know.
	left := j.budget.light
	for round, most := range [3]int{j.budget.each / 64, j.budget.each / 8, j.budget.each} {
		if round == 2 {
			slices.Reverse(light)
		}
		left -= j.decideAll(light, open, most, j.budget.soft, left, 0.4+0.2*float64(round))
	}
}

// abreast is how many solids of one face are decided beside each other. It is
// fixed: what one of them rules out spares the others only if they come later, so
// the plan would otherwise depend on how many processors there are.
const abreast = 4

// decideAll decides trials in order, some abreast, with a budget for each and one
// for all of them, and passes on what they rule out. It returns the boxes spent.
// begun is the share of the stage that is done.
func (j *job) decideAll(trials, open []*trial, each, soft, all int, begun float64) int {
	spent := 0
	for i := 0; i < len(trials) && spent < all && j.ctx.Err() == nil; {
		var wave []*trial
		for ; i < len(trials) && len(wave) < abreast; i++ {
			if t := trials[i]; t.verdict == Undecided && !t.passed {
				wave = append(wave, t)
			}
		}
		verdicts, boxes := make([]Verdict, len(wave)), make([]int, len(wave))
		j.sideBySide(len(wave), func(k int) { verdicts[k], boxes[k] = j.decide(wave[k], min(each, all-spent), soft) })
		for k, t := range wave {
			spent += boxes[k]
			switch verdicts[k] {
			case Fits:
				j.pass(t)
			case CannotFit:
				j.ruleOut(t, open)
			}
		}
		j.tell(begun + 0.2*float64(i)/float64(len(trials)))
	}
	return spent
}

// sideBySide does the work on several goroutines, no more of which run than there
// are workers: a screen that waits for its turn would wait for them all.
func (j *job) sideBySide(n int, work func(k int)) {
	geometry.SideBySide(n, func(k int) {
		j.slots <- struct{}{}
		defer func() { <-j.slots }()
		work(k)
	})
}

// decide proves that a trial cannot fit, or finds the pose that it fits in; it
// touches no other trial. It returns the verdict with the boxes spent on it.
func (j *job) decide(t *trial, budget, soft int) (Verdict, int) {
	p := j.prober(t)
	levelBoxes := 0
	if !p.level && !t.leveled {
		// Most of what fits at all fits level, and that is soon found or ruled out.
		t.leveled = true
		v, boxes := j.chase(newProber(j.field, t.model, 0), p, t, j.budget.level, 0)
		if levelBoxes = boxes; v == Fits {
			return Fits, boxes
		}
	}
	v, boxes := j.chase(p, p, t, budget, soft)
	return v, levelBoxes + boxes
}

// mostMeetings is how many poses that turn out to be good only between the samples
// a proof goes on after. Each spares the next one its place.
const mostMeetings = 150

// chase runs one proof to its end. Where it meets a pose that turns out to be
// good only between the samples, these have grown by the accepting and the proof
// goes on where it was. It returns the boxes spent as well.
func (j *job) chase(l, p *prober, t *trial, budget, soft int) (Verdict, int) {
	h, stuck, spent := t.hunt, 0, 0
	if h == nil || l != p {
		h = l.newHunt()
	}
	if l == p {
		// Taken up again with a larger budget, if that is how it ends.
		t.hunt = h
	}
	for range mostMeetings {
		res := l.prove(j.ctx, h, 0, j.tol, budget, soft)
		spent += res.boxes
		if res.value > t.value {
			t.at, t.value = res.at, res.value
		}
		if l == p {
			t.bound = min(t.bound, res.bound)
		}
		switch {
		case res.done:
			return CannotFit, spent
		case !res.found || j.ctx.Err() != nil:
			return Undecided, spent
		case p.accept(t, res.at, 30):
			return Fits, spent
		}
		if p.stuck {
			if stuck++; stuck == 5 {
				break
			}
		}
		l.fit()
	}
	return Undecided, spent
}

// pass marks what need not be asked any more: the lighter domes and backs on
// the same outline, single- or double-sided as it is.
func (j *job) pass(fit *trial) {
	for _, t := range j.trials {
		if t != fit && t.size == fit.size && t.Solid.Sides == fit.Solid.Sides && t.volume <= fit.volume {
			t.passed, t.hunt = true, nil
		}
	}
}

// ruleOut notes a proof and passes it on to every solid that holds this one.
func (j *job) ruleOut(t *trial, open []*trial) {
	t.verdict, t.bound, t.hunt = CannotFit, min(t.bound, -1e-6), nil
	if t.value > -1e8 {
		t.limits = limitsOf(j.field, j.names, t.Solid, t.model.pose(t.at), math.Inf(1), j.tol)
	}
	for _, o := range open {
		if o.verdict != Undecided || o == t || o.passed {
			continue
		}
		if s := j.inside.stickOut(o, t, -t.bound); t.bound+s < 0 {
			o.verdict, o.bound, o.limits, o.hunt = CannotFit, t.bound+s, t.limits, nil
		}
	}
}

// mostSamples is more than any solid of a real stone has gathered by some times; a
// proof that wants more samples is given up.
const mostSamples = 5000

// perfect proves the clearance of the heaviest fits, or finds the better poses
// and proves those.
func (j *job) perfect(fits []*trial) {
	for i := 0; i < len(fits) && j.ctx.Err() == nil; i += abreast {
		wave := fits[i:min(i+abreast, len(fits))]
		j.sideBySide(len(wave), func(k int) { j.perfectOne(wave[k]) })
		j.tell(float64(i+len(wave)) / float64(len(fits)))
	}
}

func (j *job) perfectOne(t *trial) {
	p := j.prober(t)
	t.lower = p.certify(t.at, math.Inf(1)).lower
	vain := 0 // poses met that led to nothing
	for h := p.newHunt(); j.ctx.Err() == nil && vain < 4 && len(p.model.samples) < mostSamples; {
		res := p.prove(j.ctx, h, t.lower+j.tol, t.lower+j.tol, j.budget.prove, j.budget.prove)
		if t.proved = res.done; !res.found {
			return
		}
		if !p.improve(t, res.at) {
			vain++
		}
	}
}
