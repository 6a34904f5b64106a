package ui

import (
	"context"
	"errors"
	"runtime/debug"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"cabwright/planner"
	"cabwright/planner/cuts"
	"cabwright/planner/odds"
	"cabwright/planner/search"
	"cabwright/presets"
	"cabwright/ui/style"
	"cabwright/ui/view"
)

// judgedFits is how many of the listed fits have their odds worked out unasked.
const judgedFits = 40

// weighing is the work on the odds, away from the event loop. Whatever comes from an
// older run than the present is dropped.
type weighing struct {
	judging bool
	judge   *odds.Judge // of the stone at revision judgeOf
	judgeOf int
	plans   int // the list that was judged last

	// What was known before the last edit, with the judge of it; nil when that does not
	// hold any more.
	before        *odds.Judge
	judged, known []odds.Place
	carrying      bool

	stone    planner.Stone // that the odds are of
	searches int           // and what is asked of the search
	run      int
	at       work
	cancel   context.CancelFunc
	box      chan betsMsg
}

// work says what the weighing does.
type work int

const (
	idle work = iota
	seeking
	costing
)

type (
	// judgedMsg has the odds of the listed fits.
	judgedMsg struct {
		revision int
		judge    *odds.Judge
		places   []odds.Place
		err      error
	}
	// carriedMsg has places known before an edit, as they are worth after it; no judge
	// where more was edited than what is not sure.
	carriedMsg struct {
		revision       int
		searches       int // how often the search's options had changed
		judge          *odds.Judge
		judged, places []odds.Place
		answer         odds.Answer
	}
	// betsMsg is what the work has come to so far.
	betsMsg struct {
		run    int
		answer *odds.Answer
		costs  []odds.Cost
		last   bool
		err    error
	}
	// weighingMsg says that the work goes on without anything new.
	weighingMsg struct{ run int }
)

// weigh starts what is due: the odds of a new list of fits, and what was asked for.
func (m *Model) weigh() tea.Cmd {
	carried := m.outdated()
	if !m.s.Current() {
		return carried
	}
	return batch(carried, batch(m.judgeList(), m.seek()))
}

// outdated drops what no longer holds after an edit of the stone, or of what is asked of
// the search. It returns the command that carries over what may.
func (m *Model) outdated() tea.Cmd {
	s, w := m.s, &m.weighing
	was, old := w.stone, s.Bets.Of
	again := w.searches != s.Searches()
	if old == s.Revision() && !again {
		return nil
	}
	if !again && odds.Alike(was, s.Stone()) {
		if w.judgeOf == old {
			w.judgeOf = s.Revision()
		}
		s.Bets.Of = s.Revision()
		return nil
	}
	next := view.Bets{Of: s.Revision(), Wanted: s.Bets.Wanted && s.Unsure()}
	switch places := s.Bets.Answer.Places; {
	case again:
		w.before, w.judged, w.known = nil, nil, nil
	case old == w.judgeOf && len(places)+len(s.Bets.Judged) > 0:
		w.before, w.judged, w.known = w.judge, s.Bets.Judged, places
	}
	costsHold := !again && alike(was, s.Stone()) // they are found from likely sizes
	if costsHold {
		next.Costs, next.CostsWanted, next.CostsKnown = s.Bets.Costs, s.Bets.CostsWanted, s.Bets.CostsKnown
	}
	if w.at != costing || !costsHold {
		w.stop()
	}
	w.stone, w.searches, s.Bets = s.Stone(), s.Searches(), next
	return m.carry()
}

// carry has what was known before an edit judged again, so that odds and what to look at
// first need not wait for the plan when only what is not sure was edited.
func (m *Model) carry() tea.Cmd {
	w, stone, revision, searches := &m.weighing, m.s.Stone(), m.s.Revision(), m.s.Searches()
	before, judged, known := w.before, w.judged, w.known
	if before == nil || w.carrying {
		return nil
	}
	w.carrying = true
	return func() tea.Msg {
		judge, ok := before.Again(stone)
		if !ok {
			return carriedMsg{revision: revision, searches: searches}
		}
		msg := carriedMsg{revision: revision, searches: searches, judge: judge}
		msg.judged, msg.places = judge.Rejudge(judged), judge.Rejudge(known)
		msg.answer = judge.AnswerOf(msg.places)
		return msg
	}
}

// carried takes what was known over, until the work on the stone as it is now tells more.
func (m *Model) carried(msg carriedMsg) tea.Cmd {
	w, b := &m.weighing, &m.s.Bets
	w.carrying = false
	if msg.revision != m.s.Revision() || msg.searches != m.s.Searches() {
		return m.carry() // it was edited again meanwhile, or something else is asked for
	}
	w.before = msg.judge
	if msg.judge == nil {
		w.judged, w.known = nil, nil
		return nil
	}
	w.judged, w.known = msg.judged, msg.places
	if b.Judged == nil {
		b.Judged = msg.judged
		w.judge, w.judgeOf = msg.judge, msg.revision
	}
	if b.Answer.Places == nil {
		b.Answer = msg.answer
	}
	return nil
}

// judgeList has the odds of the listed fits worked out, one list at a time.
func (m *Model) judgeList() tea.Cmd {
	s, w := m.s, &m.weighing
	if w.judging || !s.Unsure() || w.plans == s.Plans() && w.judgeOf == s.Revision() || len(s.Plan.Fits) == 0 {
		return nil
	}
	w.judging, w.plans = true, s.Plans()
	judge, stone, revision := w.judge, s.Stone(), s.Revision()
	if w.judgeOf != revision {
		judge = nil
	}
	fits := s.Plan.Fits[:min(judgedFits, len(s.Plan.Fits))]
	return func() tea.Msg {
		if judge == nil {
			var err error
			if judge, err = odds.NewJudge(stone); err != nil {
				return judgedMsg{revision: revision, err: err}
			}
		}
		return judgedMsg{revision: revision, judge: judge, places: judge.Places(fits)}
	}
}

