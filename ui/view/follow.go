package view

import (
	"cabwright/planner/search"
)

// SameCut reports whether two candidates are the same finished stone: one
// calibrated outline, face and pair of sides. A freeform outline grows as the
// search goes on, so any two of one face and back count as the same.
func SameCut(a, b search.Candidate) bool {
	if a.Face != b.Face || a.Solid.Sides != b.Solid.Sides || a.BackStyle != b.BackStyle ||
		a.Solid.Outline.Shape != b.Solid.Outline.Shape {
		return false
	}
	if len(a.Solid.Outline.Polygon) > 0 && len(b.Solid.Outline.Polygon) > 0 {
		return true
	}
	return a.DomeStyle == b.DomeStyle && a.Solid.Outline.Length == b.Solid.Outline.Length &&
		a.Solid.Outline.Width == b.Solid.Outline.Width
}

// SameFit reports whether two fits are the same finished stone in the same place.
func SameFit(a, b search.Fit) bool { return SameCut(a.Candidate, b.Candidate) && a.Pose == b.Pose }

// PlanTaken tells the views that there is a newer list of fits.
type PlanTaken struct{}

// Take puts a newer list of fits in the place of the old one. A chosen fit that
// the search found follows what is now found for the same finished stone; one
// moved by hand stays where it was put. While none was chosen, the best is; it does
// not change while a form is open, which may be about it.
func (s *State) Take(plan search.Plan, revision int) {
	s.Plan, s.PlanOf, s.planFor = plan, revision, s.searches
	s.plans++
	defer s.Reread()
	if len(plan.Fits) > 0 && (s.Chosen == nil || !s.choice.picked && s.ask == nil) {
		f := plan.Fits[0]
		s.Chosen = &f
		return
	}
	if s.Chosen == nil || s.choice.moved {
		return
	}
	for _, f := range plan.Fits {
		if SameCut(f.Candidate, s.Chosen.Candidate) {
			s.Chosen = &f
			return
		}
	}
}

// Plans counts the lists taken so far: a larger number is a newer list.
func (s *State) Plans() int { return s.plans }

// Reread asks anew how the chosen and the pinned fits lie that are not in the
// list: those moved by hand, and those found before the stone was changed.
func (s *State) Reread() {
	if s.Site == nil || s.RoughOf != s.Revision() {
		return
	}
	read := func(f search.Fit) search.Fit {
		if !holds(s.Plan, f) {
			r := s.Site.Clearance(f.Solid, f.Pose)
			f.Clearance, f.LimitedBy, f.Proved = r.Clearance, r.LimitedBy, false
			f.Colour = search.ColourShare(s.Rough, s.Stone(), f.Candidate, f.Pose)
		}
		return f
	}
	if s.Chosen != nil {
		f := read(*s.Chosen)
		s.Chosen = &f
	}
	pinned := make([]search.Fit, len(s.Pinned))
	for i, f := range s.Pinned {
		pinned[i] = read(f)
	}
	s.Pinned = pinned
}

// holds reports whether a fit is in a list, in the very same place.
func holds(plan search.Plan, f search.Fit) bool {
	for _, g := range plan.Fits {
		if SameFit(f, g) {
			return true
		}
	}
	return false
}
