//go:build unix

package ui

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"cabwright/planner/stonefile"
	"cabwright/presets"
)

// corner1 returns where the first corner of a stone file is.
func corner1(t *testing.T, file string) float64 {
	t.Helper()
	doc, err := stonefile.Read(file, presets.Builtin())
	require.NoError(t, err)
	return doc.Stone.Outline[0].X
}

func TestASecondWorkbenchOnlyLooks(t *testing.T) {
	t.Parallel()
	file := stoneFile(t, "nodule.stone")
	first := start(t, 80, 24, file)
	first.waits("all decided")
	second := start(t, 80, 24, file)
	second.waits("read only")
	second.waits("open in another workbench")
	second.keys("<tab>", "<right>")
	second.waits("Moved corner 1,")
	second.keys("<ctrl+s>")
	second.waits("Save: open in another workbench")
	second.keys("S")
	second.waits("Save under another name")
	other := filepath.Join(filepath.Dir(file), "other.stone")
	second.keys("<ctrl+u>", other, "<enter>")
	second.waits("other.stone.")
	second.keys("q")
	require.Equal(t, 0, second.wait())
	require.Equal(t, -13.5, corner1(t, other))
	require.Equal(t, -14.0, corner1(t, file))
	first.keys("q")
	require.Equal(t, 0, first.wait())
}

func TestAFileChangedByAnotherProgramIsNotOverwrittenUnasked(t *testing.T) {
	t.Parallel()
	s := edited(t)
	data, err := os.ReadFile(s.file)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(s.file, bytes.Replace(data, []byte("-14,"), []byte("-14.25,"), 1), 0o644))
	s.keys("<ctrl+s>")
	s.waits("The file was changed by another program")
	require.Equal(t, -14.25, corner1(t, s.file))
	s.keys("g", "<enter>") // go on editing
	s.until("the question is gone", func() bool { return !strings.Contains(s.screen(), "changed by another") })
	s.keys("<ctrl+s>")
	s.waits("The file was changed by another program")
	s.keys("<right>", "<enter>") // save over it
	s.waits("Saved to")
	require.Equal(t, -13.5, corner1(t, s.file))
	s.keys("S")
	s.waits("Save under another name")
	taken := stoneFile(t, "slab.stone")
	s.keys("<ctrl+u>", taken, "<enter>")
	s.waits("There is such a file already")
	s.keys("r", "<enter>")
	s.waits("slab.stone.")
	s.keys("q")
	require.Equal(t, 0, s.wait())
	require.Equal(t, -13.5, corner1(t, taken))
}

// A folder nothing can be written to: the message says so and the edits are kept
// elsewhere. Root may write anywhere, so that the folder is taken away instead.
func TestAFailedSaveSaysWhyAndKeepsTheEdits(t *testing.T) {
	t.Parallel()
	s := edited(t)
	require.NoError(t, os.RemoveAll(filepath.Dir(s.file)))
	s.keys("<ctrl+s>")
	s.waits("nodule.stone: not saved: ")
	s.waits("save elsewhere")
	s.keys("S")
	s.waits("Save under another name")
	other := filepath.Join(t.TempDir(), "other.stone")
	s.keys("<ctrl+u>", other, "<enter>")
	s.waits("other.stone.")
	s.keys("q")
	require.Equal(t, 0, s.wait())
	require.Equal(t, -13.5, corner1(t, other))
}

func TestABadFileIsRefusedBeforeTheScreenOpens(t *testing.T) {
	t.Parallel()
	file := filepath.Join(t.TempDir(), "bad.stone")
	require.NoError(t, os.WriteFile(file, []byte(`{"format": "cabwright-stone", "version": 1, "outline": "\u001b[31m"}`),
		0o644))
	s := start(t, 80, 24, file)
	require.Equal(t, 1, s.wait())
	require.Contains(t, s.output(), "bad.stone: outline")
	require.NotContains(t, s.output(), "\x1b")
}

// A name with escape sequences and marks that turn the writing round reaches the
// terminal only as visible signs.
func TestTextOfAFileNeverReachesTheTerminalRaw(t *testing.T) {
	t.Parallel()
	file := stoneFile(t, "nodule.stone")
	data, err := os.ReadFile(file)
	require.NoError(t, err)
	data = bytes.Replace(data, []byte("Quillan Dig 7"), []byte(`\u001b]0;x\u0007\u202eabc`), 1)
	data = bytes.ReplaceAll(data, []byte(`"C1"`), []byte(`"\u001b[5mC1"`))
	data = bytes.ReplaceAll(data, []byte("rolling flash"), []byte(`\u009b31mflash`))
	require.NoError(t, os.WriteFile(file, data, 0o644))
	s := start(t, 80, 24, file)
	s.waits("all decided")
	// What opens is seen to open and to close: an escape that is still under way
	// makes one chord with the key after it.
	for _, step := range []struct {
		keys  []string
		opens string
	}{
		{[]string{"2", "<tab>", "e"}, "Change crack "},
		{[]string{"d", "u", "3", "4", "i"}, "The stone ("},
		{[]string{"?"}, "Find an action: "},
	} {
		s.keys(step.keys...)
		s.waits(step.opens)
		s.keys("<esc>")
		s.until(step.opens+"is put away", func() bool { return !strings.Contains(s.screen(), step.opens) })
	}
	s.keys("1")
	s.waits("[1 Outline]")
	s.keys("q")
	s.wait()
	out := s.output()
	for _, bad := range []string{"\x1b]0", "\x1b[5m", "\u202e", "\u009b", "\a"} {
		require.NotContains(t, out, bad)
	}
	require.Contains(t, out, "^[")
}