func (m *Model) judged(msg judgedMsg) {
	w := &m.weighing
	w.judging = false
	w.judge, w.judgeOf = msg.judge, msg.revision
	if msg.revision == m.s.Revision() && msg.err == nil {
		m.s.Bets.Judged = msg.places
	}
}

// plan is the plan of the stone as it is now: what is not sure of it may have been
// edited since the search.
func (m *Model) plan() search.Plan {
	p := m.s.Plan
	p.Stone = m.s.Stone()
	return p
}

// seek starts the search for better places, or the searches for what marks cost, once
// the plan's best fits are known for good: what is lighter hardly ever makes a better bet.
func (m *Model) seek() tea.Cmd {
	s, w := m.s, &m.weighing
	if w.at != idle || s.Searching && !s.Plan.Settled || m.cfg.Search == nil {
		return nil
	}
	switch b := &s.Bets; {
	case b.Wanted && !b.Known && b.Err == nil && s.Unsure():
		q := odds.Question{
			Plan:    m.plan(),
			Options: s.Options(),
			Presets: s.Presets,
			Search:  odds.Search(m.cfg.Search),
			Known:   w.known,
		}
		return w.begin(seeking, func(ctx context.Context, put func(betsMsg)) betsMsg {
			a, err := odds.Ask(ctx, q, func(so odds.Answer) { put(betsMsg{answer: &so}) })
			return betsMsg{answer: &a, err: err}
		})
	case b.CostsWanted && !b.CostsKnown && b.Err == nil:
		plan, set, opt := m.plan(), s.Presets, s.Options()
		return w.begin(costing, func(ctx context.Context, put func(betsMsg)) betsMsg {
			costs, err := costsOf(ctx, m.cfg.Search, plan, set, opt, put)
			return betsMsg{costs: costs, err: err}
		})
	}
	return nil
}

// costsOf plans the stone without each mark, without all of them, and with each other
// choice, one after the other; last it lays two stones with each other saw.
func costsOf(
	ctx context.Context,
	find Search,
	plan search.Plan,
	set *presets.Set,
	opt search.Options,
	put func(betsMsg),
) ([]odds.Cost, error) {
	var out []odds.Cost
	stone := plan.Stone
	for _, v := range append(odds.Without(stone), odds.Choices(stone, opt.Spare)...) {
		so := func(c odds.Cost) { put(betsMsg{costs: append(out[:len(out):len(out)], c)}) }
		c, err := odds.Gain(ctx, odds.Search(find), v, plan, opt, so)
		if err != nil || ctx.Err() != nil {
			return out, err
		}
		out = append(out, c)
		put(betsMsg{costs: out[:len(out):len(out)]})
	}
	body, err := cuts.NewBody(stone, set)
	if err != nil {
		return out, err
	}
	several := cuts.Options{Least: cuts.DefaultLeast, TiltMaxDeg: plan.TiltMaxDeg, Bench: cuts.NewBench(set), Trims: true}
	gains, err := cuts.OtherSaws(ctx, body, set, plan, several)
	for _, g := range gains {
		out = append(out, odds.Cost{ID: "saw", What: g.String(), AtLeast: g.Carat})
	}
	return out, err
}

// begin starts a piece of work, whose latest word waits in a box.
func (w *weighing) begin(at work, do func(context.Context, func(betsMsg)) betsMsg) tea.Cmd {
	ctx, cancel := context.WithCancel(context.Background())
	w.run++
	w.at, w.cancel = at, cancel
	box, run := make(chan betsMsg, 1), w.run
	w.box = box
	put := func(msg betsMsg) {
		msg.run = run
		select {
		case <-box:
		default:
		}
		box <- msg
	}
	go func() {
		defer func() {
			if r := recover(); r != nil {
				put(betsMsg{last: true, err: fault{r, debug.Stack()}})
			}
		}()
		msg := do(ctx, put)
		msg.last = true
		put(msg)
	}()
	return w.receive()
}

func (w *weighing) stop() {
	if w.cancel != nil {
		w.cancel()
		w.cancel = nil
	}
	w.run++
	w.at = idle
}

func (w *weighing) receive() tea.Cmd {
	box, run := w.box, w.run
	return func() tea.Msg {
		late := time.NewTimer(quiet)
		defer late.Stop()
		select {
		case msg := <-box:
			return msg
		case <-late.C:
			return weighingMsg{run}
		}
	}
}

// weighed takes a message of the work. It returns the command that waits for the next.
func (m *Model) weighed(msg betsMsg) tea.Cmd {
	w, b := &m.weighing, &m.s.Bets
	if msg.run != w.run {
		return nil
	}
	var f fault
	if errors.As(msg.err, &f) {
		m.fail(f)
		return tea.Quit
	}
	if msg.answer != nil {
		b.Answer = *msg.answer
	}
	if msg.costs != nil {
		b.Costs = msg.costs
	}
	if !msg.last {
		return w.receive()
	}
	if b.Err = msg.err; msg.err != nil {
		m.s.Say(style.Bad, "The odds ended early: %v.", msg.err)
	}
	b.Known, b.CostsKnown = b.Known || w.at == seeking, b.CostsKnown || w.at == costing
	w.stop()
	return nil
}
