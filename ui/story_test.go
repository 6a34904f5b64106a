//go:build unix

package ui

import (
	"fmt"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"cabwright/geometry"
	"cabwright/planner"
	"cabwright/planner/stonefile"
	"cabwright/presets"
)

// sevenCorners is the outline both stories draw.
var sevenCorners = []geometry.Vec2{{X: -13, Y: -2}, {X: -9, Y: -8}, {X: 3, Y: -9}, {X: 13, Y: -3}, {X: 11, Y: 7},
	{X: -2, Y: 9}, {X: -11, Y: 6}}

// The main job by keyboard alone: from no file at all to a saved stone with a
// chosen fit, and back.
func TestTheMainJobByKeyboard(t *testing.T) {
	t.Parallel()
	file := filepath.Join(t.TempDir(), "river.stone")
	s := start(t, 80, 24, file, realEnv+"=1")
	s.waits("An empty stone")
	s.keys("=")
	for i, p := range sevenCorners {
		s.waits(fmt.Sprintf("Corner %d at x, y", i+1))
		s.keys(fmt.Sprintf("%g, %g", p.X, p.Y), "<enter>")
	}
	s.waits("Corner 8 at x, y")
	s.keys("<enter>")
	s.waits("Outline of 7 corners")
	s.keys("g")
	s.waits("The greatest, in the middle")
	s.keys("8,5", "<enter>", "1/4in")
	s.waits("= 6.35 mm")
	s.keys("<ctrl+s>")
	s.waits("Gave the thickness all round, u undoes it.")
	s.keys("i")
	s.waits("Specific gravity")
	s.keys("River 1", "<enter>", "<enter>", "1.83", "<enter>", "19.1", "<ctrl+s>")
	s.waits("Changed the stone's details")

	s.keys("2")
	s.waits("No marks yet")
	s.keys("c", "=", "4, -8", "<enter>")
	s.waits("Point 2 at x, y")
	s.keys("6, -3", "<enter>")
	s.waits("Point 3 at x, y")
	s.keys("<esc>")
	s.waits("set point")
	s.keys("]", "<up>", "<right>", "<enter>", "c")
	s.waits("Depth straight in")
	s.keys("4", "<enter>", "20", "<enter>", "180", "<ctrl+s>")
	s.waits("C1  crack, top, 4.0 mm deep, leans 20° toward 180°")
	s.keys("o")
	s.waits("A round or oval pocket")
	s.keys("-8, 3", "<enter>", "4x3", "<enter>", "5.5", "<enter>", "<enter>", "30", "<ctrl+s>")
	s.waits("P1  pocket, top, 5.5 mm deep")

	s.keys("3")
	s.until("there are fits", func() bool {
		return strings.Contains(s.screen(), "fit: all") && !strings.Contains(s.screen(), " 0 fit: all")
	})
	beside := func() bool { return strings.Contains(s.screen(), "2: ") && strings.Contains(s.screen(), "1: ") }
	s.keys("T")
	s.until("two fits are side by side", beside)
	// An escape that a key follows at once would be taken for that key with alt.
	s.keys("<esc>")
	s.until("the list is back", func() bool { return !beside() && strings.Contains(s.screen(), "fit: all") })
	for _, sides := range []string{"single-sided", "double-sided"} {
		s.keys("o")
		s.waits("What to list")
		s.keys("<tab>", "<tab>", "<tab>", sides[:1], "<ctrl+s>")
		s.waits(": " + sides)
	}
	s.keys("p")
	s.waits("1 pinned")
	s.keys("<ctrl+s>")
	s.waits("Saved to")
	s.keys("q")
	require.Equal(t, 0, s.wait())
	s.restored()

	doc, err := stonefile.Read(file, presets.Builtin())
	require.NoError(t, err)
	stone := doc.Stone
	require.Equal(t, sevenCorners, stone.Outline)
	require.Equal(t, "River 1", stone.Name)
	require.Equal(t, 19.1, stone.ScaleCt)
	require.Len(t, stone.Top, 15, "in the middle, at each corner and between them")
	require.Equal(t, 8.5, stone.Top[0].Z)
	require.InDelta(t, 25.4/4, stone.Top[1].Z, 1e-9, "a quarter of an inch")
	require.Equal(t, 0.0, stone.Base[1].Z)
	require.Len(t, stone.Cracks, 1)
	require.Equal(t, []geometry.Vec2{{X: 4, Y: -8}, {X: 6, Y: -3}, {X: 7, Y: -2}}, stone.Cracks[0].Path)
	require.Equal(t, planner.Crack{ID: "C1", Path: stone.Cracks[0].Path, Face: planner.Top, Depth: 4, Lean: 20,
		Toward: 180, RunOn: stone.Cracks[0].RunOn}, stone.Cracks[0])
	require.Len(t, stone.Pockets, 1)
	require.Equal(t, 5.5, stone.Pockets[0].Depth)

	again := start(t, 80, 24, file)
	again.waits("River 1  saved")
	again.keys("q")
	require.Equal(t, 0, again.wait())
}

