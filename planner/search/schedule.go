package search

import (
	"cmp"
	"slices"
	"sort"

	"cabwright/planner"
)

// The stages of a search, as a plan names them, with the share of the whole that is
// done when each begins. The shares are about those of the demo stones.
const (
	stageRecall = "looking at the last list again"
	stageFind   = "finding"
	stageHeavy  = "deciding what could be heavier"
	stageList   = "filling the list"
	stageProve  = "proving the best"
	stageLight  = "deciding the rest"
	stageDone   = "done"
)

const (
	shareFind  = 0.0
	shareHeavy = 0.15
	shareList  = 0.4
	shareProve = 0.6
	shareLight = 0.7
	shareRest  = 0.8
)

// listed is how many fits of the list have to be final before the answer stands: a
// screenful.
const listed = 20

// provedFirst is how many of the heaviest fits are proved before the answer stands.
const provedFirst = 3

// heavyShare is the share of the best fit's weight above which what is still open after
// the answer is gone on with first.
const heavyShare = 0.8

// all does the whole search: what is found comes before what is proved, what is heavy
// before what is light, and the answer before the rest.
func (r *run) all() {
	if after := r.opt.After; after != nil {
		r.enter(stageRecall, shareFind)
		r.recall(after.memory)
	}
	r.enter(stageFind, shareFind)
	r.findFirst()
	found := r.best()
	r.enter(stageHeavy, shareHeavy)
	r.decide(r.best, r.budget.rounds, r.budget.heavy, shareList)
	if r.opt.wantsFreeform() && r.best() > found {
		r.freeforms(true) // a heavier size may show the way to a heavier freeform
	}
	r.enter(stageList, shareList)
	last := func() float64 { return r.nth(listed) }
	r.look(last)
	r.lookHarder(last)
	r.decide(last, r.budget.rounds, r.budget.list, shareProve)
	r.enter(stageProve, shareProve)
	r.seekSpare(spareSought)
	r.proveTop(0, provedFirst)
	r.describe(listed)
	r.answered = r.ctx.Err() == nil
	r.enter(stageLight, shareLight)
	r.proveTop(provedFirst, r.budget.top)
	if r.opt.wantsFreeform() {
		r.boundFreeforms()
	}
	r.decide(func() float64 { return heavyShare * r.best() }, r.budget.rounds, r.budget.after, shareRest)
	none := func() float64 { return 0 }
	r.look(none)
	r.decide(none, r.budget.rounds[:len(r.budget.rounds)-1], r.budget.light, 1)
	r.describe(len(r.trials))
	r.explainAll()
	r.enter(stageDone, 1)
}

// enter begins a stage.
func (r *run) enter(stage string, share float64) {
	r.stage, r.done = stage, share
	r.tell()
}

// family is the solids of one face, shape, dome and back, by volume: where one does
// not fit, the larger ones seldom do.
type family struct {
	face              planner.Face
	shape, dome, back string
}

// families returns the trials of each family from light to heavy, and the families in
// order, with the middle dome and the flat back of every shape first.
func (r *run) families() (map[family][]*trial, []family) {
	of := map[family][]*trial{}
	var order []family
	for i := len(r.trials) - 1; i >= 0; i-- {
		t := r.trials[i]
		k := family{t.Face, t.Solid.Outline.Shape, t.DomeStyle, t.BackStyle}
		if of[k] == nil {
			order = append(order, k)
		}
		of[k] = append(of[k], t)
	}
	place := map[string]int{}
	for i, d := range r.set.DomeStyles {
		place["dome "+d.Key] = 10 * abs(i-len(r.set.DomeStyles)/2)
	}
	for i, b := range r.set.BackStyles {
		place["back "+b.Key] = i
	}
	rank := func(f family) int { return place["dome "+f.dome] + place["back "+f.back] }
	sort.SliceStable(order, func(a, b int) bool { return rank(order[a]) < rank(order[b]) })
	return of, order
}

func abs(a int) int { return max(a, -a) }

