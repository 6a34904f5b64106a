package stonefile

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/require"
)

func TestAFileNameHasNoFolderInIt(t *testing.T) {
	for _, c := range [][2]string{
		{"", "stone.txt"},
		{"Lantern Bay 7", "Lantern-Bay-7.txt"},
		{"../../etc/passwd", "etc-passwd.txt"},
		{"/etc/passwd", "etc-passwd.txt"},
		{`C:\stones\a`, "C-stones-a.txt"},
		{"..", "stone.txt"},
		{".hidden", "hidden.txt"},
		{"-rf", "rf.txt"},
		{"a\x00b\nc\x1b[2J", "a-b-c-2J.txt"},
		{"a/./b", "a-.-b.txt"},
		{"\u202etxt.exe", "txt.exe.txt"},
		{"海辺の石", "海辺の石.txt"},
		{"e\u0301", "e\u0301.txt"},
		{"\xff\xfe", "stone.txt"},
		{"*?\"<>|", "stone.txt"},
		{"$(rm -r ~)", "rm-r.txt"},
	} {
		require.Equal(t, c[1], FileName(c[0], ".txt"), "%q", c[0])
	}
	long := FileName(strings.Repeat("海", 500), ".txt")
	require.LessOrEqual(t, len(long), longestStem+4)
	require.True(t, utf8.ValidString(long))
}

func TestAnExportGoesOnlyWhereItWasTold(t *testing.T) {
	dir := t.TempDir()
	target := filepath.Join(dir, "fit.txt")
	require.NoError(t, Export(target, []byte("one"), false))
	require.ErrorIs(t, Export(target, []byte("two"), false), ErrExists)
	require.Equal(t, "one", read(t, target))
	require.NoError(t, Export(target, []byte("two"), true))
	require.Equal(t, "two", read(t, target))

	// A link stands where the file should go: what it points to is not touched,
	// even when files may be replaced.
	victim := filepath.Join(dir, "victim")
	require.NoError(t, os.WriteFile(victim, []byte("mine"), 0o600))
	link := filepath.Join(dir, "link.txt")
	require.NoError(t, os.Symlink(victim, link))
	require.ErrorIs(t, Export(link, []byte("x"), false), ErrExists)
	require.ErrorContains(t, Export(link, []byte("x"), true), "is not a plain file")
	require.Equal(t, "mine", read(t, victim))
	dangling := filepath.Join(dir, "dangling.txt")
	require.NoError(t, os.Symlink(filepath.Join(dir, "none"), dangling))
	require.ErrorIs(t, Export(dangling, []byte("x"), false), ErrExists)
	require.NoFileExists(t, filepath.Join(dir, "none"))

	require.ErrorContains(t, Export(dir, []byte("x"), true), "is not a plain file")
	require.ErrorContains(t, Export("/dev/full", []byte("x"), true), "is not a plain file")
	require.ErrorContains(t, Export(filepath.Join(dir, "none", "a.txt"), []byte("x"), true), "the folder is gone")
	entries, err := os.ReadDir(dir)
	require.NoError(t, err)
	require.Len(t, entries, 4, "no temporary file, no lock")
}

func read(t *testing.T, name string) string {
	t.Helper()
	data, err := os.ReadFile(name)
	require.NoError(t, err)
	return string(data)
}

func TestNamesTooLongToAddToStillWork(t *testing.T) {
	b := newBench(t)
	b.file = filepath.Join(filepath.Dir(b.file), strings.Repeat("x", longestName-6)+".stone")
	require.NoError(t, os.WriteFile(b.file, []byte(sample), 0o600))
	s := b.open()
	require.NoError(t, s.Record(1, "Rename", renamed(s.Stone(), "long")))
	require.NoError(t, s.Save(1, renamed(s.Stone(), "long")))
	require.Contains(t, b.bytes(), `"long"`)
	require.ErrorContains(t, Export(b.file+"x", nil, false), "choose a shorter name")
}
