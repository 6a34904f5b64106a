package ui

import (
	"context"
	"errors"
	"fmt"
	"runtime/debug"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"cabwright/planner"
	"cabwright/planner/search"
	"cabwright/presets"
	"cabwright/ui/style"
	"cabwright/ui/view"
)

// Search finds the fits of a stone, best first, and hands out what it has so
// far as it goes; search.Run is one.
type Search func(
	ctx context.Context, stone planner.Stone, opt search.Options, emit func(search.Plan),
) (search.Plan, error)

// Open prepares a stone for fits that are moved by hand.
type Open func(stone planner.Stone) (view.Site, error)

// settleTime is how long the stone must stay as it is before a search starts:
// an arrow key held down repeats about every 33 ms and need not start thirty.
const settleTime = 40 * time.Millisecond

// searchRun is the search under way. Each start has a number, and whatever comes
// from an older one is dropped.
type searchRun struct {
	run    int
	begun  time.Time
	cancel context.CancelFunc
	box    chan planMsg
}

type (
	// startMsg says that the stone has stayed as it is since run was asked for.
	startMsg struct{ run int }
	// planMsg is what a search has found so far.
	planMsg struct {
		run  int
		plan search.Plan
		last bool
		err  error
	}
	// searchingMsg says that a search goes on without anything new.
	searchingMsg struct{ run int }
	// bodyMsg is the rough's solid made from the stone.
	bodyMsg struct {
		revision int
		rough    *planner.Rough
		remarks  []planner.Warning // what is worth a second look in the stone
		mistakes []planner.Problem // what is wrong with it; err is the first
		site     view.Site
		err      error
	}
)

// restart stops the search under way and asks for another.
func (r *searchRun) restart() tea.Cmd {
	r.stop()
	r.run++
	run := r.run
	return tea.Tick(settleTime, func(time.Time) tea.Msg { return startMsg{run} })
}

// drop stops the search under way; whatever it still sends is no longer wanted.
func (r *searchRun) drop() {
	r.stop()
	r.run++
}

func (r *searchRun) stop() {
	if r.cancel != nil {
		r.cancel()
		r.cancel = nil
	}
}

// begin starts the search that was asked for as number run. Its snapshots go
// through a box that holds only the latest, so that the search never waits for
// the screen.
func (r *searchRun) begin(find Search, stone planner.Stone, opt search.Options) tea.Cmd {
	ctx, cancel := context.WithCancel(context.Background())
	r.cancel = cancel
	box := make(chan planMsg, 1)
	r.box = box
	run := r.run
	r.begun = time.Now()
	put := func(m planMsg) {
		m.run = run
		select {
		case <-box:
		default:
		}
		box <- m
	}
	go func() {
		defer func() {
			if v := recover(); v != nil {
				put(planMsg{last: true, err: fault{v, debug.Stack()}})
			}
		}()
		plan, err := find(ctx, stone, opt, func(p search.Plan) {
			if ctx.Err() == nil {
				put(planMsg{plan: p})
			}
		})
		put(planMsg{plan: plan, last: true, err: err})
	}()
	return r.receive()
}

// quiet is how long a search may have nothing new to show before the screen says
// that it goes on.
const quiet = time.Second

// receive waits for the next snapshot.
func (r *searchRun) receive() tea.Cmd {
	box, run := r.box, r.run
	return func() tea.Msg {
		late := time.NewTimer(quiet)
		defer late.Stop()
		select {
		case m := <-box:
			return m
		case <-late.C:
			return searchingMsg{run}
		}
	}
}

// searchGoesOn shows that a search is alive, and waits on.
func (m *Model) searchGoesOn(msg searchingMsg) tea.Cmd {
	if msg.run != m.search.run {
		return nil
	}
	m.s.SearchTime = time.Since(m.search.begun)
	return m.search.receive()
}

// layBody begins to lay the rough's surfaces, unless that is under way: then it
// begins anew when it ends, so that a held key does not lay thirty in a second.
func (m *Model) layBody() tea.Cmd {
	if m.laying {
		return nil
	}
	m.laying = true
	return makeBody(m.cfg.Open, m.s.Stone(), m.s.Presets, m.s.Revision())
}

