package stonefile

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"strconv"
	"syscall"
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
		f, err := d.Open(path, os.O_RDWR|os.O_CREATE|syscall.O_NOFOLLOW, 0o666)
		if errors.Is(err, fs.ErrPermission) { // another user's, perhaps
			f, err = d.Open(path, os.O_RDONLY|syscall.O_NOFOLLOW, 0)
		}
		if err != nil {
			return nil, err
		}
		if err := f.TryLock(); err != nil {
			holder, _ := io.ReadAll(io.LimitReader(f, 20))
			f.Close()
			if errors.Is(err, syscall.EWOULDBLOCK) {
				pid, _ := strconv.Atoi(string(bytes.TrimSpace(holder)))
				return nil, heldError{pid}
			}
			return nil, err
		}
		// Its last holder may have taken the name away between the two calls:
		// then this is a lock on nothing, and the next round makes a new file.
		mine, errMine := f.Stat()
		named, errNamed := d.Lstat(path)
		if errMine == nil && errNamed == nil && sameFile(mine, named) {
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

// release lets go of the lock. The name goes first, while the lock is held, so
// that nobody can take the lock on a file without one.
func (l *lock) release() error {
	err := l.disk.Remove(l.path)
	if errors.Is(err, fs.ErrNotExist) {
		err = nil
	}
	return errors.Join(err, l.file.Close())
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
