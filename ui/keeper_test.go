package ui

import (
	"errors"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/require"

	"cabwright/planner"
	"cabwright/planner/stonefile"
)

// failingStore is a store whose answers a test chooses; it notes what it is given.
type failingStore struct {
	memoryStore
	recording error // what Record answers
	saving    error // and Save
	recorded  []string
	saved     []string
	over      int
	closed    bool
}

func (s *failingStore) Record(_ uint64, _ string, stone planner.Stone) error {
	if s.recording == nil {
		s.recorded = append(s.recorded, stone.Name)
	}
	return s.recording
}

func (s *failingStore) Save(_ uint64, stone planner.Stone) error {
	if s.saving == nil {
		s.saved = append(s.saved, stone.Name)
	}
	return s.saving
}

func (s *failingStore) SaveOver(change uint64, stone planner.Stone) error {
	s.over++
	s.saving = nil
	return s.Save(change, stone)
}

func (s *failingStore) Close() error { s.closed = true; return nil }

// keeping is a workbench of such a store.
func keeping(t *testing.T) (*Model, *failingStore) {
	t.Helper()
	m, store := settled(t, "nodule.stone", 80, 24), &failingStore{memoryStore: memoryStore{path: "nodule.stone"}}
	m.keeper = newKeeper(store)
	return m, store
}

// rename edits the stone and returns what the workbench has to do for that.
func rename(t *testing.T, m *Model, name string) tea.Cmd {
	t.Helper()
	require.NoError(t, m.s.Do("Rename", func(s planner.Stone) (planner.Stone, error) { s.Name = name; return s, nil }))
	return m.follow()
}

// finish does what a command is for and hands over what became of the journal
// and the file.
func finish(m *Model, cmd tea.Cmd) {
	if cmd == nil {
		return
	}
	switch msg := cmd().(type) {
	case tea.BatchMsg:
		for _, c := range msg {
			finish(m, c)
		}
	case keptMsg:
		_, next := m.Update(msg)
		finish(m, next)
	}
}

func titleOf(m *Model) string { return strings.SplitN(m.View(), "\n", 2)[0] }

func TestAnEditIsNotKeptYetUntilItIsInTheJournal(t *testing.T) {
	m, store := keeping(t)
	require.Contains(t, titleOf(m), "saved")
	first := rename(t, m, "one")
	require.Contains(t, titleOf(m), "not kept yet")
	second := rename(t, m, "two")
	finish(m, first)
	require.Contains(t, titleOf(m), "not kept yet", "only the edit before it is kept")
	finish(m, second)
	require.Contains(t, titleOf(m), "not saved")
	require.Equal(t, []string{"one", "two"}, store.recorded)
}

func TestAnEditThatIsNotKeptSaysSo(t *testing.T) {
	m, store := keeping(t)
	store.recording = &stonefile.Fault{Path: "nodule.stone", What: "the edit is not in the journal yet",
		Err: errors.New("no space left")}
	finish(m, rename(t, m, "one"))
	require.Contains(t, titleOf(m), "NOT KEPT")
	require.Equal(t, "nodule.stone: the edit is not in the journal yet: no space left", m.s.Status().Text)
	store.recording = nil
	finish(m, rename(t, m, "two"))
	require.NotContains(t, titleOf(m), "NOT KEPT")
	require.Contains(t, titleOf(m), "not saved")
	// What went wrong with an older edit no longer matters.
	m.Update(keptMsg{change: 1, err: errors.New("late")})
	require.Contains(t, titleOf(m), "not saved")
}

// What is edited while a save is under way is not in the file.
func TestAnEditDuringASaveIsNotSaved(t *testing.T) {
	m, store := keeping(t)
	finish(m, rename(t, m, "first"))
	saving := m.save()
	finish(m, rename(t, m, "second"))
	finish(m, saving)
	require.Equal(t, []string{"first"}, store.saved)
	require.Contains(t, titleOf(m), "not saved")
	require.True(t, m.s.History().Dirty())
	finish(m, m.save())
	require.Equal(t, []string{"first", "second"}, store.saved)
	require.NotContains(t, titleOf(m), "not saved")
	require.Contains(t, titleOf(m), "saved")
}

// Leaving keeps the last edit though its way into the journal has not come to an
// end, and says what became of it.
func TestLeavingKeepsTheLastEdit(t *testing.T) {
	m, store := keeping(t)
	rename(t, m, "last")
	said := m.keeper.close(m.s)
	require.Equal(t, []string{"last"}, store.recorded)
	require.True(t, store.closed)
	require.Contains(t, said, "the edits since the last save are kept beside it")

	m, store = keeping(t)
	store.recording = errors.New("no space left")
	rename(t, m, "last")
	require.Contains(t, m.keeper.close(m.s), "The last edits could not be kept: no space left")

	// Undone to what is saved, the edit that is in the journal is not to be offered.
	m, store = keeping(t)
	name := m.s.Stone().Name
	finish(m, rename(t, m, "undone"))
	_, err := m.s.History().Undo()
	require.NoError(t, err)
	require.Empty(t, m.keeper.close(m.s))
	require.Equal(t, []string{"undone", name}, store.recorded)
}

// What stands in the way of a save is asked about, all of it, and then passed.
func TestWhatIsInTheWayOfASaveIsAskedAbout(t *testing.T) {
	for title, err := range map[string]error{
		"The file is write-protected":                             stonefile.ErrProtected,
		"The file was changed by another program since it was":    stonefile.ErrChanged,
		"The file is write-protected, and another program change": errors.Join(stonefile.ErrProtected, stonefile.ErrChanged),
	} {
		m, store := keeping(t)
		store.saving = &stonefile.Fault{Path: "nodule.stone", What: "not saved", Err: err}
		finish(m, rename(t, m, "mine"))
		finish(m, m.save())
		require.Contains(t, m.View(), title)
		require.Empty(t, store.saved)
		require.Zero(t, store.over)
		m.Update(tea.KeyMsg{Type: tea.KeyRight})
		_, cmd := m.Update(tea.KeyMsg{Type: tea.KeyEnter})
		finish(m, cmd)
		require.Equal(t, 1, store.over, title)
		require.Equal(t, []string{"mine"}, store.saved)
		require.Contains(t, m.View(), "Saved to")
	}
}
