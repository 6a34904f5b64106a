package fits

import (
	"context"
	"math"

	tea "github.com/charmbracelet/bubbletea"

	"cabwright/geometry"
	"cabwright/planner"
	"cabwright/planner/search"
	"cabwright/ui/style"
	"cabwright/ui/view"
)

// hand is the state of moving a fit by hand.
type hand struct {
	on       bool           // the arrow keys move the fit
	found    *search.Fit    // the fit as it was before it was moved
	held     *geometry.Vec2 // where the mouse holds it
	run      int            // number of the latest settling
	settling bool
	of       int                // revision of the stone that it is about
	stop     context.CancelFunc // ends the work on it; nil where there is none to end
}

// drop ends a settling under way, as the fit is moved or another chosen.
func (h *hand) drop() {
	h.run++
	h.settling = false
	if h.stop != nil {
		h.stop()
		h.stop = nil
	}
}

// begin starts a settling of the chosen fit, instead of one under way. The context ends
// when it is dropped.
func (h *hand) begin(s *view.State) (ctx context.Context, run int) {
	h.drop()
	ctx, h.stop = context.WithCancel(context.Background())
	h.settling, h.of = true, s.Revision()
	return ctx, h.run
}

// ends tells whether an answer is to the settling under way, and still about the stone; it
// is over then, one way or the other.
func (h *hand) ends(s *view.State, run int) bool {
	if run != h.run || !h.settling || s.Chosen == nil {
		return false
	}
	h.drop()
	if h.of != s.Revision() {
		s.Say(style.Warn, "The stone was changed meanwhile: the fit stays where it is.")
		return false
	}
	return true
}

// settledMsg is the answer of a settling.
type settledMsg struct {
	run     int
	pose    search.Pose
	reading search.Reading
}

// tiltMost is how far a fit can be tilted by hand, in degrees: three times what
// the search tries, past which the stone would be cut from another side.
const tiltMost = 45

// rough returns the rough if it belongs to the stone as it is now.
func rough(s *view.State) *planner.Rough {
	if s.RoughOf != s.Revision() {
		return nil
	}
	return s.Rough
}

// whyNotMove says why the chosen fit can't be moved by hand now.
func whyNotMove(s *view.State) string {
	switch {
	case s.Chosen == nil:
		return "no fit is chosen"
	case s.Site == nil || s.RoughOf != s.Revision():
		return "the stone's solid is not ready yet"
	}
	return ""
}

// move changes the chosen fit's pose and asks at once how well it lies there.
func (v *View) move(s *view.State, change func(search.Pose) search.Pose) {
	if whyNotMove(s) != "" {
		return
	}
	f := *s.Chosen
	pose := change(f.Pose)
	if tilt, _ := angles(pose); tilt > tiltMost {
		s.Say(style.Warn, "A fit is tilted by hand up to %d degrees.", tiltMost)
		return
	}
	if v.hand.found == nil {
		before := f
		v.hand.found = &before
	}
	v.hand.drop() // a settling under way is about the old place
	v.lay(s, f, pose, s.Site.Clearance(f.Solid, pose))
}

// lay puts the chosen fit into a pose with its reading.
func (v *View) lay(s *view.State, f search.Fit, pose search.Pose, r search.Reading) {
	f.Pose, f.Clearance, f.LimitedBy, f.Proved = pose, r.Clearance, r.LimitedBy, false
	f.Colour = search.ColourShare(s.Rough, s.Stone(), f.Candidate, pose)
	s.Choose(f)
}

// shift returns a change of pose by d mm in the rough's own axes.
func shift(d geometry.Vec3) func(search.Pose) search.Pose {
	return func(p search.Pose) search.Pose {
		p.Origin = p.Origin.Add(d)
		return p
	}
}

// swing returns a change of pose by a rotation about the middle of the solid, so
// that turning and tilting leave it where it is.
func swing(f search.Fit, by geometry.Mat3) func(search.Pose) search.Pose {
	lo, hi := f.Solid.Outline.Extent()
	mid := geometry.Vec3{X: (lo.X + hi.X) / 2, Y: (lo.Y + hi.Y) / 2, Z: f.Solid.CentreOfHeight()}
	return func(p search.Pose) search.Pose {
		axes := tidy(by.Mul(p.Axes))
		return search.Pose{Origin: p.Place(mid).Sub(axes.Apply(mid)), Axes: axes}
	}
}

// tidy makes axes that many small rotations have rounded upright on each other
// and of length one again.
func tidy(m geometry.Mat3) geometry.Mat3 {
	w := m.W.Scale(1 / m.W.Norm())
	u := m.U.Sub(w.Scale(m.U.Dot(w)))
	u = u.Scale(1 / u.Norm())
	return geometry.Mat3{U: u, V: w.Cross(u), W: w}
}

// angle returns how far a key press turns the fit: its end moves by one step.
func angle(s *view.State) float64 {
	half := math.Max(0.5, s.Chosen.Solid.Outline.Length/2)
	return math.Min(s.Step/half, math.Pi/4)
}

// settle looks for the best clearance near by, away from the event loop.
func (v *View) settle(s *view.State) tea.Cmd {
	f := *s.Chosen
	if v.hand.found == nil {
		before := f
		v.hand.found = &before
	}
	_, run := v.hand.begin(s)
	site := s.Site
	tilt := s.Plan.TiltMaxDeg
	if now, _ := angles(f.Pose); now > tilt {
		tilt = now // a fit tilted further by hand keeps its tilt
	}
	s.Say(style.Text, "Settling…")
	return func() tea.Msg {
		pose, reading := site.Settle(f.Candidate, f.Pose, tilt)
		return settledMsg{run: run, pose: pose, reading: reading}
	}
}

// settled takes the answer, unless the fit has been moved or changed since.
func (v *View) settled(s *view.State, m settledMsg) {
	if !v.hand.ends(s, m.run) {
		return
	}
	before := s.Chosen.Clearance
	v.lay(s, *s.Chosen, m.pose, m.reading)
	s.Say(style.Text, "Settled: clearance %.2f mm, before %.2f mm.", m.reading.Clearance, before)
}

// putBack undoes what was done by hand.
func (v *View) putBack(s *view.State) {
	if v.hand.found == nil {
		return
	}
	s.Choose(*v.hand.found)
	s.Reread() // the stone may have changed since
	v.hand.found = nil
	v.hand.drop()
	s.Say(style.Text, "Back where it was found.")
}
