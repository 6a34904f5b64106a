package stonefile

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"strconv"
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

// takeLock takes the lock at a path. It fails with ErrLocked when another
// process has it.
func takeLock(d disk, path string) (*lock, error) {
	for range 100 {
		f, err := d.Open(path, os.O_RDWR|os.O_CREATE|noFollow, 0o666)
		if errors.Is(err, fs.ErrPermission) { // another user's, perhaps
			f, err = d.Open(path, os.O_RDONLY|noFollow, 0)
		}
		if err != nil {
			return nil, err
		}
		if err := f.TryLock(); err != nil {
			holder, _ := io.ReadAll(io.LimitReader(f, 20))
			f.Close()
			if errors.Is(err, errHeld) {
				pid, _ := strconv.Atoi(string(bytes.TrimSpace(holder)))
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
			_, _ = f.WriteAt([]byte(fmt.Sprintf("%-10d\n", os.Getpid())), 0)
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