// find goes through the families and looks in each for what is heavier than all that
// was found before, from the lightest such size up.
func (r *run) find() {
	of, order := r.families()
	for i := 0; i < len(order) && r.ctx.Err() == nil; {
		wave := findWave
		if i == 0 {
			wave = firstWave
		}
		group := order[i:min(i+wave, len(order))]
		i += len(group)
		bar := r.best()
		if i <= findWave {
			bar = 0
		}
		asked := make([][]*trial, len(group))
		r.wave(len(group), func(k int) {
			if bar == 0 {
				asked[k] = r.bisect(of[group[k]])
			} else {
				asked[k] = r.ascend(of[group[k]], bar)
			}
		})
		for _, trials := range asked {
			for _, t := range trials {
				r.taken(t)
			}
		}
		r.done = shareFind + (shareHeavy-shareFind)*float64(i)/float64(len(order))
		r.tell()
	}
}

// bisect looks for about the largest solid of a family that fits. It returns those
// that it asked about, the last fit last.
func (r *run) bisect(trials []*trial) (asked []*trial) {
	lo, hi := -1, len(trials)
	for hi-lo > 1 && r.ctx.Err() == nil {
		m := (lo + hi) / 2
		t := trials[m]
		if t.open() {
			r.probe(t, quickLook)
			asked = append(asked, t)
		}
		if t.verdict == Fits || t.passed {
			lo = m
		} else {
			hi = m
		}
	}
	return asked
}

// ascend asks about the solids of a family above a volume, from the lightest up, as
// long as they fit or nearly do. It returns those that it asked about.
func (r *run) ascend(trials []*trial, bar float64) (asked []*trial) {
	i := sort.Search(len(trials), func(k int) bool { return trials[k].volume > bar })
	missed := false
	for ; i < len(trials) && r.ctx.Err() == nil; i++ {
		t := trials[i]
		if t.open() {
			r.probe(t, quickLook)
			asked = append(asked, t)
		}
		if t.verdict == Fits {
			missed = false
			continue
		}
		if missed || t.value < nearMiss {
			break
		}
		missed = true
	}
	return asked
}

// nearMiss is the clearance from which a trial that a quick look left is looked at in
// earnest before proofs are tried.
const nearMiss = -0.25

// lookHarder looks in earnest for poses of what nearly fits and is heavier than the
// bar, what is nearest to fitting first.
func (r *run) lookHarder(bar func() float64) {
	var near []*trial
	for _, t := range r.above(bar()) {
		if t.value > nearMiss && t.effort < wideLook {
			near = append(near, t)
		}
	}
	slices.SortStableFunc(near, func(a, b *trial) int { return cmp.Compare(b.value, a.value) })
	r.inWaves(near, func(t *trial) bool { return t.open() && t.volume > bar() },
		func(t *trial) { r.probe(t, wideLook) }, r.taken)
}

// above returns the open trials heavier than a volume, heaviest first.
func (r *run) above(volume float64) []*trial {
	var out []*trial
	for _, t := range r.trials {
		if t.volume <= volume {
			break
		}
		if t.open() {
			out = append(out, t)
		}
	}
	return out
}

// look looks for poses of what is open above the bar, heaviest first, a little at
// first. The bar rises as fits are found.
func (r *run) look(bar func() float64) {
	r.inWaves(r.above(bar()), func(t *trial) bool { return t.open() && t.volume > bar() && t.effort < quickLook },
		func(t *trial) { r.probe(t, quickLook) }, r.taken)
}

// proveTop has the heaviest fits proved, of the first many but not the first few.
func (r *run) proveTop(few, many int) {
	var top []*trial
	rank := 0
	for _, t := range r.trials {
		if !t.fits() {
			continue
		}
		if rank++; rank > many {
			break
		}
		if rank > few && !t.proved {
			top = append(top, t)
		}
	}
	r.inWaves(top, func(*trial) bool { return true }, r.prove, func(*trial) {})
}
