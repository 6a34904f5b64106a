package sawview

import (
	"context"
	"iter"
	"slices"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"cabwright/planner"
	"cabwright/planner/cuts"
	"cabwright/planner/search"
	"cabwright/presets"
	"cabwright/ui/drawing"
	"cabwright/ui/style"
	"cabwright/ui/view"
)

// View is the view of the saw cuts; New makes one.
type View struct {
	Today func() time.Time // for the date of a crack's sealing

	stones int // wanted from the rough
	at     int // the chosen cut
	drag   *drag

	pick    int  // the layout of several stones that is shown, in the order of the list
	byWorth bool // layouts are listed by worth, not by carats
	listRow int  // the row of the figures on which the list of cuts was drawn last

	listFrom, listShown int // its first cut, and how many at most

	worths view.Aside[worthsOf, worths]

	asked  question // what is being worked out, or was last
	busy   bool
	cancel context.CancelFunc
	answer *answer
	body   *cuts.Body // of the stone last worked on
}

// New returns the view of the saw cuts.
func New() *View { return &View{Today: time.Now, stones: 1} }

// Name stands on the title line.
func (v *View) Name() string { return "Saw cuts" }

// question is what an answer hangs on.
type question struct {
	revision, stones int
	pose             search.Pose // of the chosen fit
	length, width    float64
	carats           float64 // of several stones: what the plan's fits weigh together, which tells one plan from another
}

// answer is what the cuts come to.
type answer struct {
	of      question
	layouts []cuts.Layout // to choose from, heaviest first; those for one stone are one
	notes   []string
	body    *cuts.Body
	err     error
}

// answerMsg brings an answer, or what is found so far: then rest works on.
type answerMsg struct {
	answer
	rest tea.Cmd
}

// question returns what is to be worked out now; false when there is nothing.
func (v *View) question(s *view.State) (question, bool) {
	if s.Rough == nil || s.RoughOf != s.Revision() || s.Chosen == nil {
		return question{}, false
	}
	if v.stones > 1 && (s.Searching && !s.Plan.Settled || !s.Current()) {
		return question{}, false // several stones start from a plan whose best fits stand
	}
	q := question{
		revision: s.Revision(),
		stones:   v.stones,
		pose:     s.Chosen.Pose,
		length:   s.Chosen.Solid.Outline.Length,
		width:    s.Chosen.Solid.Outline.Width,
	}
	if v.stones < 2 {
		return q, true
	}
	for _, f := range s.Plan.Fits {
		q.carats += f.Carat
	}
	// While the rest of the list is filled the stones are not laid anew for each fit more.
	if same := v.asked; s.Searching && same.carats > 0 {
		if same.carats = q.carats; same == q {
			q.carats = v.asked.carats
		}
	}
	return q, true
}

// Follow begins what has to be worked out anew since the last message: one
// question at a time, the newest once the one before is answered.
func (v *View) Follow(s *view.State) tea.Cmd {
	if cmd := v.followCuts(s); cmd != nil {
		return cmd
	}
	return v.followWorths(s)
}

func (v *View) followCuts(s *view.State) tea.Cmd {
	q, ok := v.question(s)
	if v.busy {
		if !ok || q != v.asked {
			v.cancel()
		}
		return nil
	}
	if !ok || q == v.asked {
		return nil
	}
	ctx, cancel := context.WithCancel(context.Background())
	v.asked, v.busy, v.cancel = q, true, cancel
	w := work{q: q, stone: s.Stone(), set: s.Presets, plan: s.Plan, chosen: *s.Chosen, body: v.body, before: v.fits(s)}
	return w.inParts(ctx, cancel)
}

