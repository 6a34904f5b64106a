package folder

import (
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cabwright/presets"
)

// text is a stone that was planned at 2 ct and came out at a weight.
func text(name string, actual float64) string {
	return fmt.Sprintf(`{"format": "cabwright-stone", "version": 1, "name": %q, "material": "jasper",
 "outline": [[0, 0], [9, 0], [9, 9], [0, 9]], "top": [[0, 0, 6]], "base": [[0, 0, 0]],
 "diary": [{"date": "2026-05-01", "stage": "preform", "planned": {"shape": "round", "length_mm": 7, "width_mm": 7, "carat": 2}},
           {"date": "2026-05-20", "stage": "polished", "carat": %g, "state": "dry"}]}`, name, actual)
}

func TestAFolderIsReadInTheOrderOfItsNames(t *testing.T) {
	dir := t.TempDir()
	put := func(name, content string) {
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte(content), 0o600))
	}
	put("b.stone", text("B", 1.8))
	put("a.stone", text("A", 1.6))
	put("bad.stone", "{")
	put(".hidden.stone", text("H", 1))
	put("notes.txt", "no stone")
	require.NoError(t, os.Mkdir(filepath.Join(dir, "folder.stone"), 0o700))

	stones, err := Read(dir, presets.Builtin())
	require.NoError(t, err)
	require.Len(t, stones, 3)
	assert.Equal(t, []string{"a.stone", "b.stone", "bad.stone"}, []string{stones[0].File, stones[1].File, stones[2].File})
	assert.Equal(t, "B", stones[1].Stone.Name)
	assert.Error(t, stones[2].Err)

	r := Lessons(stones, presets.Builtin())
	require.Len(t, r.Finished, 2, "the one that cannot be read teaches nothing")
	assert.Equal(t, 1.6, r.Finished[0].Actual)
	assert.Equal(t, 2.0, r.Finished[0].Planned)

	_, err = Read(filepath.Join(dir, "nowhere"), presets.Builtin())
	assert.ErrorIs(t, err, os.ErrNotExist)
	assert.Empty(t, Lessons(nil, presets.Builtin()).Finished)
}
