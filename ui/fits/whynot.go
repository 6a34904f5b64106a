package fits

import (
	"context"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"cabwright/planner/search"
	"cabwright/ui/view"
)

// whyNot is the question why one candidate does not fit, and its answer.
type whyNot struct {
	run    int // number of the latest question; older answers are dropped
	cancel context.CancelFunc
	asked  bool // the answer is being worked out
	answer *answer
}

// answer says where a candidate comes nearest to fitting, and what would make it.
type answer struct {
	of       search.RuledOut // with a pose, as soon as one is known
	revision int
	remedies []string
	done     bool
}

type (
	// askMsg says that a candidate has been looked at for a moment.
	askMsg struct{ run int }
	// whyNotMsg is the answer.
	whyNotMsg struct {
		run    int
		answer answer
	}
)

// askAfter is how long a candidate is looked at before what would make it fit is
// worked out: a held key passes many by.
const askAfter = 150 * time.Millisecond

// drop ends the question under way.
func (w *whyNot) drop() {
	if w.cancel != nil {
		w.cancel()
	}
	*w = whyNot{run: w.run + 1}
}

// ask begins the question about the candidate that is looked at.
func (v *View) ask(s *view.State) tea.Cmd {
	v.why.drop()
	r, ok := v.lookedAt(s)
	if !ok {
		return nil
	}
	v.why.answer = &answer{of: r, revision: s.PlanOf}
	if len(r.Short) > 0 {
		s.Face = r.Face
	}
	run := v.why.run
	return tea.Tick(v.askAfter, func(time.Time) tea.Msg { return askMsg{run} })
}

// workOut answers away from the event loop.
func (v *View) workOut(s *view.State, run int) tea.Cmd {
	if run != v.why.run || v.why.answer == nil || s.OpenSite == nil || s.Site == nil || s.RoughOf != s.Revision() || s.PlanOf != s.Revision() {
		return nil
	}
	ctx, cancel := context.WithCancel(context.Background())
	v.why.cancel, v.why.asked = cancel, true
	a, stone, site, open, tilt := *v.why.answer, s.Stone(), s.Site, s.OpenSite, s.Plan.TiltMaxDeg
	near := starts(s.Plan, a.of)
	return func() tea.Msg {
		defer cancel()
		if len(a.of.Short) == 0 {
			a.of = settledNear(site, a.of, near, tilt)
		}
		if len(a.of.Short) > 0 {
			a.remedies = remedies(ctx, changes(stone, a.of.Short), fitsIn(open, a.of.Candidate, a.of.Pose, tilt))
		}
		a.done = true
		return whyNotMsg{run, a}
	}
}

// answered takes the answer, unless another candidate is looked at by now.
func (v *View) answered(s *view.State, m whyNotMsg) {
	if m.run != v.why.run {
		return
	}
	v.why.asked, v.why.answer = false, &m.answer
	if len(m.answer.of.Short) > 0 {
		s.Face = m.answer.of.Face
	}
}

// startsMost is how many fits' poses a candidate without a pose is tried at.
const startsMost = 6

// starts are poses to begin from: those of the heaviest fits with the same face up.
func starts(plan search.Plan, r search.RuledOut) []search.Pose {
	var out []search.Pose
	for _, f := range plan.Fits {
		if f.Face == r.Face && len(out) < startsMost {
			out = append(out, f.Pose)
		}
	}
	return out
}

// settledNear gives a candidate the best pose near some others, with what is in the
// way there.
func settledNear(site view.Site, r search.RuledOut, near []search.Pose, tilt float64) search.RuledOut {
	for i, p := range near {
		pose, reading := site.Settle(r.Candidate, p, tilt)
		if i > 0 && reading.Clearance <= r.Clearance {
			continue
		}
		r.Pose, r.Clearance, r.Short = pose, reading.Clearance, nil
		if reading.Clearance >= 0 {
			continue
		}
		for _, id := range reading.LimitedBy {
			r.Short = append(r.Short, search.Shortfall{ID: id, MM: -reading.Clearance})
		}
	}
	return r
}

// lookedAt returns the candidate that the list of refusals stands at.
func (v *View) lookedAt(s *view.State) (search.RuledOut, bool) {
	lines := v.refusalLines(s)
	if v.at < 0 || v.at >= len(lines) {
		return search.RuledOut{}, false
	}
	return lines[v.at].of, true
}
