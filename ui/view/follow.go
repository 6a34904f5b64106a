package view

import (
	"cabwright/planner/search"
)

// SameCut reports whether two candidates are the same finished stone: one
// calibrated outline, face and pair of sides. A freeform outline grows as the
// search goes on, so any two of one face and back count as the same.
func SameCut(a, b search.Candidate) bool {
	if a.Face != b.Face || a.Solid.Sides != b.Solid.Sides || a.BackStyle != b.BackStyle || a.Solid.Outline.Shape != b.Solid.Outline.Shape {
		return false
	}
	if len(a.Solid.Outline.Polygon) > 0 && len(b.Solid.Outline.Polygon) > 0 {
		return true
	}
	return a.DomeStyle == b.DomeStyle && a.Solid.Outline.Length == b.Solid.Outline.Length && a.Solid.Outline.Width == b.Solid.Outline.Width
}

// SameFit reports whether two fits are the same finished stone in the same place.
func SameFit(a, b search.Fit) bool { return SameCut(a.Candidate, b.Candidate) && a.Pose == b.Pose }

// Take puts a newer list of fits in the place of the old one. A chosen fit that
// was found by the search follows what is now found for the same finished stone;
// one moved by hand stays where it was put. While none was chosen, the best is.
func (s *State) Take(plan search.Plan, revision int) {
	old := s.Plan
	s.Plan, s.PlanOf = plan, revision
	switch {
	case len(plan.Fits) == 0:
	case s.Chosen == nil || !s.picked:
		f := plan.Fits[0]
		s.Chosen = &f
	case holds(old, *s.Chosen):
		for _, f := range plan.Fits {
			if SameCut(f.Candidate, s.Chosen.Candidate) {
				s.Chosen = &f
				return
			}
		}
	}
}

// Reread asks anew how a fit lies that was moved by hand, after the stone has
// changed under it.
func (s *State) Reread() {
	if s.Chosen == nil || s.Site == nil || holds(s.Plan, *s.Chosen) {
		return
	}
	f := *s.Chosen
	r := s.Site.Clearance(f.Solid, f.Pose)
	f.Clearance, f.LimitedBy, f.Proved = r.Clearance, r.LimitedBy, false
	s.Chosen = &f
}

func holds(plan search.Plan, f search.Fit) bool {
	for _, g := range plan.Fits {
		if SameFit(f, g) {
			return true
		}
	}
	return false
}
