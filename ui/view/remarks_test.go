package view

import (
	"testing"

	"github.com/stretchr/testify/require"

	"cabwright/planner"
	"cabwright/presets"
	"cabwright/ui/canvas"
	"cabwright/ui/style"
)

func TestANewRemarkIsToldOnce(t *testing.T) {
	s := NewState(planner.NewHistory(planner.Stone{}), presets.Builtin(), style.New(style.NoColour, style.Unknown),
		canvas.ASCII)
	odd := planner.Warning{Place: "top[3]", What: "12 mm is odd"}
	heavy := planner.Warning{Place: planner.OnScale, What: "too light"}
	s.Remark([]planner.Warning{odd})
	require.Empty(t, s.Status().Text, "it was there when the file was opened")
	s.Remark([]planner.Warning{odd, heavy})
	require.Empty(t, s.Status().Text, "the figures say how the weights compare")
	s.Remark(nil)
	s.Remark([]planner.Warning{odd})
	require.Equal(t, "top reading 4: 12 mm is odd.", s.Status().Text)
	require.Empty(t, s.Remarks(), "there is no rough yet that they are about")
	s.Rough = &planner.Rough{}
	require.Equal(t, []planner.Warning{odd}, s.Remarks())
}

// Two thicknesses make a dome that no reading was taken of: nothing is to be measured
// again. With the next edit of it the remark is said.
func TestThicknessesAllRoundAreNoReadings(t *testing.T) {
	s := NewState(planner.NewHistory(planner.Stone{}), presets.Builtin(), style.New(style.NoColour, style.Unknown),
		canvas.ASCII)
	s.Remark(nil)
	edit := func(name string) {
		require.NoError(t, s.Do(name, func(st planner.Stone) (planner.Stone, error) { st.Name += "x"; return st, nil }))
		s.Say(style.Text, "")
	}
	odd := planner.Warning{Place: "top[0]", What: "8 mm is odd"}
	edit(ThicknessAllRound)
	s.Remark([]planner.Warning{odd})
	require.Empty(t, s.Status().Text)
	edit("Read the top")
	s.Remark([]planner.Warning{odd, {Place: "top[1]", What: "9 mm is odd"}})
	require.Equal(t, "top reading 2: 9 mm is odd.", s.Status().Text)
}
