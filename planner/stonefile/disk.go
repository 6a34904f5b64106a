package stonefile

import (
	"io"
	"io/fs"
	"os"
	"syscall"
)

// disk is what this package asks of the file system, call by call, so that a
// test can let each of them fail. Names are as in package os.
type disk interface {
	Open(name string, flag int, mode fs.FileMode) (handle, error)
	Lstat(name string) (fs.FileInfo, error)
	Readlink(name string) (string, error)
	Rename(from, to string) error
	Link(from, to string) error
	Remove(name string) error
	MkdirAll(name string, mode fs.FileMode) error
}

// handle is an open file.
type handle interface {
	io.ReadWriteCloser
	io.WriterAt
	Stat() (fs.FileInfo, error)
	Chmod(mode fs.FileMode) error
	Chown(uid, gid int) error
	Sync() error
	// TryLock takes the advisory lock that the kernel lets go of when the
	// process ends, however it ends; syscall.EWOULDBLOCK when another has it.
	TryLock() error
}

// osDisk is the real file system.
type osDisk struct{}

func (osDisk) Open(name string, flag int, mode fs.FileMode) (handle, error) {
	f, err := os.OpenFile(name, flag, mode)
	if err != nil {
		return nil, err
	}
	return osHandle{f}, nil
}

func (osDisk) Lstat(name string) (fs.FileInfo, error)       { return os.Lstat(name) }
func (osDisk) Readlink(name string) (string, error)         { return os.Readlink(name) }
func (osDisk) Rename(from, to string) error                 { return os.Rename(from, to) }
func (osDisk) Link(from, to string) error                   { return os.Link(from, to) }
func (osDisk) Remove(name string) error                     { return os.Remove(name) }
func (osDisk) MkdirAll(name string, mode fs.FileMode) error { return os.MkdirAll(name, mode) }

type osHandle struct{ *os.File }

func (h osHandle) TryLock() error {
	return syscall.Flock(int(h.Fd()), syscall.LOCK_EX|syscall.LOCK_NB)
}

// links returns how many names a file still has; 1 where the system does not say.
func links(info fs.FileInfo) uint64 {
	if st, ok := info.Sys().(*syscall.Stat_t); ok {
		return uint64(st.Nlink)
	}
	return 1
}

// sameFile reports whether two descriptions are of one file.
func sameFile(a, b fs.FileInfo) bool {
	x, okX := a.Sys().(*syscall.Stat_t)
	y, okY := b.Sys().(*syscall.Stat_t)
	return okX && okY && x.Dev == y.Dev && x.Ino == y.Ino
}

// owner returns the user and the group a file belongs to.
func owner(info fs.FileInfo) (uid, gid int, ok bool) {
	st, ok := info.Sys().(*syscall.Stat_t)
	if !ok {
		return 0, 0, false
	}
	return int(st.Uid), int(st.Gid), true
}
