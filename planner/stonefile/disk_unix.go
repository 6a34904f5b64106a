//go:build unix

package stonefile

import (
	"errors"
	"io/fs"
	"os"
	"syscall"
)

const (
	noFollow = syscall.O_NOFOLLOW // fail at a symbolic link
	noWait   = syscall.O_NONBLOCK // not to wait for a writer if it is a pipe

	// unlinkFirst: a lock's name is taken away while the lock is held, so that
	// nobody can take the lock on a file without one.
	unlinkFirst = true
)

// tryLock takes the lock of an open file description (flock, which also macOS
// and the BSDs have).
func tryLock(f *os.File) error {
	err := syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB)
	if errors.Is(err, syscall.EWOULDBLOCK) {
		return errHeld
	}
	return err
}

func rename(from, to string) error { return os.Rename(from, to) }

// syncFolder makes the names in a folder permanent. A file system that has no
// such call says EINVAL or ENOTSUP: there it is all that can be done.
func syncFolder(folder string) error {
	f, err := os.OpenFile(folder, os.O_RDONLY|syscall.O_DIRECTORY, 0)
	if err != nil {
		return err
	}
	err = f.Sync()
	if errors.Is(err, syscall.EINVAL) || errors.Is(err, syscall.ENOTSUP) {
		err = nil
	}
	return errors.Join(err, f.Close())
}

// owner returns the user and the group a file belongs to.
func owner(info fs.FileInfo) (uid, gid int, ok bool) {
	st, ok := info.Sys().(*syscall.Stat_t)
	if !ok {
		return 0, 0, false
	}
	return int(st.Uid), int(st.Gid), true
}

// systemRemedies are what can be done about errors that only this system has.
var systemRemedies []remedyFor