// inParts works out a question, with one message for what is found so far after the other
// and one for the answer. It works on in the command that asks for the next message, so
// that a panic is that command's own.
func (w work) inParts(ctx context.Context, cancel context.CancelFunc) tea.Cmd {
	next, stop := iter.Pull2(func(yield func(answer, bool) bool) {
		yield(w.out(ctx, func(part answer) { yield(part, false) }), true)
	})
	var part tea.Cmd
	part = func() tea.Msg {
		a, last, _ := next()
		if !last {
			return answerMsg{answer: a, rest: part}
		}
		stop()
		cancel()
		return answerMsg{answer: a}
	}
	return part
}

// Update takes the answers.
func (v *View) Update(s *view.State, msg tea.Msg) tea.Cmd {
	m, ok := msg.(answerMsg)
	if v.worths.Take(msg) || !ok {
		return nil
	}
	now, asked := v.question(s)
	wanted := asked && now == m.of
	if m.rest != nil {
		if wanted {
			v.take(s, &m.answer)
		}
		return m.rest
	}
	v.busy = false
	if m.body != nil {
		v.body = m.body
	}
	if !wanted {
		v.asked = question{} // what was asked meanwhile may be wanted again
		return v.followCuts(s)
	}
	v.take(s, &m.answer)
	if m.err != nil {
		s.Refuse(m.err)
	}
	return nil
}

// take shows an answer, with the layout that was picked of the answer so far, if it is
// still there.
func (v *View) take(s *view.State, a *answer) {
	var picked *cuts.Layout
	if v.pick > 0 && v.answer != nil && v.answer.of == a.of {
		picked = v.shown(s)
	}
	v.answer, v.pick = a, 0
	for i, k := range v.order(s) {
		if l := &a.layouts[k]; picked != nil && len(l.Fits) == len(picked.Fits) && l.Carat() == picked.Carat() {
			v.pick = i
			break
		}
	}
}

// work is a question with all it takes to answer it.
type work struct {
	q      question
	stone  planner.Stone
	set    *presets.Set
	plan   search.Plan
	chosen search.Fit
	body   *cuts.Body
	before []search.Fit // the stones that hand-placed cuts are for
}

// out answers, and tells meanwhile what is found so far.
func (w work) out(ctx context.Context, tell func(answer)) answer {
	a := answer{of: w.q, body: w.body}
	if a.body == nil || len(planner.Changed(a.body.Stone, w.stone)) > 0 {
		if a.body, a.err = cuts.NewBody(w.stone, w.set); a.err != nil {
			return a
		}
	}
	bench := cuts.NewBench(w.set)
	if len(w.stone.Cuts) > 0 {
		fits, made := cuts.ByHand(w.stone.Cuts, w.before)
		layout, err := a.body.Describe(fits, made)
		a.layouts, a.err = []cuts.Layout{layout}, err
		return a
	}
	if w.q.stones == 1 {
		layout, thinner, err := a.body.One(w.chosen, bench)
		a.layouts, a.err = []cuts.Layout{layout}, err
		for _, t := range thinner {
			a.notes = append(a.notes, t.String())
		}
		return a
	}
	opt := cuts.Options{
		Stones:     w.q.stones,
		Least:      cuts.DefaultLeast,
		TiltMaxDeg: w.plan.TiltMaxDeg,
		Bench:      bench,
		Trims:      true,
	}
	layouts, err := cuts.Several(ctx, a.body, w.set, w.plan, opt, func(some []cuts.Layout) {
		if len(some) > 1 { // one stone is no answer yet
			tell(a.with(some))
		}
	})
	a.err = err
	return a.with(layouts)
}

// with is the answer with layouts to choose from.
func (a answer) with(layouts []cuts.Layout) answer {
	a.layouts = slices.Clone(layouts)
	mostStonesFirst(a.layouts)
	return a
}

// fits returns the stones that the cuts are for: the chosen fit, or those of
// the layout that the cuts were kept from.
func (v *View) fits(s *view.State) []search.Fit {
	if s.Chosen == nil {
		return nil
	}
	if v.stones > 1 && v.answer != nil && v.answer.of.stones == v.stones {
		if l := v.shown(s); l != nil && len(l.Fits) > 1 {
			var out []search.Fit
			for _, f := range l.Fits {
				out = append(out, f.Fit)
			}
			return out
		}
	}
	return []search.Fit{*s.Chosen}
}