// The same by mouse: nothing is typed but the numbers no mouse can give, and
// those come from its wheel.
func TestTheMainJobByMouse(t *testing.T) {
	t.Parallel()
	file := filepath.Join(t.TempDir(), "river.stone")
	s := start(t, 80, 24, file)
	s.waits("An empty stone")
	cells := [][2]int{{4, 11}, {12, 19}, {30, 20}, {47, 12}, {44, 4}, {22, 2}, {7, 5}}
	s.click(cells[0][0], cells[0][1])
	s.waits("Corner 1 at")
	for i, c := range cells[1:] {
		s.click(c[0], c[1])
		s.waits(fmt.Sprintf("Corner %d at", i+2))
	}
	s.clickKey("close")
	s.waits("Outline of 7 corners")
	s.clickKey("all actions")
	s.waits("Find an action")
	s.clickOn("Thickness all round")
	s.waits("The greatest, in the middle")
	s.clickKey("done")
	s.waits("15 top, 15 base")

	s.clickOn("2 Cracks")
	s.waits("No marks yet")
	s.clickKey("c crack")
	s.waits("Drawing a crack")
	s.click(25, 11)
	s.waits("Point 1 at")
	s.click(27, 7)
	s.waits("Point 2 at")
	s.clickKey("done")
	s.waits("Depth straight in")
	s.clickOn("Depth straight in")
	_, row := s.find("Depth straight in")
	s.mouse(64, 10, row, "M") // the wheel, one step up
	s.waits("Depth straight in, mm [3]: 3.1")
	s.clickKey("done")
	s.waits("C1  crack, top, 3.1 mm deep")
	s.click(12, 6)
	s.clickKey("o oval pocket")
	s.waits("A round or oval pocket")
	s.clickKey("done")
	s.waits("P1  pocket, top, 2.0 mm deep")

	s.clickOn("3 Fits")
	s.waits("6 fits, all decided")
	s.clickKey("beside")
	s.waits("oval")
	s.clickKey("all actions")
	s.waits("Find an action")
	s.wheelTo("Compare: single-sided, double-sided")
	s.waits("double")
	s.clickOn("1 Outline")
	s.waits("The rough")
	s.clickKey("all actions")
	s.wheelTo("Save")
	s.waits("Saved to")
	s.clickKey("leave")
	require.Equal(t, 0, s.wait())
	s.restored()
	doc, err := stonefile.Read(file, presets.Builtin())
	require.NoError(t, err)
	require.Len(t, doc.Stone.Outline, 7)
	require.Equal(t, 3.1, doc.Stone.Cracks[0].Depth)
	require.Len(t, doc.Stone.Pockets, 1)
}

// clickKey clicks on an entry of the bottom line.
func (s *session) clickKey(text string) {
	s.t.Helper()
	last := func() string {
		lines := strings.Split(s.screen(), "\n")
		return lines[len(lines)-1]
	}
	s.until("the bottom line has "+text, func() bool { return strings.Contains(last(), text) })
	line := last()
	_, rows := s.term.Size()
	s.click(len([]rune(line[:strings.Index(line, text)])), rows-1)
}

// find returns where a text is on the screen.
func (s *session) find(text string) (col, row int) {
	s.t.Helper()
	for row, line := range strings.Split(s.screen(), "\n") {
		if at := strings.Index(line, text); at >= 0 {
			return len([]rune(line[:at])), row
		}
	}
	s.t.Fatalf("the screen does not show %s:\n%s", text, s.screen())
	return 0, 0
}

// wheelTo turns the wheel over the open list until an action shows, and clicks it.
func (s *session) wheelTo(action string) {
	s.t.Helper()
	for range 100 {
		for row, line := range strings.Split(s.screen(), "\n") {
			if strings.Contains(line, " "+action+" ") {
				s.click(20, row)
				return
			}
		}
		before := s.screen()
		s.mouse(65, 20, 12, "M")
		s.until("the list moves", func() bool { return s.screen() != before })
	}
	s.t.Fatalf("the list has no %s:\n%s", action, s.screen())
}
