package fits

import (
	"context"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"cabwright/geometry"
	"cabwright/planner"
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

// drop ends the work under way; the answer so far stands.
func (w *whyNot) drop() {
	if w.cancel != nil {
		w.cancel()
	}
	*w = whyNot{run: w.run + 1, answer: w.answer}
}

// ask begins the question about the candidate that is looked at.
func (v *View) ask(s *view.State) tea.Cmd {
	v.why.drop()
	v.why.answer = nil
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

// workOut answers away from the event loop: first where the candidate comes
// nearest, if that is not known, and then what would make it fit.
func (v *View) workOut(s *view.State, run int) tea.Cmd {
	if run != v.why.run || v.why.answer == nil || s.OpenSite == nil {
		return nil
	}
	if s.Site == nil || s.RoughOf != s.Revision() || s.PlanOf != s.Revision() {
		// The stone's solid, or its list, is still being made.
		return tea.Tick(2*askAfter, func(time.Time) tea.Msg { return askMsg{run} })
	}
	ctx, cancel := context.WithCancel(context.Background())
	v.why.drop()
	run++
	a := *v.why.answer
	v.why.cancel, v.why.asked = cancel, true
	stone, site, open, tilt := s.Stone(), s.Site, s.OpenSite, s.Plan.TiltMaxDeg
	near := starts(s.Plan, s.Rough, a.of.Candidate)
	return func() tea.Msg {
		if len(a.of.Short) == 0 {
			a.of = settledNear(ctx, site, a.of, near, tilt)
			a.done = len(a.of.Short) == 0
			return whyNotMsg{run, a}
		}
		a.remedies = remedies(
			ctx,
			changes(stone, a.of.Short),
			-a.of.Clearance,
			clearanceIn(open, a.of.Candidate, a.of.Pose, tilt),
		)
		a.done = true
		return whyNotMsg{run, a}
	}
}

// answered takes the answer, unless another candidate is looked at by now.
func (v *View) answered(s *view.State, m whyNotMsg) tea.Cmd {
	if m.run != v.why.run {
		return nil
	}
	v.why.asked, v.why.answer = false, &m.answer
	if len(m.answer.of.Short) > 0 {
		s.Face = m.answer.of.Face
	}
	if m.answer.done {
		return nil
	}
	return v.workOut(s, m.run)
}

// startsMost is how many fits' poses a candidate without a pose is tried at.
const startsMost = 3

// starts are poses to begin from: those of the heaviest fits with the same face up;
// where nothing fits, those known for other sizes, or half way up in the middle of the
// rough and where it is thickest.
func starts(plan search.Plan, r *planner.Rough, c search.Candidate) (out []search.Pose) {
	for _, f := range plan.Fits {
		if f.Face == c.Face && len(out) < startsMost {
			out = append(out, f.Pose)
		}
	}
	if len(out) > 0 {
		return out
	}
	for _, x := range plan.RuledOut {
		if x.Face == c.Face && len(x.Short) > 0 && len(out) < startsMost {
			out = append(out, x.Pose)
		}
	}
	if len(out) == 0 && r != nil {
		_, thickest := r.Thickness()
		out = append(out, halfWayUp(r, c, planner.Extent(r.Outline).Centre), halfWayUp(r, c, thickest))
	}
	return out
}

// halfWayUp is a candidate level at a place, half way between the faces.
func halfWayUp(r *planner.Rough, c search.Candidate, at geometry.Vec2) search.Pose {
	middle := (r.Top(at.X, at.Y) + r.Base(at.X, at.Y)) / 2
	over, under := c.Solid.Wall+c.Solid.Dome, 0.0
	if c.Solid.Sides == 2 {
		under = c.Solid.Back
	}
	axes, up := geometry.Identity3(), 1.0
	if c.Face == planner.Base {
		axes.V, axes.W, up = geometry.Vec3{Y: -1}, geometry.Vec3{Z: -1}, -1
	}
	return search.Pose{Origin: geometry.Vec3{X: at.X, Y: at.Y, Z: middle - up*(over-under)/2}, Axes: axes}
}

// settledNear gives a candidate the best pose near some others, with what is in the
// way there.
func settledNear(
	ctx context.Context,
	site view.Site,
	r search.RuledOut,
	near []search.Pose,
	tilt float64,
) search.RuledOut {
	for i, p := range near {
		if ctx.Err() != nil {
			break
		}
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
func (v *View) lookedAt(s *view.State) (search.RuledOut, bool) { return v.lookedAtOf(v.refused(s)) }

func (v *View) lookedAtOf(all []refusal) (search.RuledOut, bool) {
	lines := v.linesOf(all)
	if v.at < 0 || v.at >= len(lines) {
		return search.RuledOut{}, false
	}
	return lines[v.at].of, true
}

// askAgain asks about what is looked at unless that has been asked about already.
func (v *View) askAgain(s *view.State) tea.Cmd {
	r, ok := v.lookedAt(s)
	if v.mode != reasons || !ok || v.isAbout(s, r) {
		return nil
	}
	return v.ask(s)
}

// isAbout reports whether the question under way, or its answer, is about a
// candidate in the stone that the list belongs to.
func (v *View) isAbout(s *view.State, r search.RuledOut) bool {
	a := v.why.answer
	return a != nil && a.revision == s.PlanOf && view.SameCut(a.of.Candidate, r.Candidate)
}
