package ui

import (
	"context"
	"path/filepath"
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"
	"github.com/stretchr/testify/require"

	"cabwright/planner/stonefile"
	"cabwright/presets"
)

func init() { plainWait, searchWait = patience, patience }

// dialogue runs the plain workbench on a file with lines typed to it.
func dialogue(t *testing.T, file string, lines ...string) string {
	t.Helper()
	t.Setenv("XDG_STATE_HOME", t.TempDir())
	m, err := open(Config{Path: file, Plain: true, Getenv: func(string) string { return "" }, Presets: presets.Builtin(),
		Search: fakeSearch})
	require.NoError(t, err)
	var out strings.Builder
	ctx, cancel := context.WithTimeout(context.Background(), patience)
	defer cancel()
	require.NoError(t, runPlain(ctx, m, strings.NewReader(strings.Join(lines, "\n")+"\n"), &out))
	require.Equal(t, out.String(), ansi.Strip(out.String()), "escape sequences in plain text")
	return out.String()
}

// The main job as lines of text: words, keys and numbers choose, prompts ask.
func TestPlainDialogueDoesTheMainJob(t *testing.T) {
	file := filepath.Join(t.TempDir(), "river.stone")
	out := dialogue(t, file,
		"3", "28", "20 mm", "9", "2", // start from length, width, height, flat
		"k", "30", "40", "", "21", "", // calipers: a width longer than the length is refused
		"view: cracks", "o", "-8, 3", "0,4cm", "5.5", "2", // a round pocket into the base
		"polish", "0", "1", // nothing has that in it in view 2; leave, save
	)
	require.Contains(t, out, "Length, mm [28]:")
	require.Contains(t, out, "2 flat")
	require.Contains(t, out, "Not taken: the width is the shorter of the two")
	require.Contains(t, out, "= 4 mm")
	require.Contains(t, out, "Added an oval pocket, u undoes it.")
	require.Contains(t, out, `No action that can be done now has "polish" in it.`)
	doc, err := stonefile.Read(file, presets.Builtin())
	require.NoError(t, err)
	require.Equal(t, 5.5, doc.Stone.Pockets[0].Depth)
	require.EqualValues(t, "base", doc.Stone.Pockets[0].Face)
}

func TestPlainDialogueShowsTheFits(t *testing.T) {
	out := dialogue(t, stoneFile(t, "nodule.stone"), "view: fits", "0")
	require.Contains(t, out, "6 fits, all decided.")
	require.Contains(t, out, "oval")
}

// The end of the input leaves as ctrl+c does: edits are kept.
func TestPlainDialogueKeepsEditsAtTheEndOfItsInput(t *testing.T) {
	file := stoneFile(t, "nodule.stone")
	out := dialogue(t, file, "next thing", "=", "-15, -1")
	require.Contains(t, out, "opening it again offers them")
	again := dialogue(t, file, "recover", "0", "save and")
	require.Contains(t, again, "Edits from a session that ended before saving: 1")
	doc, err := stonefile.Read(file, presets.Builtin())
	require.NoError(t, err)
	require.Equal(t, -15.0, doc.Stone.Outline[0].X)
}
