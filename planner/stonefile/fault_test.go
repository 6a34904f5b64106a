package stonefile

import (
	"fmt"
	"io/fs"
	"strings"
	"syscall"
	"testing"

	"cabwright/presets"

	"github.com/stretchr/testify/require"
)

// faults are the errors tried: full, worn out, not allowed.
var faults = []syscall.Errno{syscall.ENOSPC, syscall.EIO, syscall.EACCES, syscall.EROFS, syscall.EDQUOT, syscall.EPERM}

// savesFailed lets each call of a save fail in turn with each error and returns
// what went wrong.
func savesFailed(s saver) (tried int, wrong []string) {
	oldText, newText := strings.Repeat("old ", 3000), strings.Repeat("new ", 4000)
	for _, errno := range faults {
		for at := 1; ; at++ {
			d := newMemDisk("/s")
			d.put("/s/a", oldText)
			d.failAt, d.err = at, errno
			err := s.save(d, "/s/a", []byte(newText))
			if d.failed == "" {
				break
			}
			tried++
			n := d.names["/s/a"]
			what := fmt.Sprintf("%v from call %d, %s", errno, at, d.failed)
			switch {
			case n == nil:
				wrong = append(wrong, what+": the file is gone")
			case string(n.data) != oldText && string(n.data) != newText:
				wrong = append(wrong, what+": the file is in pieces")
			case err == nil && string(n.data) != newText:
				wrong = append(wrong, what+": no error, but not saved")
			case err == nil && strings.HasPrefix(d.failed, "sync"):
				wrong = append(wrong, what+": no error, but a power cut may undo it")
			case len(d.names) > 2 && d.failed != "remove":
				wrong = append(wrong, what+": something is left over")
			}
		}
	}
	return tried, wrong
}

func TestEachCallOfASaveMayFail(t *testing.T) {
	tried, wrong := savesFailed(goodSaver)
	require.Empty(t, wrong)
	require.GreaterOrEqual(t, tried, len(faults)*7,
		"open, write, chmod, sync, close, rename and the folder's sync at least")
	t.Logf("%d faults", tried)
	_, wrong = savesFailed(badSavers[0])
	require.NotEmpty(t, wrong, "a saver in place passes")
}

// TestEachCallOfASessionMayFail opens, edits and saves on a disk that fails at
// one call. Whatever fails, the file is whole, an edit that was acknowledged is
// found again, an error is one clear line, and trying once more succeeds.
func TestEachCallOfASessionMayFail(t *testing.T) {
	tried := 0
	for _, errno := range faults {
		for at := 1; ; at++ {
			d := newMemDisk("/s", "/state")
			d.put("/s/a.stone", sample)
			d.failAt, d.err = at, errno
			failOnce(t, d, fmt.Sprintf("%v from call %d", errno, at))
			if d.failed == "" {
				break
			}
			tried++
		}
	}
	require.Greater(t, tried, 30*len(faults))
	t.Logf("%d faults", tried)
}

func failOnce(t *testing.T, d *memDisk, what string) {
	t.Helper()
	o := Options{Set: presets.Builtin(), StateFolder: "/state", disk: d}
	s, err := Open("/s/a.stone", o)
	if err != nil {
		clear := err.Error()
		require.NotContains(t, clear, "\n", what)
		require.Contains(t, clear, "/s/a.stone", what)
		require.Equal(t, sample, string(d.names["/s/a.stone"].data), what)
		return
	}
	holdFlush(s)
	first, second := renamed(s.Stone(), "first"), renamed(s.Stone(), "second")
	acked := ""
	note := func(name string, err error) {
		if err == nil {
			acked = name
			return
		}
		require.NotContains(t, err.Error(), "\n", what)
		require.True(t, strings.HasPrefix(err.Error(), "/s/a.stone: "), err.Error())
	}
	if s.ReadOnly() == nil {
		note("first", s.Record(1, "Rename", first))
		note("second", s.Record(2, "Rename", second))
		errSave := s.Save(2, second)
		note("second", errSave)
		note("second", s.permanent())
		if errSave != nil {
			require.NoError(t, s.Save(2, second), "%s: once more", what)
		}
		acked = "second"
	}
	note(acked, s.Close())
	for _, l := range s.locks { // locks go with the process, whatever failed
		_ = l.file.Close()
	}
	d.failAt = 0
	whole := string(d.names["/s/a.stone"].data)
	if whole != sample {
		_, err := parse("x", []byte(whole), presets.Builtin())
		require.NoError(t, err, what)
	}
	again, err := Open("/s/a.stone", o)
	require.NoError(t, err, what)
	defer again.Close()
	found := again.Stone().Name
	if f := again.Found(); f != nil {
		found = f.Stone.Name
	}
	if acked != "" {
		require.Equal(t, acked, found, what)
	}
	for name := range d.names {
		require.NotContains(t, name, savingSuffix, what)
	}
}

