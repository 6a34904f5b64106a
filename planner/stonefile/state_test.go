package stonefile

import (
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"testing"

	"cabwright/presets"

	"github.com/stretchr/testify/require"
)

// A state folder that can't be made, or entered, locks no stone: the journal
// beside it serves.
func TestAStateFolderThatCannotBeMadeLocksNoStone(t *testing.T) {
	b := newBench(t)
	for name, folder := range map[string]string{
		"under a file": filepath.Join(b.file, "state"), "a file": b.file, "nowhere": "/dev/null/state",
	} {
		t.Run(name, func(t *testing.T) {
			b := newBench(t)
			if name == "a file" {
				folder = b.file
			}
			b.options.StateFolder = folder
			keptBeside(t, b)
		})
	}
}

func keptBeside(t *testing.T, b bench) {
	t.Helper()
	s := b.open()
	require.NoError(t, s.ReadOnly())
	edited := renamed(s.Stone(), "edited")
	require.NoError(t, s.Record(1, "Rename", edited))
	b.kill(s)
	s = b.open()
	require.Equal(t, "edited", s.Found().Stone.Name)
	_, err := s.Recover()
	require.NoError(t, err)
	require.NoError(t, s.Save(1, edited))
	require.NoError(t, s.Close())
	require.Equal(t, string(format(edited)), b.bytes())
}

// walled is a disk with a folder that nothing can be done in.
type walled struct {
	disk
	folder string
}

func (d walled) in(name string) error {
	if strings.HasPrefix(name, d.folder) {
		return &fs.PathError{Op: "open", Path: name, Err: syscall.EACCES}
	}
	return nil
}

func (d walled) Open(name string, flag int, mode fs.FileMode) (handle, error) {
	if err := d.in(name); err != nil {
		return nil, err
	}
	return d.disk.Open(name, flag, mode)
}

func (d walled) Lstat(name string) (fs.FileInfo, error) {
	if err := d.in(name); err != nil {
		return nil, err
	}
	return d.disk.Lstat(name)
}

func (d walled) Rename(from, to string) error {
	if err := d.in(from); err != nil {
		return err
	}
	return d.disk.Rename(from, to)
}

func (d walled) List(folder string) ([]string, error) {
	if err := d.in(folder); err != nil {
		return nil, err
	}
	return d.disk.List(folder)
}

func (d walled) MkdirAll(name string, _ fs.FileMode) error { return d.in(name) }

func TestAStateFolderThatMayNotBeEnteredLocksNoStone(t *testing.T) {
	d := newMemDisk("/s", "/state")
	d.put("/s/a.stone", sample)
	s, err := Open("/s/a.stone", Options{Set: presets.Builtin(), StateFolder: "/state", disk: walled{d, "/state"}})
	require.NoError(t, err)
	require.NoError(t, s.ReadOnly())
	warnings := s.Warnings()
	require.Contains(t, warnings[len(warnings)-1].What,
		"/state can't be read (permission denied): unsaved edits that may be there are not offered")
	edited := renamed(s.Stone(), "edited")
	require.NoError(t, s.Record(1, "Rename", edited))
	require.NoError(t, s.Save(1, edited))
	require.NoError(t, s.Close())
	require.Equal(t, string(format(edited)), string(d.names["/s/a.stone"].data))
}

// When a lock can be made nowhere the stone may be looked at, and why is one line.
func TestAStoneThatCannotBeLockedIsOnlyLookedAt(t *testing.T) {
	d := newMemDisk("/s", "/state")
	d.put("/s/a.stone", sample)
	s, err := Open("/s/a.stone", Options{Set: presets.Builtin(), StateFolder: "/state",
		disk: walled{walled{d, "/state"}, "/s/."}})
	require.NoError(t, err)
	require.ErrorIs(t, s.ReadOnly(), ErrReadOnly)
	require.EqualError(t, s.ReadOnly(), "opened to look at only: save elsewhere (permission denied)")
}

// dead returns the number of a process that has ended.
func dead(t *testing.T) int {
	t.Helper()
	self, err := os.Executable()
	require.NoError(t, err)
	cmd := exec.Command(self, "-test.run", "^$")
	require.NoError(t, cmd.Run())
	return cmd.Process.Pid
}

