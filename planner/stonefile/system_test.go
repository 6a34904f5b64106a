//go:build long && linux

package stonefile

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"cabwright/presets"

	"github.com/stretchr/testify/require"
)

// These tests need root, and the tools strace, mount, umount and chattr: they
// fail without them.

func run(t *testing.T, name string, args ...string) {
	t.Helper()
	out, err := exec.Command(name, args...).CombinedOutput()
	require.NoError(t, err, "%s %v: %s", name, args, out)
}

// calls are the system calls of which a session consists.
var calls = []string{
	"openat", "read", "write", "pwrite64", "fsync", "fchmod", "fstat", "newfstatat", "close",
	"renameat", "unlinkat", "linkat", "flock", "mkdirat", "getdents64",
}

// injected lets one system call of a child fail, the nth of those that concern
// the stone's folder, and returns whether there was one.
func injected(t *testing.T, job, dir, call string, errno string, n int) (happened bool, out string, status int) {
	t.Helper()
	file, state := filepath.Join(dir, "a.stone"), filepath.Join(dir, "state")
	log := filepath.Join(t.TempDir(), "log")
	args := []string{"-f", "-qq", "-o", log, "-e", "trace=" + call, "-e",
		fmt.Sprintf("inject=%s:error=%s:when=%d", call, errno, n)}
	for _, p := range []string{file, beside(file, savingSuffix), beside(file, journalSuffix),
		beside(file, journalSuffix) + savingSuffix, beside(file, lockSuffix), dir, state} {
		args = append(args, "-P", p)
	}
	inner := child(job, file, state)
	cmd := exec.Command("strace", append(args, inner.Args...)...)
	cmd.Env = inner.Env
	said, err := cmd.CombinedOutput()
	if err != nil {
		require.IsType(t, (*exec.ExitError)(nil), err)
		status = err.(*exec.ExitError).ExitCode()
	}
	logged, err := os.ReadFile(log)
	require.NoError(t, err)
	return bytes.Contains(logged, []byte("(INJECTED)")), string(said), status
}

// injectAll lets each system call fail in turn and returns what went wrong.
func injectAll(t *testing.T, job string) (tried int, wrong []string) {
	for _, call := range calls {
		for _, errno := range []string{"ENOSPC", "EIO", "EACCES"} {
			for n := 1; ; n++ {
				dir := t.TempDir()
				file := filepath.Join(dir, "a.stone")
				require.NoError(t, os.WriteFile(file, []byte(sample), 0o644))
				what := fmt.Sprintf("%s from %s %d", errno, call, n)
				happened, out, status := injected(t, job, dir, call, errno, n)
				if !happened {
					break
				}
				tried++
				data, err := os.ReadFile(file)
				require.NoError(t, err, what)
				doc, err := parse("x", data, presets.Builtin())
				switch {
				case err != nil:
					wrong = append(wrong, what+": the file is in pieces")
				case status == 0 && doc.Stone.Name != "edited":
					wrong = append(wrong, what+": exit status 0, but not saved")
				case status != 0 && status != 1:
					wrong = append(wrong, fmt.Sprintf("%s: exit status %d: %s", what, status, out))
				case status != 0 && (!strings.Contains(out, "failed: "+file+": ") || strings.Count(out, "failed:") != 1):
					wrong = append(wrong, what+": no clear message: "+out)
				}
			}
		}
	}
	return tried, wrong
}

func TestSystemCallsThatFail(t *testing.T) {
	tried, wrong := injectAll(t, "save once")
	require.Empty(t, wrong)
	require.Greater(t, tried, 60)
	t.Logf("%d system calls failed", tried)
	_, wrong = injectAll(t, "save once in place")
	require.NotEmpty(t, wrong, "a saver in place passes")
}

// mounted returns a folder that is a file system of 64 KiB of its own, with the
// sample in it.
func mounted(t *testing.T) bench {
	t.Helper()
	b := newBench(t)
	dir := filepath.Join(t.TempDir(), "small")
	require.NoError(t, os.Mkdir(dir, 0o755))
	run(t, "mount", "-t", "tmpfs", "-o", "size=64k", "tmpfs", dir)
	t.Cleanup(func() { run(t, "umount", dir) })
	b.file = filepath.Join(dir, "lantern.stone")
	require.NoError(t, os.WriteFile(b.file, []byte(sample), 0o644))
	return b
}

// fillUp leaves no page free; the name it returns can be removed.
func fillUp(t *testing.T, dir string) string {
	t.Helper()
	name := filepath.Join(dir, "filler")
	f, err := os.Create(name)
	require.NoError(t, err)
	defer f.Close()
	for {
		if _, err := f.Write(make([]byte, 4096)); err != nil {
			require.ErrorIs(t, err, syscall.ENOSPC)
			return name
		}
	}
}

// fullDiskWrong saves on a full disk and returns what went wrong.
func fullDiskWrong(b bench, s saver) (wrong []string) {
	edited := format(renamed(parseSample(b.t).Stone, strings.Repeat("long ", 2000)))
	err := s.save(osDisk{}, b.file, edited)
	if err == nil {
		wrong = append(wrong, "no error")
	}
	if got := b.bytes(); got != sample {
		wrong = append(wrong, "the old file is lost")
	}
	return wrong
}