// When nothing can be written anywhere the edit stays in memory, the error says
// so, and the next try keeps it.
func TestAFullDiskKeepsTheEditForTheNextTry(t *testing.T) {
	d := newMemDisk("/s", "/state")
	d.put("/s/a.stone", sample)
	full := &fullDisk{memDisk: d}
	s, err := Open("/s/a.stone", Options{Set: presets.Builtin(), StateFolder: "/state", disk: full})
	require.NoError(t, err)
	defer s.Close()
	first, second := renamed(s.Stone(), "first"), renamed(s.Stone(), "second")
	full.full = true
	err = s.Record(1, "Rename", first)
	require.EqualError(t, err,
		"/s/a.stone: the edit is not in the journal yet: no space left on device: make room on the disk, or save elsewhere")
	require.ErrorIs(t, s.Save(1, first), syscall.ENOSPC)
	require.Equal(t, sample, string(d.names["/s/a.stone"].data))
	full.full = false
	require.NoError(t, s.Record(2, "Rename again", second))
	full.full = true
	require.Error(t, s.Record(3, "Rename", first), "full in the middle of the journal")
	full.full = false
	require.NoError(t, s.Record(4, "Rename", renamed(first, "third")))
	st, err := readStory(d.names["/s/.a.stone.journal"].data)
	require.NoError(t, err)
	require.False(t, st.cut, "what the failed write left is written over")
	require.Contains(t, string(st.text), `"third"`)
	require.NoError(t, s.Save(4, renamed(first, "third")))
}

// fullDisk has no room: half of each write gets through.
type fullDisk struct {
	*memDisk
	full bool
}

func (d *fullDisk) Open(name string, flag int, mode fs.FileMode) (handle, error) {
	f, err := d.memDisk.Open(name, flag, mode)
	if err != nil {
		return nil, err
	}
	return fullHandle{f, d}, nil
}

type fullHandle struct {
	handle
	disk *fullDisk
}

func (h fullHandle) Write(p []byte) (int, error) {
	if !h.disk.full {
		return h.handle.Write(p)
	}
	n, _ := h.handle.Write(p[:len(p)/2])
	return n, syscall.ENOSPC
}

func (h fullHandle) WriteAt(p []byte, off int64) (int, error) {
	if !h.disk.full {
		return h.handle.WriteAt(p, off)
	}
	n, _ := h.handle.WriteAt(p[:len(p)/2], off)
	return n, syscall.ENOSPC
}

// noLinks is a file system without hard links, such as that of most cards and
// sticks.
type noLinks struct{ *memDisk }

func (noLinks) Link(string, string) error { return syscall.EPERM }

func TestNothingIsReplacedUnaskedWithoutLinksEither(t *testing.T) {
	d := newMemDisk("/s")
	d.put("/s/a", "old")
	require.ErrorIs(t, replace(noLinks{d}, "/s/a", []byte("new"), false), ErrExists)
	require.Equal(t, "old", string(d.names["/s/a"].data))
	require.NoError(t, replace(noLinks{d}, "/s/b", []byte("new"), false))
	require.Equal(t, "new", string(d.names["/s/b"].data))
}
