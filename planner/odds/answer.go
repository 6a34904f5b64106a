package odds

import (
	"context"
	"slices"
	"sync"

	"cabwright/planner"
	"cabwright/planner/search"
	"cabwright/presets"
)

// Search finds the fits of a stone, as search.Run does.
type Search func(
	ctx context.Context, stone planner.Stone, opt search.Options, emit func(search.Plan),
) (search.Plan, error)

// Question is what an answer is found from: the plan of a stone as it likely is, the
// options it was made with, and the means of planning the stone otherwise.
type Question struct {
	Plan    search.Plan
	Options search.Options
	Presets *presets.Set
	Search  Search
	// Known are places that keep clear of all that is sure, such as those found until an
	// edit of ranges: better ones are looked for from there too.
	Known []Place
}

// Answer is what a plan is worth as a bet.
type Answer struct {
	Unsure     []Unsure
	Places     []Place // by what they bring on average
	BestSure   float64 // carats of the heaviest whose odds are 1; 0: none
	LookFirst  []Look  // what knowing each mark is worth, most first
	KnowingAll float64 // and all of them together, carats
	Costs      []Cost  // dearest first; CostOfAll is of all marks together
	CostOfAll  Cost
}

// placesSought is for how many solids a better place is looked for: more than anyone
// compares, and few enough that it takes seconds.
const placesSought = 10

// Ask answers a question. emit, if not nil, gets the answer so far, from one goroutine
// at a time: first the odds of the plan's own fits, then place after place. Better places
// are looked for of the plan's own solids first, then of those in plans of the stone with
// its marks at their least and most; that of the most gives what is sure. When the
// context ends the answer is what there is. The error is planner.NewRough's or that of a
// search.
func Ask(ctx context.Context, q Question, emit func(Answer)) (Answer, error) {
	j, err := NewJudge(q.Plan.Stone)
	if err != nil {
		return Answer{}, err
	}
	a := asking{Question: q, judge: j, emit: emit, candidates: search.Candidates(q.Presets, q.Options)}
	a.sought = map[key]int{}
	a.answer.Unsure = j.unsure
	if len(j.unsure) == 0 {
		return a.answer, nil
	}
	a.own = j.Places(q.Plan.Fits[:min(len(q.Plan.Fits), maxPlaces/2)])
	a.known = eachOnce(j.Rejudge(q.Known))
	a.found = slices.Clone(a.known)
	a.tell(eachOnce(append(slices.Clone(a.found), a.own...)))
	a.better(ctx)
	worst, err := a.plan(ctx, 1)
	if err != nil {
		return a.answer, err
	}
	best, err := a.plan(ctx, 0)
	if err != nil {
		return a.answer, err
	}
	a.sure = worst.Fits
	a.certain = slices.DeleteFunc(j.Places(a.sure[:min(len(a.sure), 3)]), func(p Place) bool { return !p.Sure() })
	a.least = best.Fits
	a.settleLeft(ctx)
	a.better(ctx)
	a.tell(a.all())
	a.answer.Costs, a.answer.CostOfAll = a.costs(ctx)
	return a.answer, nil
}

// asking is a question on its way to its answer.
type asking struct {
	Question
	judge      *Judge
	emit       func(Answer)
	candidates []search.Candidate
	own        []Place      // the plan's fits where it lays them
	known      []Place      // those of the question
	sure       []search.Fit // that fit with every mark at its most
	certain    []Place      // the heaviest of these
	least      []search.Fit // that fit with every mark at its least

	mu     sync.Mutex
	found  []Place     // better places
	sought map[key]int // from how many poses they were looked for
	answer Answer
}

// plan plans the stone with its marks at a level of their spread, up to the best
// that can be had.
func (a *asking) plan(ctx context.Context, level float64) (search.Plan, error) {
	opt := a.Options
	opt.After = &a.Plan // what still holds is not found and proved again
	return settled(ctx, a.Search, a.judge.At(level), opt)
}

