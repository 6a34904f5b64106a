package fits

import (
	"cabwright/planner"
	"cabwright/planner/search"
	"cabwright/ui/view"
)

// shown is the list as it stands on the screen. Until the user has pressed a key
// it follows the search; then it holds still, so that nothing slides from under
// the hand, and only the figures of what is in it follow.
type shown struct {
	fits    []search.Fit
	waiting int // fits found since that are not in it

	held bool
	of   int // revision of the stone it belongs to
	seen int // number of the list it was last made from
}

// cut tells finished stones apart as view.SameCut does.
type cut struct {
	face          planner.Face
	sides         int
	back, dome    string
	shape         string
	length, width float64
	freeform      bool
}

func cutOf(c search.Candidate) cut {
	o := c.Solid.Outline
	if view.Freeform(c) {
		return cut{face: c.Face, sides: c.Solid.Sides, back: c.BackStyle, shape: o.Shape, freeform: true}
	}
	return cut{
		face: c.Face, sides: c.Solid.Sides, back: c.BackStyle, dome: c.DomeStyle,
		shape: o.Shape, length: o.Length, width: o.Width,
	}
}

// follow brings the list up to date with the search.
func (l *shown) follow(s *view.State) {
	if l.seen == s.Plans() {
		return
	}
	if !l.held || l.of != s.PlanOf {
		*l = shown{fits: s.Plan.Fits, of: s.PlanOf, seen: s.Plans()}
		return
	}
	l.seen = s.Plans()
	now := map[cut]search.Fit{}
	for _, f := range s.Plan.Fits {
		if k := cutOf(f.Candidate); now[k].Carat == 0 {
			now[k] = f
		}
	}
	fits := make([]search.Fit, len(l.fits))
	for i, f := range l.fits {
		k := cutOf(f.Candidate)
		if newer, there := now[k]; there {
			f = newer
		}
		delete(now, k)
		fits[i] = f
	}
	l.fits, l.waiting = fits, len(now)
}

// hold keeps the list as it is from now on.
func (l *shown) hold(s *view.State) {
	l.follow(s)
	l.held = len(l.fits) > 0
}

// release takes what the search has found since.
func (l *shown) release(s *view.State) {
	l.held, l.seen = false, -1
	l.follow(s)
}
