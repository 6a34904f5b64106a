package stonefile

import (
	"errors"
	"io"
	"io/fs"
	"os"
)

// disk is what this package asks of the file system, call by call, so that a
// test can let each of them fail. Names are as in package os; what the systems
// do each in their own way stands in disk_unix.go and disk_windows.go.
type disk interface {
	Open(name string, flag int, mode fs.FileMode) (handle, error)
	Lstat(name string) (fs.FileInfo, error)
	// Same reports whether two descriptions, by Lstat or Stat, are of one file.
	Same(a, b fs.FileInfo) bool
	Readlink(name string) (string, error)
	// List returns the names in a folder.
	List(folder string) ([]string, error)
	Rename(from, to string) error
	Link(from, to string) error
	Remove(name string) error
	MkdirAll(name string, mode fs.FileMode) error
	// SyncFolder makes the names in a folder permanent, as far as the system
	// has a call for that.
	SyncFolder(name string) error
}

// handle is an open file. None is renamed or taken away while it is open, but
// for a lock: Windows would refuse.
type handle interface {
	io.ReadWriteCloser
	io.WriterAt
	Stat() (fs.FileInfo, error)
	Chmod(mode fs.FileMode) error
	Chown(uid, gid int) error
	Sync() error
	// TryLock takes the advisory lock that the system lets go of when the
	// process ends, however it ends; errHeld when another has it.
	TryLock() error
}

// errHeld says that another process has the lock of a file.
var errHeld = errors.New("locked by another process")

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
func (osDisk) Same(a, b fs.FileInfo) bool                   { return os.SameFile(a, b) }
func (osDisk) Readlink(name string) (string, error)         { return os.Readlink(name) }
func (osDisk) Rename(from, to string) error                 { return rename(from, to) }
func (osDisk) Link(from, to string) error                   { return os.Link(from, to) }
func (osDisk) Remove(name string) error                     { return os.Remove(name) }
func (osDisk) MkdirAll(name string, mode fs.FileMode) error { return os.MkdirAll(name, mode) }
func (osDisk) SyncFolder(name string) error                 { return syncFolder(name) }

func (osDisk) List(folder string) (names []string, err error) {
	entries, err := os.ReadDir(folder)
	for _, e := range entries {
		names = append(names, e.Name())
	}
	return names, err
}

type osHandle struct{ *os.File }

func (h osHandle) TryLock() error { return tryLock(h.File) }