// layout is what is known of the cuts as they are now, nil while it is worked
// out.
func (v *View) layout(s *view.State) *cuts.Layout {
	if v.answer == nil || v.answer.err != nil {
		return nil
	}
	if q, ok := v.question(s); !ok || q != v.answer.of {
		return nil
	}
	return v.shown(s)
}

// pending reports whether the cuts for what is chosen are still being worked out.
func (v *View) pending(s *view.State) bool {
	q, asked := v.question(s)
	return s.Chosen != nil && (v.busy || !asked || v.answer == nil || v.answer.of != q)
}

// kept returns the cuts on the drawing: those of the file, else the proposed
// ones.
func (v *View) kept(s *view.State) []planner.Cut {
	if own := s.Stone().Cuts; len(own) > 0 {
		return own
	}
	if l := v.layout(s); l != nil {
		return cuts.ToFile(*l)
	}
	return nil
}

// chosen returns the chosen cut and its place; false when there is none.
func (v *View) chosen(s *view.State) (planner.Cut, int, bool) {
	all := v.kept(s)
	if len(all) == 0 {
		return planner.Cut{}, 0, false
	}
	v.at = max(0, min(v.at, len(all)-1))
	return all[v.at], v.at, true
}

// planeOf is a kept cut's plane, its normal of length 1.
func planeOf(k planner.Cut) cuts.Plane {
	p := cuts.Plane{Point: k.Point, Normal: k.Normal}
	if n := p.Normal.Norm(); n > 0 {
		p.Normal = p.Normal.Scale(1 / n)
	}
	return p
}

// change makes an edit of the chosen cut, keeping proposed cuts in the file
// first so that it has something to change.
func (v *View) change(s *view.State, name string, edit func(planner.Cut) planner.Cut) {
	k, _, ok := v.chosen(s)
	if !ok {
		return
	}
	all := v.kept(s)
	proposed := len(s.Stone().Cuts) == 0
	k = edit(k)
	_ = s.Do(name, func(st planner.Stone) (planner.Stone, error) {
		var err error
		if proposed {
			if st, err = adopt(st, all); err != nil {
				return st, err
			}
		}
		return planner.ReplaceCut(st, k.ID, k)
	})
}

// adopt keeps proposed cuts in a stone.
func adopt(st planner.Stone, all []planner.Cut) (planner.Stone, error) {
	var err error
	for _, k := range all {
		if st, err = planner.AddCut(st, k); err != nil {
			return st, err
		}
	}
	return st, nil
}

// scene is the drawing with the stones and the cuts.
func (v *View) scene(s *view.State) drawing.Scene {
	sc := s.Scene()
	if s.RoughOf != s.Revision() {
		sc.Rough = nil
	}
	for i, f := range v.fits(s) {
		if i == 0 {
			sc.Fit = &f
		} else {
			sc.Also = append(sc.Also, f)
		}
	}
	layout := v.layout(s)
	_, at, _ := v.chosen(s)
	for i, k := range v.drawn(s) {
		cut := drawing.SawCut{Name: planner.Visible(k.ID), Point: k.Point, Normal: k.Normal, Kerf: k.Kerf, Chosen: i == at}
		if layout != nil && i < len(layout.Steps) {
			cut.Normal, cut.Offcut = layout.Steps[i].Normal, layout.Steps[i].Kind != cuts.Part
		}
		sc.Saw = append(sc.Saw, cut)
	}
	return sc
}

// say tells how far several stones are.
func (v *View) say(s *view.State) {
	word := "stone"
	if v.stones > 1 {
		word = "stones"
	}
	s.Say(style.Text, "Up to %d %s from this rough.", v.stones, word)
}
