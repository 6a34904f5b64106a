package stonefile

import (
	"errors"
	"net"
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

// exportWrong writes to files that are there, links and folders, and returns
// what was touched that should not have been.
func exportWrong(t *testing.T, export func(path string, data []byte, over bool) error) (wrong []string) {
	dir := t.TempDir()
	at := func(name string) string { return filepath.Join(dir, name) }
	note := func(bad bool, what string) {
		if bad {
			wrong = append(wrong, what)
		}
	}
	require.NoError(t, os.WriteFile(at("victim"), []byte("mine"), 0o600))
	require.NoError(t, os.Symlink("victim", at("link.txt")))
	require.NoError(t, os.Symlink("none", at("dangling.txt")))
	socket, err := net.Listen("unix", at("socket")) // stands for all that is no plain file
	require.NoError(t, err)
	defer socket.Close()
	note(export(at("fit.txt"), []byte("one"), false) != nil, "a new file is refused")
	note(!errors.Is(export(at("fit.txt"), []byte("two"), false), ErrExists), "a file is replaced unasked")
	note(read(t, at("fit.txt")) != "one", "a file is overwritten unasked")
	note(export(at("fit.txt"), []byte("two"), true) != nil || read(t, at("fit.txt")) != "two",
		"a file is not replaced when asked")
	for _, over := range []bool{false, true} {
		note(export(at("link.txt"), []byte("x"), over) == nil, "a link is written to")
		note(export(at("dangling.txt"), []byte("x"), over) == nil, "a dangling link is written to")
		note(export(dir, []byte("x"), over) == nil, "a folder is written to")
		note(export(at("socket"), []byte("x"), over) == nil, "a socket is written to")
		note(export(at("none/a.txt"), []byte("x"), over) == nil, "a folder that is not there is written to")
	}
	note(read(t, at("victim")) != "mine", "what a link points to is overwritten")
	_, err = os.Stat(at("none"))
	note(err == nil, "what a dangling link points to is made")
	entries, err := os.ReadDir(dir)
	require.NoError(t, err)
	note(len(entries) != 5, "something is left over")
	return wrong
}

func TestAnExportGoesOnlyWhereItWasTold(t *testing.T) {
	require.Empty(t, exportWrong(t, Export))
	plain := func(path string, data []byte, _ bool) error { return os.WriteFile(path, data, 0o644) }
	require.Subset(t, exportWrong(t, plain), []string{"a file is overwritten unasked",
		"what a link points to is overwritten", "what a dangling link points to is made"})
	err := Export(filepath.Join(t.TempDir(), "none", "a.txt"), nil, true)
	require.ErrorContains(t, err, "a.txt: not written: no such file or directory: the folder is gone")
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
