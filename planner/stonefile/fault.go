package stonefile

import (
	"errors"
	"io/fs"
	"os"
	"syscall"

	"cabwright/planner"
)

// Fault says what kept a file from being written. Its text is one line: what,
// where, why and what can be done.
type Fault struct {
	Path string
	What string // "not saved", "the edit is not in the journal yet"
	Err  error  // the cause
}

func (f *Fault) Error() string {
	text := planner.Visible(f.Path) + ": " + f.What + ": " + cause(f.Err)
	if hint := remedy(f.Err); hint != "" {
		text += ": " + hint
	}
	return text
}

// Unwrap returns the cause.
func (f *Fault) Unwrap() error { return f.Err }

// The reasons for not saving that do not come from the disk.
var (
	// ErrChanged says that another program has written the file since it was read.
	ErrChanged = errors.New(
		"the file was changed by another program since it was read: compare, save elsewhere, or save over it",
	)
	// ErrProtected says that the file is there and may not be written, though
	// its folder may: another file could take its place.
	ErrProtected = errors.New("the file is write-protected: take the protection off, or save elsewhere")
	// ErrReadOnly says that the stone was opened to be looked at only.
	ErrReadOnly = errors.New("opened to look at only: save elsewhere")
	// ErrLocked says that another workbench has the stone open.
	ErrLocked = errors.New("open in another workbench: close it there, or save elsewhere")
	// ErrUndecided says that unsaved edits of an earlier time were found, and
	// neither recovered nor discarded.
	ErrUndecided = errors.New("recover or discard the unsaved edits that were found first")
	// ErrExists says that there is such a file already.
	ErrExists = errors.New("there is such a file already: choose another name, or say that it may be replaced")
)

// remedyFor says what can be done about an error of the system.
type remedyFor struct {
	err  error
	text string
}

const (
	remedyFull      = "make room on the disk, or save elsewhere"
	remedyElsewhere = "save elsewhere"
	remedyDisk      = "the disk does not answer as it should: save elsewhere"
)

var remedies = append(systemRemedies, []remedyFor{
	{syscall.ENOSPC, remedyFull},
	{syscall.EDQUOT, "your share of the disk is used up: make room, or save elsewhere"},
	{syscall.EROFS, remedyElsewhere},
	{syscall.EPERM, "the file or its folder may not be changed: save elsewhere"},
	{fs.ErrPermission, "save elsewhere, or ask for the right to write there"},
	{syscall.EIO, remedyDisk},
	{syscall.ENAMETOOLONG, "choose a shorter name"},
	{fs.ErrNotExist, "the folder is gone: make it again, or save elsewhere"},
	{syscall.ENOTDIR, "the folder is gone: save elsewhere"},
}...)

// remedy says what can be done about an error of the system, or "".
func remedy(err error) string {
	for _, r := range remedies {
		if errors.Is(err, r.err) {
			return r.text
		}
	}
	return ""
}

// cause returns the innermost words of a file error: what went wrong, without
// the path, which the message names already.
func cause(err error) string {
	var path *os.PathError
	if errors.As(err, &path) {
		return path.Err.Error()
	}
	var link *os.LinkError
	if errors.As(err, &link) {
		return link.Err.Error()
	}
	return planner.Visible(err.Error())
}
