package stonefile

import (
	"errors"
	"fmt"
	"io/fs"

	"cabwright/planner"
)

// Save writes the stone to its file. When it returns nil the file holds the
// stone whatever comes; after an error the old file is whole and the edits are
// in the journal. It fails with ErrChanged when the file is no longer the one
// that was read, with ErrProtected when it is write-protected (with both when
// both), and with a planner.Problem when the stone is not finished: it could not
// be read again.
func (s *Session) Save(change uint64, stone planner.Stone) error {
	return s.save(change, stone, false)
}

// SaveOver is Save that minds neither what another program put into the file nor
// that it is write-protected.
func (s *Session) SaveOver(change uint64, stone planner.Stone) error {
	return s.save(change, stone, true)
}

func (s *Session) save(change uint64, stone planner.Stone, over bool) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	if change < s.saved {
		return nil // a later one is in the file
	}
	if err := s.trySave(change, stone, over); err != nil {
		return &Fault{s.path, "not saved", err}
	}
	return nil
}

func (s *Session) trySave(change uint64, stone planner.Stone, over bool) error {
	switch {
	case s.readOnly != nil:
		return s.readOnly
	case s.closed:
		return ErrReadOnly
	case s.found != nil:
		return ErrUndecided
	}
	if change >= s.recorded { // so that the edits are kept if the save fails
		if s.journal.record("Save", format(stone)) == nil {
			s.recorded = change
		}
	}
	data, err := s.textOf(stone)
	if err != nil {
		return err
	}
	if !over {
		if err := s.mayReplace(); err != nil {
			return err
		}
	}
	sum := digest(data)
	// The journal then knows that a file of this digest is its own, should it
	// still be there, or come back by a power cut, when the file is saved.
	if s.journal.saving(sum) != nil {
		_ = s.journal.sync() // without the note, but with all edits: that serves too
	}
	s.tried = sum
	if err := replace(s.options.disk, s.target, data, true); err != nil {
		return err
	}
	s.sum, s.saved, s.isNew = sum, change, false
	// If the journal can't be taken away it tells of nothing that is not in the
	// file, and the next opening does so.
	_ = s.journal.rebase(format(stone), sum)
	return nil
}

// textOf returns the text to save for a finished stone.
func (s *Session) textOf(stone planner.Stone) ([]byte, error) {
	if problems := planner.Validate(stone, s.options.Set); len(problems) > 0 {
		return nil, fmt.Errorf("the stone is not finished, its edits are kept: %w", problems[0])
	}
	data := s.doc.Bytes(stone)
	if len(data) > maxSize {
		return nil, sizeError{int64(len(data)), maxSize}
	}
	return data, nil
}

// mayReplace fails when the file should not be replaced unasked.
func (s *Session) mayReplace() error {
	changed, guarded := s.unchanged(), protected(s.options.disk, s.target)
	switch {
	case changed == nil:
		return guarded
	case guarded == nil:
		return changed
	}
	return fmt.Errorf("%w; %w", guarded, changed)
}

// unchanged fails with ErrChanged when the file is not as it was last read or
// written. Its bytes are compared, not its times: these are coarse, and clocks
// are set. A file that is gone is no one's loss.
func (s *Session) unchanged() error {
	data, err := load(s.options.disk, s.target, maxSize)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil
	case errors.As(err, new(sizeError)):
		return ErrChanged
	case err != nil:
		return err
	}
	if sum := digest(data); sum != s.sum && sum != s.tried {
		return ErrChanged
	}
	return nil
}

// SaveAs writes the stone to another file, which the session is about from then
// on; the first file stays as it is. It fails with ErrExists when there is one
// and it may not be replaced, and with ErrLocked when another workbench has it.
func (s *Session) SaveAs(path string, change uint64, stone planner.Stone, over bool) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	if err := s.trySaveAs(path, change, stone, over); err != nil {
		return &Fault{path, "not saved", err}
	}
	return nil
}

func (s *Session) trySaveAs(path string, change uint64, stone planner.Stone, over bool) error {
	if s.closed {
		return ErrReadOnly
	}
	data, err := s.textOf(stone)
	if err != nil {
		return err
	}
	target, err := resolve(s.options.disk, path)
	if err != nil {
		return err
	}
	if target == s.target {
		return s.trySave(change, stone, over)
	}
	next := &Session{options: s.options, path: path, target: target}
	if err := next.claim(data, over); err != nil {
		return err
	}
	// The stone is safe in its new place: what is left of the old is let go.
	if s.readOnly == nil && s.found == nil {
		_ = s.journal.remove()
	}
	_ = releaseAll(s.locks)
	s.path, s.target, s.locks, s.readOnly, s.found = path, target, next.locks, nil, nil
	s.sum, s.saved, s.isNew = digest(data), change, false
	text := format(stone)
	s.journal = &journal{
		disk:       s.options.disk,
		places:     s.places(journalSuffix),
		stonePath:  target,
		generation: 1,
		base:       text,
		text:       text,
		sum:        s.sum,
	}
	return nil
}

// claim takes the locks of a file and writes it. Unsaved edits of what it held
// before are not for us to pass over.
func (s *Session) claim(data []byte, over bool) error {
	locks, err := takeLocks(s.options.disk, s.places(lockSuffix))
	if err != nil {
		return err
	}
	s.locks = locks
	err = errKept
	if len(s.journals()) == 0 {
		err = replace(s.options.disk, s.target, data, over)
	}
	if err != nil {
		_ = releaseAll(locks)
	}
	return err
}

var errKept = errors.New(
	"unsaved edits of an earlier stone of that name are kept: open it first, or choose another name",
)

// Create writes a stone to a file of its own, under the same lock as a
// workbench takes. It fails with ErrExists when there is one and it may not be
// replaced, and with ErrProtected when it is write-protected.
func Create(path string, stone planner.Stone, over bool, o Options) error {
	if o.disk == nil {
		o.disk = osDisk{}
	}
	if o.StateFolder == "" {
		o.StateFolder = stateFolder()
	}
	s := &Session{options: o, path: path, doc: &Document{}}
	if err := s.create(stone, over); err != nil {
		return &Fault{path, "not written", err}
	}
	return nil
}

func (s *Session) create(stone planner.Stone, over bool) error {
	data, err := s.textOf(stone)
	if err != nil {
		return err
	}
	if s.target, err = resolve(s.options.disk, s.path); err != nil {
		return err
	}
	if over {
		if err := protected(s.options.disk, s.target); err != nil {
			return err
		}
	}
	if err := s.claim(data, over); err != nil {
		return err
	}
	_ = releaseAll(s.locks) // a lock that can't be taken away dies with us
	return nil
}
