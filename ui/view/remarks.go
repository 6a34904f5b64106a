package view

import (
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strconv"

	"cabwright/planner"
	"cabwright/ui/style"
)

// Remark takes what is worth a second look in the stone. One that was not there
// before is told at once: it is about the edit just made.
func (s *State) Remark(remarks []planner.Warning) {
	before, first := s.remarks, !s.remarked
	s.remarks, s.remarked = remarks, true
	if edit, _ := s.stones.Next(); first || edit == ThicknessAllRound {
		return // of the file as it was read, or of heights that were not read one by one
	}
	for _, r := range remarks {
		known := slices.ContainsFunc(before, func(o planner.Warning) bool { return o.Place == r.Place })
		if !known && r.Place != planner.OnScale {
			s.Say(style.Warn, "%s.", ReadingNames(r.String()))
			return
		}
	}
}

// TakeMistakes takes what is wrong with the stone. What was not wrong before is told at
// once: the edit just made did it.
func (s *State) TakeMistakes(mistakes []planner.Problem) {
	before := s.Mistakes
	s.Mistakes = mistakes
	if len(mistakes) == 0 {
		return
	}
	s.RoughErr = errors.New(ReadingNames(mistakes[0].Error()))
	if len(before) == 0 || before[0].Error() != mistakes[0].Error() {
		s.Refuse(s.RoughErr)
	}
}

// ThicknessAllRound is the edit that makes both faces of two thicknesses: their heights
// are no readings that could be taken again.
const ThicknessAllRound = "Give the thickness all round"

// readingPlace is how a stone file numbers a reading: top[0] is the first.
var readingPlace = regexp.MustCompile(`\b(top|base)\[(\d+)\]`)

// ReadingNames is a text as it is read beside the drawing, where the first reading of
// the top, top[0] of a stone file, goes by the name of top reading 1.
func ReadingNames(text string) string {
	return readingPlace.ReplaceAllStringFunc(text, func(place string) string {
		m := readingPlace.FindStringSubmatch(place)
		n, err := strconv.Atoi(m[2])
		if err != nil {
			return place
		}
		return fmt.Sprintf("%s reading %d", m[1], n+1)
	})
}

// Remarks returns what is worth a second look in the stone, none while it has no
// solid.
func (s *State) Remarks() []planner.Warning {
	if s.Rough == nil || s.RoughErr != nil {
		return nil
	}
	return s.remarks
}
