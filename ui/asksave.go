package ui

import (
	"errors"
	"fmt"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"cabwright/planner"
	"cabwright/planner/stonefile"
	"cabwright/ui/style"
	"cabwright/ui/widget"
)

func (m *Model) save() tea.Cmd { return m.keeper.save(m.s, how{}) }

// leave ends the program; what is not saved is in the journal.
func (m *Model) leave() tea.Cmd {
	m.search.stop()
	return tea.Quit
}

// choose asks for one of a few ways; the field's label stands before them.
func (m *Model) choose(title, label string, notes []string, required bool, ways []string, done func(i int) error) {
	m.s.Ask(&widget.Form{
		Title: title, Notes: notes, Required: required,
		Fields: []*widget.Field{(&widget.Field{Label: label, Kind: widget.Choose, Choices: ways}).With(ways[0])},
		Done:   func(f *widget.Form) error { return done(f.Choice(0)) },
	})
}

// askLeave leaves at once when all is saved, and asks otherwise.
func (m *Model) askLeave() tea.Cmd {
	switch {
	case !m.s.History().Dirty():
		return m.leave()
	case m.keeper.readOnly != nil:
		ways := []string{"save under another name", "leave, the edits are lost", "stay"}
		title := "The file is open read only: the edits are kept nowhere"
		m.choose(title, "Before leaving", nil, false, ways, func(i int) error {
			switch i {
			case 0:
				m.askSaveAs()
			case 1:
				m.after = m.leave()
			}
			return nil
		})
		return nil
	}
	ways := []string{"save and leave", "leave, keep the edits beside the file", "stay"}
	m.choose("There are edits not saved", "Before leaving", nil, false, ways, func(i int) error {
		switch i {
		case 0:
			m.after = m.keeper.save(m.s, how{leave: true})
		case 1:
			m.after = m.leave()
		}
		return nil
	})
	return nil
}

// askOver asks whether what is in the way may be written over.
func (m *Model) askOver(title, way string, h how) {
	ways := []string{"save under another name", way, "go on editing"}
	m.choose(title, "Not saved yet", nil, false, ways, func(i int) error {
		switch i {
		case 0:
			m.askSaveAs()
		case 1:
			m.after = m.keeper.save(m.s, h)
		}
		return nil
	})
}

// askSaveAs asks for another file.
func (m *Model) askSaveAs() {
	m.s.Ask(&widget.Form{
		Title:  "Save under another name, and go on with that file",
		Fields: []*widget.Field{(&widget.Field{Label: "File", Kind: widget.Words, MaxLen: 1000}).With(m.keeper.path)},
		Done: func(f *widget.Form) error {
			path := f.Text(0)
			if path == "" {
				return widget.Wrong{Field: 0, Err: errors.New("type a file name, like nodule.stone")}
			}
			if !strings.HasSuffix(path, ".stone") {
				path += ".stone"
			}
			m.after = m.keeper.save(m.s, how{path: path})
			return nil
		},
	})
}

// noteLines is how many lines a question may be preceded by: what is compared
// must leave room for the question on 18 lines.
const noteLines = 8

// askRecover asks what to do with the edits of an earlier session that ended
// before they were saved.
func (m *Model) askRecover(found *stonefile.Recovery, notes []string) {
	title := fmt.Sprintf("Edits from a session that ended before saving: %d", found.Edits)
	if len(found.Names) > 0 {
		title += fmt.Sprintf(", the last \"%s\"", found.Names[len(found.Names)-1])
	}
	if found.FileChanged {
		notes = append([]string{"The file has been changed since those edits were made."}, notes...)
	}
	if len(notes) > noteLines {
		notes = append(notes[:noteLines-1:noteLines-1], fmt.Sprintf("and %d differences more", len(notes)-noteLines+1))
	}
	ways := []string{"recover them", "compare them with the file", "discard them"}
	m.choose(title, "What to do with them", notes, true, ways, func(i int) error {
		switch i {
		case 0:
			m.after = func() tea.Msg {
				stone, err := m.keeper.store.Recover()
				return settledMsg{stone: &stone, err: err}
			}
			return nil
		case 1:
			m.askRecover(found, planner.Differences(m.s.Stone(), found.Stone))
			return nil
		}
		m.after = func() tea.Msg { return settledMsg{err: m.keeper.store.Discard()} }
		return nil
	})
}

// settledMsg says what came of an earlier session's edits: the stone with them,
// nil when they were discarded, or why neither could be done.
type settledMsg struct {
	stone *planner.Stone
	err   error
}

// settled takes the answer about an earlier session's edits.
func (m *Model) settled(msg settledMsg) {
	switch {
	case msg.err != nil:
		m.s.Say(style.Bad, "%v", msg.err)
	case msg.stone == nil:
		m.s.Say(style.Text, "Discarded: the stone is as it was saved.")
	default:
		recovered := func(planner.Stone) (planner.Stone, error) { return *msg.stone, nil }
		if err := m.s.Do("Recover unsaved edits", recovered); err != nil {
			m.s.Say(style.Bad, "%v", err)
		}
	}
}