// settled searches until the best fits are known for good: what is lighter is not
// asked for here.
func settled(ctx context.Context, find Search, stone planner.Stone, opt search.Options) (search.Plan, error) {
	inner, stop := context.WithCancel(ctx)
	defer stop()
	var last *search.Plan
	plan, err := find(inner, stone, opt, func(p search.Plan) {
		if p.Settled && last == nil {
			last = &p
			stop()
		}
	})
	if last != nil {
		return *last, nil
	}
	return plan, err
}

// better looks for better places of the solids that are worth it, side by side; those
// that were looked for from as many poses before are known.
func (a *asking) better(ctx context.Context) {
	worth := slices.DeleteFunc(a.worthwhile(), func(w sought) bool { return a.sought[w.key] >= len(w.starts) })
	for _, w := range worth {
		a.sought[w.key] = len(w.starts)
	}
	abreast(len(worth), func(i int) {
		w := worth[i]
		p, ok := a.judge.Best(ctx, w.fit, w.starts, a.Plan.TiltMaxDeg)
		if w.judged != nil && (!ok || p.Odds <= w.odds) {
			p, ok = *w.judged, true
		}
		if !ok {
			return
		}
		p.Planned = w.planned
		a.leave(ctx, &p)
		a.mu.Lock()
		defer a.mu.Unlock()
		at := slices.IndexFunc(a.found, func(f Place) bool { return keyOf(f.Fit) == w.key })
		switch {
		case at < 0:
			a.found = append(a.found, p)
		case p.Odds > a.found[at].Odds:
			a.found[at] = p
		}
		a.tell(a.meanwhile())
	})
}

// settleLeft looks again at what is left of the places found, now that more is known to
// be sure.
func (a *asking) settleLeft(ctx context.Context) {
	abreast(len(a.found), func(i int) { a.leave(ctx, &a.found[i]) })
}

// leave finds what is left if a place fails.
func (a *asking) leave(ctx context.Context, p *Place) {
	if !p.Sure() {
		own := search.CandidatesOf(a.Presets, a.Options, p.Solid.Outline)
		p.IfNot = a.judge.IfNot(ctx, *p, a.sure, own, a.candidates, a.Plan.TiltMaxDeg)
	}
}

// meanwhile returns the places of all, and the plan's own of solids of which no other has
// been found yet.
func (a *asking) meanwhile() []Place {
	places := a.all()
	sure := BestSure(places)
	for _, p := range a.own {
		found := func(f Place) bool { return keyOf(f.Fit) == keyOf(p.Fit) }
		if p.Odds > 0 && p.Carat > sure && !slices.ContainsFunc(places, found) {
			places = append(places, p)
		}
	}
	return places
}

// all returns the sure places and the better ones. Of those that are not sure only what
// could ever be worth more than the heaviest sure one is kept.
func (a *asking) all() []Place {
	places := slices.Clone(a.certain)
	for _, p := range a.found {
		if p.IfNot != nil {
			if sure, ok := a.judge.Place(*p.IfNot); ok && sure.Sure() && p.IfNot.Carat > BestSure(places) {
				places = append(places, sure)
			}
		}
	}
	sure := BestSure(places)
	for _, p := range a.found {
		if p.Sure() && p.Carat >= sure || p.Odds > 0 && p.Carat > sure && p.Carat > p.left()+0.01 {
			places = append(places, p)
		}
	}
	return places
}

// tell puts an answer together from places and hands it out.
func (a *asking) tell(places []Place) {
	places = slices.Clone(places)
	sure := BestSure(places)
	for i := range places {
		places[i].expect(sure)
	}
	ByExpected(places)
	places = places[:min(len(places), maxPlaces)]
	a.answer.Places, a.answer.BestSure = places, sure
	a.answer.LookFirst = looks(places, a.judge.questions)
	a.answer.KnowingAll = knowingAll(places, a.judge.questions)
	if a.emit != nil {
		a.emit(a.answer)
	}
}
