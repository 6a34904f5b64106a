package worthview

import (
	"slices"

	tea "github.com/charmbracelet/bubbletea"

	"cabwright/planner"
	"cabwright/planner/money"
	"cabwright/planner/search"
	"cabwright/planner/worth"
	"cabwright/ui/view"
)

// View is the view of cost and worth; New makes one.
type View struct {
	byWorth bool // the list is sorted by worth, not by carats
	extra   money.Amount
	margin  money.Amount // percent
	first   int          // the first line of the list that is shown
	worths  view.Aside[question, known]
	colours colours
}

// body tells one placed solid from another.
type body struct {
	shape                           string
	length, width, wall, dome, back float64
	sides                           int
	face                            planner.Face
	pose                            search.Pose
}

func bodyOf(f search.Fit) body {
	o := f.Solid.Outline
	return body{length: o.Length, width: o.Width, wall: f.Solid.Wall, dome: f.Solid.Dome, back: f.Solid.BackDepth(),
		sides: f.Solid.Sides, face: f.Face, pose: f.Pose, shape: o.Shape}
}

// New returns the view.
func New() *View { return &View{} }

// Name stands on the title line.
func (v *View) Name() string { return "Worth" }

// Follow begins to work the worths out anew when something they hang on has changed.
func (v *View) Follow(s *view.State) tea.Cmd {
	w := v.workOf(s)
	return v.worths.Ask(w.of, w.out)
}

// Update takes what was worked out.
func (v *View) Update(_ *view.State, msg tea.Msg) tea.Cmd {
	v.worths.Take(msg)
	return nil
}

// Mouse moves the choice with the wheel.
func (v *View) Mouse(s *view.State, m view.Mouse) tea.Cmd {
	switch m.Kind {
	case view.WheelUp:
		v.move(s, -1)
	case view.WheelDown:
		v.move(s, 1)
	case view.Press:
		if row := m.Row - listHead; row >= 0 {
			v.choose(s, v.first+row)
		}
	}
	return nil
}

// latest is what was worked out last, perhaps of the stone before an edit; nil before
// anything was.
func (v *View) latest() *known {
	k, _, ok := v.worths.Last(question{})
	if !ok {
		return nil
	}
	return &k
}

// fits is the list of fits with their worth, in the order it is shown in.
func (v *View) fits() []worth.Fit {
	k := v.latest()
	if k == nil {
		return nil
	}
	if !v.byWorth {
		return k.stone.Fits
	}
	sorted := worth.Stone{Fits: slices.Clone(k.stone.Fits)}
	sorted.Sort()
	return sorted.Fits
}

// at is the index of the chosen fit in the list, -1 when none of it is chosen.
func (v *View) at(s *view.State) int {
	if s.Chosen == nil {
		return -1
	}
	chosen := bodyOf(*s.Chosen)
	return slices.IndexFunc(v.fits(), func(f worth.Fit) bool { return bodyOf(f.Fit) == chosen })
}

func (v *View) move(s *view.State, by int) { v.choose(s, max(0, v.at(s)+by)) }

func (v *View) choose(s *view.State, i int) {
	if fits := v.fits(); i >= 0 && i < len(fits) {
		s.Choose(fits[i].Fit)
	}
}
