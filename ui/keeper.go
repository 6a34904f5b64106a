package ui

import (
	"errors"
	"fmt"
	"path/filepath"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"cabwright/planner"
	"cabwright/planner/stonefile"
	"cabwright/ui/style"
	"cabwright/ui/view"
)

// Store keeps one stone's file and the journal of edits beside it; a
// stonefile.Session is one. Edits and saves carry the number of the change they
// belong to, so that the order in which they arrive does not matter.
type Store interface {
	Path() string
	New() bool
	ReadOnly() error
	Record(change uint64, edit string, stone planner.Stone) error
	Save(change uint64, stone planner.Stone) error
	SaveOver(change uint64, stone planner.Stone) error
	SaveAs(path string, change uint64, stone planner.Stone, over bool) error
	Found() *stonefile.Recovery
	Recover() (planner.Stone, error)
	Discard() error
	Close() error
}

// keeper hands the work to the store, off the event loop. It remembers what the
// screen shows of the store, which may be busy with a slow disk.
type keeper struct {
	store    Store
	path     string
	isNew    bool  // there is no file yet
	readOnly error // why the file can't be written here
	failing  error // why the journal could not be written

	noted uint64 // the latest change that is in the journal or the file
}

func newKeeper(store Store) *keeper {
	return &keeper{store: store, path: store.Path(), isNew: store.New(), readOnly: store.ReadOnly()}
}

// keptMsg says what came of an edit's way into the journal or of a save.
type keptMsg struct {
	save     bool          // it was a save
	change   uint64        // the number of the change that was written
	stone    planner.Stone // the one that was saved
	path     string        // where to, when it was to another file
	leave    bool          // leave when it went well
	err      error
	readOnly error
}

// note writes the stone into the journal.
func (k *keeper) note(s *view.State) tea.Cmd {
	if k.readOnly != nil {
		return nil
	}
	edit, _ := s.History().Next()
	change, stone := s.History().Changes(), s.Stone()
	return func() tea.Msg { return keptMsg{change: change, err: k.store.Record(change, edit, stone)} }
}

// how says how to save.
type how struct {
	path  string // another file; "" for the stone's own
	over  bool   // over what is there
	leave bool   // and leave then
}

// save writes the stone to its file or to another one.
func (k *keeper) save(s *view.State, h how) tea.Cmd {
	change, stone := s.History().Changes(), s.Stone()
	return func() tea.Msg {
		msg := keptMsg{save: true, change: change, stone: stone, path: h.path, leave: h.leave}
		switch {
		case h.path != "":
			msg.err = k.store.SaveAs(h.path, change, stone, h.over)
		case h.over:
			msg.err = k.store.SaveOver(change, stone)
		default:
			msg.err = k.store.Save(change, stone)
		}
		msg.readOnly = k.store.ReadOnly()
		return msg
	}
}

// close makes sure that the last edit is in the journal and lets the file go. It
// returns what the user should be told after the screen is gone, or "".
func (k *keeper) close(s *view.State) string {
	var err error
	dirty := s.History().Dirty()
	// An undo back to what is saved counts too: else the edit would be offered.
	if k.readOnly == nil && k.pending(s) {
		edit, _ := s.History().Next()
		err = k.store.Record(s.History().Changes(), edit, s.Stone())
	}
	err = errors.Join(err, k.store.Close())
	switch {
	case !dirty:
		return ""
	case k.readOnly != nil:
		return fmt.Sprintf("%s was open read only: the edits made here are not kept.\n", planner.Visible(k.path))
	case err != nil:
		return fmt.Sprintf("The last edits could not be kept: %s\n", planner.Visible(err.Error()))
	}
	return fmt.Sprintf(
		"%s: the edits since the last save are kept beside it; opening it again offers them.\n",
		planner.Visible(k.path),
	)
}

// pending reports whether the latest change is on its way to the journal: a kill
// would lose it.
func (k *keeper) pending(s *view.State) bool { return s.History().Changes() > k.noted }

// state says on the title line how the stone is kept.
func (k *keeper) state(s *view.State) (string, style.Role) {
	switch {
	case k.readOnly != nil:
		return "read only", style.Warn
	case k.failing != nil:
		return "NOT KEPT", style.Bad
	case s.History().Dirty() && k.pending(s):
		return "not kept yet", style.Warn
	case s.History().Dirty():
		return "not saved", style.Warn
	case k.isNew:
		return "new", style.Faint
	}
	return "saved", style.Good
}

// whyNotSave says why saving can't be done now.
func (k *keeper) whyNotSave(s *view.State) string {
	switch {
	case k.readOnly != nil:
		return k.readOnly.Error() + " (S)"
	case !s.History().Dirty():
		return "all is saved"
	}
	return ""
}

// brief is an error in which the stone's file goes by its name alone: the whole
// path would push what matters off the line. Readings go by their names.
func (k *keeper) brief(err error) string {
	text := strings.ReplaceAll(err.Error(), planner.Visible(k.path), planner.Visible(filepath.Base(k.path)))
	return view.ReadingNames(text)
}

// inTheWay says what a save would replace that should not go unasked, and how the
// answer that replaces it is worded; "" when there is no such thing.
func inTheWay(err error) (title, way string) {
	guarded := errors.Is(err, stonefile.ErrProtected)
	switch {
	case errors.Is(err, stonefile.ErrExists) && guarded:
		return "There is such a file already, and it is write-protected", "replace it"
	case errors.Is(err, stonefile.ErrExists):
		return "There is such a file already", "replace it"
	case errors.Is(err, stonefile.ErrChanged) && guarded:
		return "The file is write-protected, and another program changed it since it was read", "save over it"
	case errors.Is(err, stonefile.ErrChanged):
		return "The file was changed by another program since it was read", "save over it"
	case guarded:
		return "The file is write-protected", "save over it"
	}
	return "", ""
}

// kept takes what came of a journal entry or a save.
func (m *Model) kept(msg keptMsg) tea.Cmd {
	k := m.keeper
	if msg.err == nil {
		k.noted = max(k.noted, msg.change)
	}
	if !msg.save {
		if msg.err == nil || msg.change >= k.noted { // what is older no longer matters
			k.failing = msg.err
		}
		if k.failing != nil {
			m.s.Say(style.Bad, "%s", k.brief(k.failing))
		}
		return nil
	}
	if title, way := inTheWay(msg.err); title != "" {
		m.askOver(title, way, how{path: msg.path, over: true, leave: msg.leave})
		return nil
	}
	if msg.err != nil {
		m.s.Say(style.Bad, "%s", k.brief(msg.err))
		return nil
	}
	if msg.path != "" {
		k.path = msg.path
	}
	k.failing, k.readOnly, k.isNew = nil, msg.readOnly, false
	m.s.History().Saved(msg.stone)
	m.s.Say(style.Good, "Saved to %s.", k.path)
	if msg.leave {
		return m.leave()
	}
	return m.readFolder()
}