func TestAFullDisk(t *testing.T) {
	for range 20 {
		b := mounted(t)
		filler := fillUp(t, filepath.Dir(b.file))
		require.Empty(t, fullDiskWrong(b, goodSaver))
		s := b.open()
		edited := renamed(s.Stone(), strings.Repeat("long ", 2000))
		require.NoError(t, s.Record(1, "Rename", edited), "the journal goes to the state folder")
		err := s.Save(1, edited)
		require.ErrorContains(t, err, "not saved: no space left on device: make room on the disk, or save elsewhere")
		require.Equal(t, sample, b.bytes())
		err = Export(filepath.Join(filepath.Dir(b.file), "fit.txt"), []byte(strings.Repeat("x", 9000)), false)
		require.ErrorContains(t, err, "no space left on device")
		entries, err := os.ReadDir(filepath.Dir(b.file))
		require.NoError(t, err)
		for _, e := range entries {
			require.NotContains(t, e.Name(), savingSuffix)
			require.NotContains(t, e.Name(), "fit")
		}
		b.kill(s)
		s = b.open()
		require.True(t, s.Found().Stone.Equal(edited))
		_, err = s.Recover()
		require.NoError(t, err)
		require.NoError(t, os.Remove(filler))
		require.NoError(t, s.Save(1, edited))
		require.Equal(t, string(format(edited)), b.bytes())
		require.NoError(t, s.Close())
	}
	b := mounted(t)
	fillUp(t, filepath.Dir(b.file))
	require.NotEmpty(t, fullDiskWrong(b, badSavers[0]), "a saver in place passes")
}

// The state folder is on the full disk as well: the edit is in memory only, that
// is said, and once there is room it is kept.
func TestAFullDiskForTheJournalToo(t *testing.T) {
	b := mounted(t)
	b.options.StateFolder = filepath.Join(filepath.Dir(b.file), "state")
	s := b.open()
	filler := fillUp(t, filepath.Dir(b.file))
	edited := renamed(s.Stone(), strings.Repeat("long ", 500))
	require.ErrorContains(t, s.Record(1, "Rename", edited), "the edit is not in the journal yet: no space left on device")
	require.NoError(t, os.Remove(filler))
	require.NoError(t, s.Record(1, "Rename", edited))
	b.kill(s)
	require.True(t, b.open().Found().Stone.Equal(edited))
}

// locked is a way to forbid writing, and what lifts it.
type locked struct {
	name      string
	set, lift func(t *testing.T, b bench)
	message   string
	beside    bool // a journal can still be made beside the stone
}

var locks = []locked{
	{"read-only file system",
		func(t *testing.T, b bench) { run(t, "mount", "-o", "remount,ro", filepath.Dir(b.file)) },
		func(t *testing.T, b bench) { run(t, "mount", "-o", "remount,rw", filepath.Dir(b.file)) },
		"read-only file system: save elsewhere", false},
	{"immutable file",
		func(t *testing.T, b bench) { run(t, "chattr", "+i", b.file) },
		func(t *testing.T, b bench) { run(t, "chattr", "-i", b.file) },
		"operation not permitted: the file or its folder may not be changed: save elsewhere", true},
	{"immutable folder",
		func(t *testing.T, b bench) { run(t, "chattr", "+i", filepath.Dir(b.file)) },
		func(t *testing.T, b bench) { run(t, "chattr", "-i", filepath.Dir(b.file)) },
		"operation not permitted: the file or its folder may not be changed: save elsewhere", false},
}

func TestWhatMayNotBeWritten(t *testing.T) {
	for _, l := range locks {
		for range 20 {
			b := newBench(t)
			if strings.Contains(l.name, "system") {
				b = mounted(t)
			}
			l.set(t, b)
			func() {
				defer l.lift(t, b)
				s := b.open()
				require.NoError(t, s.ReadOnly(), l.name)
				edited := renamed(s.Stone(), "kept")
				require.NoError(t, s.Record(1, "Rename", edited), l.name)
				_, err := os.Lstat(beside(b.file, journalSuffix))
				require.Equal(t, l.beside, err == nil, "%s: the journal beside the stone", l.name)
				err = s.Save(1, edited)
				require.ErrorContains(t, err, l.message, l.name)
				require.Equal(t, sample, b.bytes(), l.name)
				b.kill(s)
				s = b.open()
				require.Equal(t, "kept", s.Found().Stone.Name, l.name)
				require.NoError(t, s.Close())
				// A saver that says nothing would be noticed here.
				silent := func(d disk, path string, data []byte) error { _ = replace(d, path, data, true); return nil }
				require.NotEmpty(t, fullDiskWrong(b, saver{"silent", silent}))
				require.Empty(t, fullDiskWrong(b, goodSaver))
			}()
			s := b.open()
			stone, err := s.Recover()
			require.NoError(t, err, l.name)
			require.NoError(t, s.Save(1, stone), l.name)
			require.NoError(t, s.Close())
		}
	}
}
