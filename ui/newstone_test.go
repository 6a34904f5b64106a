//go:build unix

package ui

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"cabwright/planner/stonefile"
	"cabwright/presets"
)

// The other piece of a cut that is done goes into a file of its own beside the stone's,
// and never over one.
func TestTheOtherPieceGoesIntoAFileOfItsOwn(t *testing.T) {
	t.Parallel()
	path := stoneFile(t, "nodule.stone")
	before, err := os.ReadFile(path)
	require.NoError(t, err)
	s := start(t, 160, 50, path)
	s.waits("all decided")
	s.keys("5")
	s.waits("past corner")
	s.keys("d")
	s.waits("Keep the other piece as a stone of its own")
	s.keys("<enter>")
	s.waits("Written to")
	s.waits("all decided") // else there is nothing to compare with after the undo
	files, err := filepath.Glob(filepath.Join(filepath.Dir(path), "*offcut.stone"))
	require.NoError(t, err)
	require.Len(t, files, 1)
	doc, err := stonefile.Read(files[0], presets.Builtin())
	require.NoError(t, err)
	require.Equal(t, "Quillan Dig 7, offcut", doc.Stone.Name)
	kept, err := os.ReadFile(files[0])
	require.NoError(t, err)

	s.keys("u")
	s.waits("as before undoing the edit")
	s.waits("takes off")
	s.keys("d")
	s.waits("Keep the other piece as a stone of its own")
	s.keys("<enter>")
	s.waits("such a file already")
	again, err := os.ReadFile(files[0])
	require.NoError(t, err)
	require.Equal(t, kept, again, "never over a file")
	now, err := os.ReadFile(path)
	require.NoError(t, err)
	require.Equal(t, before, now, "the stone's own is saved by ctrl+s alone")
	s.keys("<esc>", "q")
}
