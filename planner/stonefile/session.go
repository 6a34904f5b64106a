package stonefile

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"sync"
	"time"

	"cabwright/planner"
	"cabwright/presets"
)

// flushAfter is when an edit is made permanent after it was recorded: a power
// cut costs at most the last second, and the disk may need half of that.
const flushAfter = 500 * time.Millisecond

// Options say how stones are opened.
type Options struct {
	Set *presets.Set // materials and defaults
	// StateFolder is where the journal goes when nothing can be written beside
	// the stone; empty: cabwright in the user's state folder.
	StateFolder string

	disk disk // nil: the real one
}

// Session is one stone open for editing: its file, its lock and its journal.
// Its methods may take as long as a disk does and can be called from several
// goroutines at once; edits and saves carry the number of the change they
// belong to (planner.History.Changes), so that one that comes late does not
// undo a newer one. After Close nothing of it runs on.
type Session struct {
	mu       sync.Mutex
	options  Options
	path     string // as given
	target   string // absolute, behind symbolic links
	doc      *Document
	isNew    bool
	readOnly error // why it may not be written; nil when it may
	warnings []planner.Warning
	locks    []*lock
	journal  *journal
	found    *Recovery
	sum      string // digest of the file's bytes as last read or written
	tried    string // and of those of a save that may have failed at its last step
	recorded uint64 // the latest change in the journal
	saved    uint64 // the latest change in the file

	closed   bool
	flush    *time.Timer
	flushing sync.WaitGroup
	flushErr error
}

// Open opens a stone file, or a new one where there is none yet. Another
// workbench that has it open makes this one read-only. An error is an *Error
// for a bad file, a *Fault otherwise.
func Open(path string, o Options) (*Session, error) {
	if o.disk == nil {
		o.disk = osDisk{}
	}
	if o.StateFolder == "" {
		o.StateFolder = stateFolder()
	}
	s := &Session{options: o, path: path}
	if err := s.open(path); err != nil {
		_ = releaseAll(s.locks) // a lock that can't be taken away dies with us
		return nil, err
	}
	return s, nil
}

// open takes the locks, reads the file and looks for journals.
func (s *Session) open(path string) error {
	d := s.options.disk
	target, err := resolve(d, path)
	if err != nil {
		return &Fault{path, "not opened", err}
	}
	if info, err := d.Lstat(filepath.Dir(target)); err != nil || !info.IsDir() && info.Mode()&fs.ModeSymlink == 0 {
		return &Fault{path, "not opened", errors.Join(err, fs.ErrNotExist)}
	}
	s.target = target
	s.locks, err = takeLocks(d, s.places(lockSuffix))
	switch {
	case errors.Is(err, ErrLocked):
		s.readOnly = err
	case err != nil:
		s.readOnly = lookOnly(err)
	default:
		s.sweep()
	}
	if err := s.read(); err != nil {
		return s.withEdits(err)
	}
	s.journal = &journal{disk: d, places: s.places(journalSuffix), stonePath: target, generation: 1}
	s.journal.base = format(s.doc.Stone)
	s.journal.text, s.journal.sum = s.journal.base, s.sum
	if s.readOnly == nil {
		s.look()
	}
	return nil
}

// places returns where a hidden file of the stone may stand: beside it, and in
// the state folder under a digest of its path.
func (s *Session) places(suffix string) []string {
	places := []string{beside(s.target, suffix)}
	if s.options.StateFolder != "" {
		if suffix == lockSuffix { // the lock is taken before a journal makes the folder
			_ = s.options.disk.MkdirAll(s.options.StateFolder, 0o700)
		}
		places = append(places, filepath.Join(s.options.StateFolder, digest([]byte(s.target))[:32]+suffix))
	}
	return places
}

// stateFolder returns the folder for what a program keeps between its runs (XDG
// Base Directory Specification 0.8), or "" when there is no home folder.
func stateFolder() string {
	if dir := os.Getenv("XDG_STATE_HOME"); filepath.IsAbs(dir) {
		return filepath.Join(dir, "cabwright")
	}
	home, err := os.UserHomeDir()
	if err != nil {
		return ""
	}
	return filepath.Join(home, ".local", "state", "cabwright")
}

// lookOnly is why a stone may only be looked at, in one line.
func lookOnly(why error) error { return fmt.Errorf("%w (%s)", ErrReadOnly, cause(why)) }

