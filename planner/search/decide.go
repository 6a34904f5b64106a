package search

import (
	"maps"
	"slices"
)

// deciding is one stage of refusals: of what is heavier than a bar, with a number of
// boxes for all of it.
type deciding struct {
	*run
	bar     func() float64
	left    int // boxes
	waiting bool
	had     map[*trial]bool // those that have had all their boxes
}

// waitingShare is the share of a stage's boxes after which nothing waits any more: what
// is left goes to all that is still open, a little at first.
const waitingShare = 0.6

// decide rules out what is heavier than the bar or finds where it fits, with a budget
// of boxes for all of it, in rounds of ever more boxes a solid: what is easily ruled out
// is, before any that nearly fit take the rest. Light ones come first, and what holds a
// lighter one waits for its verdict: ruling out a small solid rules out all that hold it.
// The bar is read again after every wave. When it ends, the share to of the whole is done.
func (r *run) decide(bar func() float64, rounds []int, boxes int, to float64) {
	d := &deciding{run: r, bar: bar, left: boxes, waiting: true, had: map[*trial]bool{}}
	late := boxes - int(waitingShare*float64(boxes))
	from := r.done
	for again := true; again && r.ctx.Err() == nil; {
		asked := map[*trial]bool{}
		for k, budget := range rounds {
			// What two rounds leave open is looked for in earnest before it gets more.
			d.round(budget, k == 2, asked)
			if d.waiting && d.left < late {
				break
			}
			r.done = max(r.done, from+(to-from)*float64(k+1)/float64(len(rounds)))
		}
		again = d.waiting && len(asked) > 0
		if d.left < late {
			d.waiting = false
			clear(d.had)
			continue
		}
		maps.Copy(d.had, asked)
	}
}

// round asks what is wanted until each has had so many boxes in all, after a look in
// earnest if so wished, and notes what was asked.
func (d *deciding) round(budget int, look bool, asked map[*trial]bool) {
	trials := d.above(d.bar())
	slices.Reverse(trials)
	trials = slices.DeleteFunc(trials, func(t *trial) bool { return d.had[t] })
	wanted := func(t *trial) bool {
		if !t.open() || t.volume <= d.bar() || d.left <= 0 || t.spent(budget) {
			return false
		}
		return !d.waiting || !d.waits(t, trials)
	}
	if look {
		d.inWaves(trials, func(t *trial) bool { return t.effort < wideLook && wanted(t) },
			func(t *trial) { d.probe(t, wideLook) }, d.taken)
	}
	d.inWaves(trials, wanted,
		func(t *trial) { t.cost = d.refute(t, budget) },
		func(t *trial) {
			d.left -= t.cost
			d.boxes += t.cost
			d.taken(t)
			d.keep(t)
			asked[t] = true
		})
}

// waits tells whether a trial holds a lighter open one of those given, lightest first.
func (r *run) waits(t *trial, trials []*trial) bool {
	if t.holds != nil && t.holds.open() && slices.Contains(trials, t.holds) {
		return true
	}
	t.holds = nil
	for _, s := range trials {
		if s.volume >= t.volume {
			break
		}
		if s.Face == t.Face && s.size >= 0 && s.open() && r.inside.stickOut(t, s, -r.want) < -r.want {
			t.holds = s
			return true
		}
	}
	return false
}

// keep drops the open boxes of a proof that is not at its end where those of all
// proofs together are too many; it begins again if there is another round.
func (r *run) keep(t *trial) {
	r.kept -= t.kept
	t.kept = 0
	if t.proof == nil {
		return
	}
	if n := t.proof.Open(); r.kept+n <= mostKept {
		t.kept = n
		r.kept += n
		return
	}
	t.tried, t.proof = t.proof.Boxes(), nil
}

// spent tells whether the proof about a trial has had so many boxes already.
func (t *trial) spent(budget int) bool {
	if t.proof != nil {
		return t.proof.Boxes() >= budget
	}
	return t.tried >= budget
}