// bodyLaid takes the rough's solid, or lays that of the stone as it is by now.
func (m *Model) bodyLaid(msg bodyMsg) tea.Cmd {
	m.laying = false
	if msg.revision != m.s.Revision() {
		return m.layBody()
	}
	m.s.Rough, m.s.Site, m.s.RoughErr, m.s.RoughOf = msg.rough, msg.site, msg.err, msg.revision
	m.s.Remark(msg.remarks)
	if m.s.TakeMistakes(msg.mistakes); len(msg.mistakes) > 0 {
		m.search.drop() // it would look for fits in what is no stone
		m.s.Searching = false
	}
	m.s.Reread()
	return nil
}

// makeBody lays the rough's surfaces, which takes too long for a key press when
// there are hundreds of readings.
func makeBody(open Open, stone planner.Stone, set *presets.Set, revision int) tea.Cmd {
	return func() tea.Msg {
		if err := unfinished(stone); err != nil {
			return bodyMsg{revision: revision, err: err}
		}
		if problems := planner.Validate(stone, set); len(problems) > 0 {
			return bodyMsg{revision: revision, err: problems[0], mistakes: problems}
		}
		rough, err := planner.NewRough(stone)
		if err != nil {
			return bodyMsg{revision: revision, err: err}
		}
		m := bodyMsg{revision: revision, rough: rough, remarks: planner.Remarks(stone, rough, set)}
		if open == nil {
			return m
		}
		site, err := open(stone)
		if err != nil {
			m.err = err
			return m
		}
		m.site = site
		return m
	}
}

// unfinished says what a stone still lacks before anything can be planned in it.
func unfinished(s planner.Stone) error {
	switch {
	case len(s.Outline) == 0:
		return errors.New("no outline yet: in view 1, set its corners or start from length and width (k)")
	case len(s.Top) == 0:
		return errors.New("no height of the top yet: in view 1, g gives the thickness all round, t adds one height")
	case len(s.Base) == 0:
		return errors.New("no height of the base yet: in view 1, g gives the thickness all round, b adds one height")
	case len(s.Top) == 2 || len(s.Base) == 2:
		return errors.New("two readings of a face make no surface: give one, or three that are not on one line")
	}
	return nil
}

// found takes a message of the search. It returns the command that waits for the next.
func (m *Model) found(msg planMsg) tea.Cmd {
	if msg.run != m.search.run {
		return nil
	}
	var f fault
	if errors.As(msg.err, &f) {
		m.fail(f)
		return tea.Quit
	}
	if msg.err != nil && !errors.Is(msg.err, context.Canceled) {
		m.s.Searching = false
		if errors.Is(msg.err, planner.ErrNoSolid) {
			return nil // the surfaces, laid at the same time, say where
		}
		m.s.Say(style.Bad, "The search ended early: %v.", msg.err)
		return nil
	}
	// An old list stays until the new search has something to show for itself.
	if msg.last || len(msg.plan.Fits) > 0 || len(m.s.Plan.Fits) == 0 {
		m.s.Take(msg.plan, m.s.Revision())
	}
	m.outcomes.note(m.s.Stone(), msg.plan)
	m.s.Progress, m.s.SearchTime = msg.plan.Progress, time.Since(m.search.begun)
	if msg.last {
		m.s.Searching = false
		return nil
	}
	return m.search.receive()
}

// progress is the short account of how far the search is.
func (m *Model) progress() string {
	s := m.s
	switch {
	case s.Searching:
		return fmt.Sprintf("searching %.0f%%, %d s", 100*s.Progress, int(s.SearchTime.Seconds()))
	case s.RoughErr != nil || s.PlanOf < 0:
		return ""
	case s.PlanOf != s.Revision():
		return "search begins"
	}
	n := len(s.Plan.Fits)
	switch {
	case n == 0:
		return "nothing fits"
	case s.Plan.Stopped == search.Complete:
		return fmt.Sprintf("%d fits, all decided", n)
	}
	return fmt.Sprintf("%d fits, %d sizes not decided", n, undecided(s.Plan))
}

func undecided(p search.Plan) int {
	n := 0
	for _, r := range p.RuledOut {
		if r.Verdict == search.Undecided {
			n++
		}
	}
	return n
}