// sweep takes away what a killed run left: of this stone what was half saved,
// which is nobody's, as we hold the lock; of every stone beside it, and in the
// state folder, locks that nobody holds any more.
func (s *Session) sweep() {
	d := s.options.disk
	_ = d.Remove(beside(s.target, savingSuffix))
	for _, place := range s.places(journalSuffix) {
		_ = d.Remove(place + savingSuffix)
	}
	sweepLocks(d, filepath.Dir(s.target), stoneSuffix+lockSuffix, s.locks)
	if s.options.StateFolder != "" {
		sweepLocks(d, s.options.StateFolder, lockSuffix, s.locks)
	}
}

// read reads the stone file.
func (s *Session) read() error {
	data, err := load(s.options.disk, s.target, maxSize)
	if errors.Is(err, fs.ErrNotExist) {
		s.isNew, s.sum = true, ""
		s.doc = newDocument(s.options.Set)
		return nil
	}
	if err != nil {
		return &Error{File: s.path, What: cause(err), Err: err}
	}
	doc, err := parse(s.path, data, s.options.Set)
	if err != nil {
		return err
	}
	s.doc, s.isNew, s.sum, s.warnings = doc, false, digest(data), doc.Warnings
	return nil
}

// withEdits adds to the error of a file that can't be read where edits to it
// are kept: once the file is mended they can be recovered.
func (s *Session) withEdits(err error) error {
	bad, ok := err.(*Error)
	if !ok || s.readOnly != nil {
		return err
	}
	for _, place := range s.journals() {
		bad.What += "; unsaved edits are kept in " + planner.Visible(place)
	}
	return bad
}

// journals returns the journals there are.
func (s *Session) journals() (there []string) {
	for _, place := range s.places(journalSuffix) {
		if _, err := s.options.disk.Lstat(place); err == nil {
			there = append(there, place)
		}
	}
	return there
}

// Stone returns the stone as it was read; for a new file one with nothing but
// the usual allowances.
func (s *Session) Stone() planner.Stone {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.doc.Stone
}

// Path returns the file's path as it was given.
func (s *Session) Path() string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.path
}

// New reports whether there was no file yet.
func (s *Session) New() bool {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.isNew
}

// ReadOnly returns why the file may not be written, or nil: ErrLocked,
// ErrReadOnly.
func (s *Session) ReadOnly() error {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.readOnly
}

// Warnings returns what was noticed on reading.
func (s *Session) Warnings() []planner.Warning {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.warnings
}

// Record puts an edit into the journal: when it returns nil the edit outlives
// the program, and within a second a power cut. After an error the edit is in
// memory only; the next Record tries again.
func (s *Session) Record(change uint64, edit string, stone planner.Stone) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	switch {
	case s.closed || s.readOnly != nil:
		return &Fault{s.path, "the edit is not kept", ErrReadOnly}
	case s.found != nil:
		return &Fault{s.path, "the edit is not kept", ErrUndecided}
	case change < s.recorded:
		return nil // a later one is in the journal
	}
	if err := s.journal.record(edit, format(stone)); err != nil {
		return &Fault{s.path, "the edit is not in the journal yet", err}
	}
	s.recorded = change
	s.flushSoon()
	err := s.flushErr
	s.flushErr = nil
	if err != nil {
		return &Fault{s.path, "edits may not outlive a power cut", err}
	}
	return nil
}

// flushSoon lets the journal be made permanent in a moment. The timer counts
// the machine's own time, so that setting the clock does not matter.
func (s *Session) flushSoon() {
	if !s.journal.unsynced || s.flush != nil {
		return
	}
	s.flushing.Add(1)
	s.flush = time.AfterFunc(flushAfter, func() {
		defer s.flushing.Done()
		s.mu.Lock()
		defer s.mu.Unlock()
		if s.flush != nil {
			s.flush = nil
			s.flushErr = s.journal.sync()
		}
	})
}

// flushNow makes every recorded edit permanent.
func (s *Session) flushNow() error {
	if s.flush != nil && s.flush.Stop() {
		s.flushing.Done()
	}
	s.flush, s.flushErr = nil, nil
	if err := s.journal.sync(); err != nil {
		return &Fault{s.path, "edits may not outlive a power cut", err}
	}
	return nil
}

// Close lets go of the stone. Edits that are not saved stay in the journal and
// are found at the next opening. It may be called again.
func (s *Session) Close() error {
	s.mu.Lock()
	if s.closed {
		s.mu.Unlock()
		return nil
	}
	s.closed = true
	err := s.flushNow()
	if s.readOnly == nil && s.found == nil && string(s.journal.text) == string(s.journal.base) {
		err = errors.Join(err, s.journal.remove())
	} else if s.journal.file != nil {
		err = errors.Join(err, s.journal.file.Close())
	}
	err = errors.Join(err, releaseAll(s.locks))
	s.mu.Unlock()
	s.flushing.Wait()
	if err != nil {
		return &Fault{s.path, "not closed cleanly", err}
	}
	return nil
}
