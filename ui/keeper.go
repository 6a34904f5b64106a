package ui

import (
	"fmt"
	"sync"

	tea "github.com/charmbracelet/bubbletea"

	"cabwright/planner"
	"cabwright/ui/style"
	"cabwright/ui/view"
)

// Store keeps one stone's file and the journal of edits beside it. Its methods
// are called one at a time.
type Store interface {
	// Path is the file's name as it is shown.
	Path() string
	// WhyReadOnly says why the file can't be written here, "" when it can.
	WhyReadOnly() string
	// Note writes the stone as an edit left it into the journal.
	Note(edit string, stone planner.Stone) error
	// Save writes the stone to the file so that it survives a power cut.
	Save(stone planner.Stone) error
	// SaveAs does so under another name, which is the file's from then on.
	SaveAs(path string, stone planner.Stone) error
	// Close lets the file go; keep says that the journal holds edits still wanted.
	Close(keep bool) error
}

// keeper hands the work to the store, in order and off the event loop.
type keeper struct {
	store   Store
	mu      sync.Mutex // held while the store works
	queueMu sync.Mutex
	queue   []job
	failing error // why the journal could not be written
}

// job is one thing for the store to do.
type job struct {
	work func() error
	done keptMsg
}

// keptMsg says what came of a job.
type keptMsg struct {
	saved *planner.Stone // the stone that is in the file now; nil for a journal entry
	leave bool           // leave when it went well
	err   error
}

func (k *keeper) enqueue(j job) tea.Cmd {
	k.queueMu.Lock()
	k.queue = append(k.queue, j)
	k.queueMu.Unlock()
	return func() tea.Msg {
		msg, ok := k.next()
		if !ok {
			return nil // another command has done it already
		}
		return msg
	}
}

// next does the oldest job.
func (k *keeper) next() (keptMsg, bool) {
	k.mu.Lock()
	defer k.mu.Unlock()
	k.queueMu.Lock()
	if len(k.queue) == 0 {
		k.queueMu.Unlock()
		return keptMsg{}, false
	}
	j := k.queue[0]
	k.queue = k.queue[1:]
	k.queueMu.Unlock()
	j.done.err = j.work()
	return j.done, true
}

// note writes the stone into the journal.
func (k *keeper) note(s *view.State) tea.Cmd {
	if k.store.WhyReadOnly() != "" {
		return nil
	}
	edit, _ := s.History().Next()
	stone := s.Stone()
	return k.enqueue(job{work: func() error { return k.store.Note(edit, stone) }})
}

// save writes the stone to its file, or to another one when path is not empty.
func (k *keeper) save(s *view.State, path string, leave bool) tea.Cmd {
	stone := s.Stone()
	return k.enqueue(job{
		work: func() error {
			if path != "" {
				return k.store.SaveAs(path, stone)
			}
			return k.store.Save(stone)
		},
		done: keptMsg{saved: &stone, leave: leave},
	})
}

// close finishes what is queued and lets the file go. It returns what the user
// should be told after the screen is gone, or "".
func (k *keeper) close(s *view.State) string {
	for {
		msg, ok := k.next()
		if !ok {
			break
		}
		if msg.err == nil && msg.saved != nil {
			s.History().Saved(*msg.saved)
		}
	}
	dirty := s.History().Dirty()
	k.mu.Lock()
	defer k.mu.Unlock()
	if err := k.store.Close(dirty); err != nil && dirty {
		return fmt.Sprintf("The last edits could not be kept: %v\n", err)
	}
	if dirty && k.store.WhyReadOnly() == "" {
		return fmt.Sprintf("%s: the edits since the last save are kept beside it; opening it again offers them.\n", planner.Visible(k.store.Path()))
	}
	return ""
}

// state says on the title line how the stone is kept.
func (k *keeper) state(s *view.State) (string, style.Role) {
	switch {
	case k.store.WhyReadOnly() != "":
		return "read only", style.Warn
	case k.failing != nil:
		return "NOT KEPT", style.Bad
	case s.History().Dirty():
		return "not saved", style.Warn
	}
	return "saved", style.Good
}

// whyNotSave says why saving can't be done now.
func (k *keeper) whyNotSave(s *view.State) string {
	switch {
	case k.store.WhyReadOnly() != "":
		return k.store.WhyReadOnly()
	case !s.History().Dirty():
		return "it is saved"
	}
	return ""
}

// kept takes what came of a job.
func (m *Model) kept(msg keptMsg) tea.Cmd {
	switch {
	case msg.err != nil && msg.saved == nil:
		m.keeper.failing = msg.err
		m.s.Say(style.Bad, "Edits are not being kept: %v. S saves to another place.", msg.err)
	case msg.err != nil:
		m.s.Say(style.Bad, "Not saved: %v. S saves to another place.", msg.err)
	case msg.saved == nil:
		m.keeper.failing = nil
	default:
		m.keeper.failing = nil
		m.s.History().Saved(*msg.saved)
		m.s.Say(style.Good, "Saved to %s.", m.keeper.store.Path())
		if msg.leave {
			return tea.Quit
		}
	}
	return nil
}
