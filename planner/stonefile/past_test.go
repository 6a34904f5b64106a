package stonefile

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cabwright/planner"
	"cabwright/presets"
)

// A stone put into its own diary comes back as it was, from the file too, whatever
// it holds that this program does not know; its diary stays out.
func TestPastComesBack(t *testing.T) {
	names, err := filepath.Glob("../../testdata/stones/*.stone")
	require.NoError(t, err)
	set := presets.Builtin()
	for _, name := range names {
		doc, err := Read(name, set)
		require.NoError(t, err)
		s := doc.Stone
		s.Unknown = append(s.Unknown, planner.UnknownKey{Name: "bag", Value: []byte(`{"no": [ 1, 2 ]}`)})
		for range 2 {
			s, err = planner.AddEntry(s, planner.Entry{Date: "2026-05-02", Stage: "bought", Stone: Past(s)})
			require.NoError(t, err)
		}
		path := filepath.Join(t.TempDir(), "a.stone")
		require.NoError(t, os.WriteFile(path, format(s), 0o600))
		again, err := Read(path, set)
		require.NoError(t, err, name)
		for _, e := range again.Stone.Diary {
			past, err := ReadPast(e.Stone, set)
			require.NoError(t, err)
			assert.Empty(t, past.Diary)
			past.Unknown, s.Unknown = nil, nil
			assert.True(t, past.Equal(withoutDiary(s)), "%s: %v", name, planner.Differences(past, withoutDiary(s)))
		}
	}
	_, err = ReadPast([]byte(`{"format": "cabwright-stone", "version": 1, "outline": [[0, 0]`), set)
	assert.Error(t, err)
	_, err = ReadPast(nil, set)
	assert.Error(t, err)
}

func withoutDiary(s planner.Stone) planner.Stone {
	s.Diary = nil
	return s
}
