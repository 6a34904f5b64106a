package view

import (
	"slices"

	"cabwright/planner"
	"cabwright/ui/style"
)

// Remark takes what is worth a second look in the stone. One that was not there
// before is told at once: it is about the edit just made.
func (s *State) Remark(remarks []planner.Warning) {
	before, first := s.remarks, !s.remarked
	s.remarks, s.remarked = remarks, true
	if first {
		return // of the file as it was read
	}
	for _, r := range remarks {
		known := slices.ContainsFunc(before, func(o planner.Warning) bool { return o.Place == r.Place })
		if !known && r.Place != planner.OnScale {
			s.Say(style.Warn, "%s: %s.", r.Place, r.What)
			return
		}
	}
}

// Remarks returns what is worth a second look in the stone, none while it has no
// solid.
func (s *State) Remarks() []planner.Warning {
	if s.Rough == nil || s.RoughErr != nil {
		return nil
	}
	return s.remarks
}
