//go:build unix

package ui

import (
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/require"

	"cabwright/planner/stonefile"
	"cabwright/presets"
)

// mostPresses is how many key presses describing a stone of 11 corners, heights, a
// crack, two pockets and two colour zones may take, all typed by hand.
const mostPresses = 150

// A whole stone, from no file to a saved one, in few key presses. A pasted list of
// corners would take fewer.
func TestDescribingAStoneTakesFewKeyPresses(t *testing.T) {
	t.Parallel()
	file := filepath.Join(t.TempDir(), "few.stone")
	s := start(t, 80, 24, file)
	s.waits("An empty stone")
	presses := 0
	types := func(waits string, keys string) {
		t.Helper()
		for _, k := range strings.Fields(strings.NewReplacer("_", " _ ", "⏎", " ⏎ ", "✓", " ✓ ").Replace(keys)) {
			switch k {
			case "⏎":
				s.keys("<enter>")
				presses++
			case "✓":
				s.keys("<ctrl+s>")
				presses++
			case "_":
				s.keys(" ")
				presses++
			default:
				s.keys(k)
				presses += utf8.RuneCountInString(k)
			}
		}
		s.waits(waits)
	}
	types("Corner 1 at x, y", "=")
	types("Corner 12 at x, y", "-14-2⏎-9.5-8⏎-2-9.5⏎5-9⏎11-6.5⏎14-1⏎12_5.5⏎6_9⏎-2_9.5⏎-9_7⏎-13_3⏎")
	types("Outline of 11 corners", "⏎")
	types("The greatest, in the middle", "g")
	types("23 top, 23 base", "8.9⏎4✓")
	types("No marks yet", "2")
	types("Drawing a crack", "c")
	types("Point 1 at x, y", "=")
	types("Depth straight in", "4-9⏎5.5-4⏎8_1⏎⏎")
	types("C1  crack, top, 6.0 mm deep", "6✓")
	types("A round or oval pocket", "o")
	types("P1  pocket, top, 5.5 mm deep", "-7_4⏎4⏎5.5✓")
	types("A round or oval pocket", "o")
	types("P2  pocket, top, 2.0 mm deep", "2-5⏎3x2⏎2✓")
	types("A round or oval colour zone", "O")
	types("Z1  colour, top, grade 4", "1_0⏎9x7⏎4✓")
	types("A round or oval colour zone", "O")
	types("Z2  colour, top, grade 5", "-6-3⏎5x4⏎5✓")
	types("Saved to", "✓")
	t.Logf("%d key presses", presses)
	require.Less(t, presses, mostPresses)
	s.keys("q")
	require.Equal(t, 0, s.wait())

	doc, err := stonefile.Read(file, presets.Builtin())
	require.NoError(t, err)
	stone := doc.Stone
	require.Len(t, stone.Outline, 11)
	require.Equal(t, [2]float64{-2, -9.5}, [2]float64{stone.Outline[2].X, stone.Outline[2].Y})
	require.Equal(t, 8.9, stone.Top[0].Z)
	require.Len(t, stone.Cracks, 1)
	require.Len(t, stone.Cracks[0].Path, 3)
	require.Len(t, stone.Pockets, 2)
	require.Len(t, stone.Colour, 2)
	require.Empty(t, doc.Warnings)
}
