package stonefile

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"time"
)

// lock is the right to write a stone file and its journal. It dies with the
// process that holds it. It is taken on a file of its own, because the stone
// file is another one after each save.
type lock struct {
	disk disk
	path string
	file handle
}

// heldError says that another process holds a lock.
type heldError struct{ holder int }

func (e heldError) Error() string {
	if e.holder == 0 {
		return ErrLocked.Error()
	}
	return fmt.Sprintf("%v (process %d)", ErrLocked, e.holder)
}

func (heldError) Unwrap() error { return ErrLocked }

// A lock that is held is asked for again a few times: it may be held for a
// moment only, by one who sweeps it away or is about to leave.
const (
	lockTries = 4
	lockWait  = 10 * time.Millisecond
)

// takeLock takes the lock at a path. It fails with ErrLocked when another
// process has it.
func takeLock(d disk, path string) (l *lock, err error) {
	for try := 1; ; try++ {
		l, err = tryTakeLock(d, path)
		if try == lockTries || !errors.Is(err, ErrLocked) {
			return l, err
		}
		time.Sleep(lockWait)
	}
}

func tryTakeLock(d disk, path string) (*lock, error) {
	for range 100 {
		f, err := d.Open(path, os.O_RDWR|os.O_CREATE|noFollow, 0o666)
		if errors.Is(err, fs.ErrPermission) { // another user's, perhaps
			f, err = d.Open(path, os.O_RDONLY|noFollow, 0)
		}
		if err != nil {
			return nil, err
		}
		if err := f.TryLock(); err != nil {
			text, _ := io.ReadAll(io.LimitReader(f, 20))
			f.Close()
			if errors.Is(err, errHeld) {
				pid, _ := strconv.Atoi(string(bytes.TrimSpace(text)))
				return nil, heldError{pid}
			}
			return nil, err
		}
		// Its last holder may have taken the name away between the two calls:
		// then this is a lock on nothing, and the next round makes a new file.
		mine, errMine := f.Stat()
		named, errNamed := d.Lstat(path)
		if errMine == nil && errNamed == nil && d.Same(mine, named) {
			// Only for the message a second opener gets: no matter if it fails.
			_, _ = f.WriteAt([]byte(holder(os.Getpid())), 0)
			return &lock{disk: d, path: path, file: f}, nil
		}
		f.Close()
		if errNamed != nil && !errors.Is(errNamed, fs.ErrNotExist) {
			return nil, errNamed
		}
	}
	return nil, heldError{}
}

// release lets go of the lock and takes its file away (see unlinkFirst).
func (l *lock) release() error {
	remove := func() error {
		if err := l.disk.Remove(l.path); !errors.Is(err, fs.ErrNotExist) {
			return err
		}
		return nil
	}
	if unlinkFirst {
		return errors.Join(remove(), l.file.Close())
	}
	err := l.file.Close()
	_ = remove() // refused when the next holder has opened it: then it is theirs
	return err
}

// mostSwept is how many names of a folder are looked at for locks to sweep: a
// folder of that many may be on a slow disk.
const mostSwept = 2000

// sweepLocks takes away the locks in a folder, by the end of their names, that
// killed runs left: whose lock can be had. Of each that is ours it leaves the
// name alone.
func sweepLocks(d disk, folder, ending string, ours []*lock) {
	names, err := d.List(folder)
	if err != nil || len(names) > mostSwept {
		return
	}
	for _, name := range names {
		path := filepath.Join(folder, name)
		mine := slices.ContainsFunc(ours, func(l *lock) bool { return l.path == path })
		if mine || !strings.HasSuffix(name, ending) || !leftOver(d, path) {
			continue
		}
		if l, err := tryTakeLock(d, path); err == nil {
			_ = l.release()
		}
	}
}

// leftOver reports whether a file is a lock as this program writes one: a
// process number in a line of its own. What else may have such a name stays.
func leftOver(d disk, path string) bool {
	info, err := d.Lstat(path)
	if err != nil || !info.Mode().IsRegular() || info.Size() != int64(len(holder(0))) {
		return false
	}
	data, err := load(d, path, info.Size())
	if err != nil {
		return false
	}
	pid, err := strconv.Atoi(string(bytes.TrimSpace(data)))
	return err == nil && string(data) == holder(pid)
}

// holder is the text of a lock: the process that has it.
func holder(pid int) string { return fmt.Sprintf("%-10d\n", pid) }

// takeLocks takes the lock at every one of the paths where a file can be made:
// a folder that turns read-only or full leaves the others to guard the stone.
// It fails with ErrLocked when another process has one of them, and with the
// last error when none could be made.
func takeLocks(d disk, paths []string) (locks []*lock, err error) {
	for _, path := range paths {
		l, failed := takeLock(d, path)
		if errors.Is(failed, ErrLocked) {
			return nil, errors.Join(failed, releaseAll(locks))
		}
		if failed != nil {
			err = failed
			continue
		}
		locks = append(locks, l)
	}
	if len(locks) > 0 {
		err = nil
	}
	return locks, err
}

func releaseAll(locks []*lock) error {
	var errs []error
	for _, l := range locks {
		errs = append(errs, l.release())
	}
	return errors.Join(errs...)
}
