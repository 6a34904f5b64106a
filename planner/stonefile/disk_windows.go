package stonefile

import (
	"errors"
	"io/fs"
	"os"

	"golang.org/x/sys/windows"
)

const (
	noFollow = 0 // making a symbolic link is a right few have there
	noWait   = 0 // pipes have names of their own, outside folders

	// unlinkFirst: an open file's name can't be taken away, so that a lock is
	// let go of first; the next holder's open file keeps its name from going.
	unlinkFirst = false
)

// lockAt is the byte that is locked: far behind what is written, because other
// processes may not even read a locked byte (LockFileEx, "Remarks").
const lockAt = 1 << 30

// tryLock takes the lock of an open file.
func tryLock(f *os.File) error {
	err := windows.LockFileEx(windows.Handle(f.Fd()), windows.LOCKFILE_EXCLUSIVE_LOCK|windows.LOCKFILE_FAIL_IMMEDIATELY,
		0, 1, 0, &windows.Overlapped{Offset: lockAt})
	if errors.Is(err, windows.ERROR_LOCK_VIOLATION) || errors.Is(err, windows.ERROR_IO_PENDING) {
		return errHeld
	}
	return err
}

// rename gives a file another name, in the place of what has it, and returns
// when that is on the disk (MoveFileEx, MOVEFILE_WRITE_THROUGH).
func rename(from, to string) error {
	fail := func(err error) error { return &os.LinkError{Op: "rename", Old: from, New: to, Err: err} }
	old, err := windows.UTF16PtrFromString(from)
	if err != nil {
		return fail(err)
	}
	name, err := windows.UTF16PtrFromString(to)
	if err != nil {
		return fail(err)
	}
	if err := windows.MoveFileEx(old, name, windows.MOVEFILE_REPLACE_EXISTING|windows.MOVEFILE_WRITE_THROUGH); err != nil {
		return fail(err)
	}
	return nil
}

// syncFolder does nothing: there is no such call, and rename has waited.
func syncFolder(string) error { return nil }

// owner is told by lists of rights there, which a new file takes from its folder.
func owner(fs.FileInfo) (uid, gid int, ok bool) { return 0, 0, false }

// systemRemedies are what can be done about errors that only this system has.
var systemRemedies = []remedyFor{
	{windows.ERROR_DISK_FULL, remedyFull},
	{windows.ERROR_HANDLE_DISK_FULL, remedyFull},
	{windows.ERROR_WRITE_PROTECT, remedyElsewhere},
	{windows.ERROR_SHARING_VIOLATION, "another program has the file open: close it there, or save elsewhere"},
	{windows.ERROR_LOCK_VIOLATION, "another program has the file open: close it there, or save elsewhere"},
	{windows.ERROR_CRC, remedyDisk},
	{windows.ERROR_NOT_READY, remedyDisk},
}
