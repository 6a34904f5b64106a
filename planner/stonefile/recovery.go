package stonefile

import (
	"errors"
	"io/fs"
	"path/filepath"
	"slices"
	"syscall"

	"cabwright/planner"
)

// Recovery is what a journal holds that the file does not: edits of a session
// that ended before they were saved.
type Recovery struct {
	Stone planner.Stone // with the edits
	Edits int           // how many
	Names []string      // of those the journal spells out, the latest last
	// FileChanged: the file is not the one the edits were made to.
	FileChanged bool
	// Cut: something behind the last good record could not be read.
	Cut bool

	text       []byte
	generation uint64
}

// look reads the journals that may be there. The one of the latest generation
// and length counts; one that says no more than the file is taken away.
func (s *Session) look() {
	var best *story
	for i, place := range s.journal.places {
		data, err := load(s.options.disk, place, maxJournal)
		if err != nil && (errors.Is(err, fs.ErrNotExist) || i > 0 && s.outOfReach(place)) {
			continue
		}
		var st *story
		if err == nil {
			st, err = readStory(data)
		}
		if err != nil {
			s.setAside(place, err)
			continue
		}
		if best == nil || st.generation > best.generation || st.generation == best.generation && st.seq > best.seq {
			best = st
		}
	}
	if best == nil {
		return
	}
	s.journal.generation = best.generation + 1
	doc, err := draft(s.path, best.text, s.options.Set)
	switch {
	case err != nil:
		for _, place := range s.journal.places {
			s.setAside(place, err)
		}
	case doc.Stone.Equal(s.doc.Stone):
		_ = s.journal.remove()
	default:
		s.found = &Recovery{Stone: doc.Stone, Edits: best.edited, Names: best.edits, Cut: best.cut,
			FileChanged: !slices.Contains(best.sums, s.sum), text: best.text, generation: best.generation}
	}
}

// outOfReach reports whether a place in the user's own folder can't be looked
// at, as when that folder can't be made or entered. That must lock no stone: a
// journal beside it serves alone.
func (s *Session) outOfReach(place string) bool {
	_, err := s.options.disk.Lstat(place)
	if err != nil && !errors.Is(err, fs.ErrNotExist) && !errors.Is(err, syscall.ENOTDIR) {
		s.warnings = append(s.warnings, planner.Warning{Place: "journal",
			What: planner.Visible(filepath.Dir(place)) + " can't be read (" + cause(err) +
				"): unsaved edits that may be there are not offered"})
	}
	return err != nil
}

// setAside keeps a journal that can't be read under another name, out of the
// way of a new one. Where that fails the stone may only be looked at.
func (s *Session) setAside(place string, why error) {
	aside := place + damagedSuffix
	err := s.options.disk.Rename(place, aside)
	switch {
	case errors.Is(err, fs.ErrNotExist):
	case err != nil:
		s.readOnly = lookOnly(err)
	default:
		s.warnings = append(s.warnings, planner.Warning{Place: "journal",
			What: "unsaved edits could not be read (" + cause(why) + "): kept as " + planner.Visible(aside)})
	}
}

// Found returns the unsaved edits of an earlier time, or nil. While there are
// any, nothing is recorded or saved: Recover or Discard comes first. Comparing
// is looking at both stones: planner.Differences lists what is not alike.
func (s *Session) Found() *Recovery {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.found
}

// Recover takes the unsaved edits up: the stone to go on with is returned, and
// is in the journal of this session already.
func (s *Session) Recover() (planner.Stone, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.found == nil {
		return s.doc.Stone, nil
	}
	err := s.journal.record("Recover unsaved edits", s.found.text)
	if err != nil { // the old journal is still there
		return planner.Stone{}, &Fault{s.path, "unsaved edits not recovered", err}
	}
	for i, place := range s.journal.places {
		if i != s.journal.at {
			_ = s.options.disk.Remove(place)
		}
	}
	stone := s.found.Stone
	s.found = nil
	return stone, nil
}

// Discard throws the unsaved edits away for good.
func (s *Session) Discard() error {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.found == nil {
		return nil
	}
	if err := s.journal.remove(); err != nil {
		return &Fault{s.path, "unsaved edits not discarded", err}
	}
	s.found = nil
	return nil
}