// The locks of killed runs are taken away at the next opening of any stone there;
// those that are held, and files that only have such a name, stay.
func TestLocksOfKilledRunsAreSwept(t *testing.T) {
	b := newBench(t)
	other := b
	other.file = filepath.Join(filepath.Dir(b.file), "other.stone")
	require.NoError(t, os.WriteFile(other.file, []byte(sample), 0o644))
	running := other.open()
	require.NoError(t, running.ReadOnly())

	dir, state := filepath.Dir(b.file), b.options.StateFolder
	gone := dead(t)
	for i := range 5 {
		for _, place := range []string{
			filepath.Join(dir, fmt.Sprintf(".gone %d.stone.lock", i)), filepath.Join(state,
				strings.Repeat(strconv.Itoa(i), 32)+".lock"),
		} {
			require.NoError(t, os.WriteFile(place, []byte(holder(gone)), 0o644))
		}
	}
	for _, name := range []string{".theirs.lock", ".theirs.stone.lock", ".long.stone.lock"} {
		text := map[string]string{".theirs.lock": holder(gone)}[name] + "some text\n"
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644))
	}
	s := b.open()
	require.NoError(t, s.ReadOnly())
	require.ElementsMatch(t, []string{
		"lantern.stone", "other.stone", ".lantern.stone.lock", ".other.stone.lock", ".theirs.lock", ".theirs.stone.lock",
		".long.stone.lock",
		filepath.Base(s.places(lockSuffix)[1]), filepath.Base(running.places(lockSuffix)[1]),
	}, b.left())
	require.ErrorIs(t, other.open().ReadOnly(), ErrLocked, "a lock that is held was swept")
	require.NoError(t, s.Close())
	require.NoError(t, running.Close())
	require.ElementsMatch(t, []string{"lantern.stone", "other.stone", ".theirs.lock", ".theirs.stone.lock",
		".long.stone.lock"}, b.left())
}

// Renaming asks for no right to the file itself: a write-protected stone is
// replaced only when that was asked about.
func TestAWriteProtectedStoneIsNotReplacedUnasked(t *testing.T) {
	b := newBench(t)
	require.NoError(t, os.Chmod(b.file, 0o444))
	s := b.open()
	edited := renamed(s.Stone(), "edited")
	err := s.Save(1, edited)
	require.ErrorIs(t, err, ErrProtected)
	require.NotErrorIs(t, err, ErrChanged)
	require.Equal(t, sample, b.bytes())
	require.ErrorIs(t, Create(b.file+"x.stone", edited, true, b.options), nil)

	other := filepath.Join(filepath.Dir(b.file), "other.stone")
	require.NoError(t, os.WriteFile(other, []byte("mine"), 0o444))
	err = s.SaveAs(other, 1, edited, false)
	require.ErrorIs(t, err, ErrExists)
	require.ErrorIs(t, err, ErrProtected, "both are told, so that both are asked about")
	require.ErrorIs(t, Create(other, edited, true, b.options), ErrProtected)
	require.ErrorIs(t, Export(other, nil, true), ErrProtected)
	require.Equal(t, "mine", read(t, other))

	spoilt := strings.Replace(sample, "rubbed", "ground", 1)
	require.NoError(t, os.Chmod(b.file, 0o644))
	require.NoError(t, os.WriteFile(b.file, []byte(spoilt), 0o644))
	require.NoError(t, os.Chmod(b.file, 0o444))
	err = s.Save(1, edited)
	require.ErrorIs(t, err, ErrProtected)
	require.ErrorIs(t, err, ErrChanged)
	require.NotContains(t, err.Error(), "\n")
	require.Equal(t, spoilt, b.bytes())

	require.NoError(t, s.SaveOver(1, edited))
	require.Equal(t, string(format(edited)), b.bytes())
	info, err := os.Stat(b.file)
	require.NoError(t, err)
	require.Equal(t, fs.FileMode(0o444), info.Mode().Perm(), "the file keeps its mode")
}

// A file that belongs to somebody else, and only they may write, is protected as
// well; one that anybody may write is not.
func TestAnotherOnesFileIsProtected(t *testing.T) {
	d := newMemDisk("/s")
	d.put("/s/a.stone", sample)
	theirs := walled{d, "/s/a.stone"}
	require.ErrorIs(t, protected(readable{theirs}, "/s/a.stone"), ErrProtected)
	require.NoError(t, protected(d, "/s/a.stone"))
	require.NoError(t, protected(d, "/s/none.stone"))
}

// readable lets what is behind a wall be looked at.
type readable struct{ walled }

func (d readable) Lstat(name string) (fs.FileInfo, error) { return d.disk.Lstat(name) }
