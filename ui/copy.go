package ui

import (
	"errors"
	"io"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"

	"cabwright/planner/stonefile"
	"cabwright/ui/fits"
	"cabwright/ui/keys"
	"cabwright/ui/style"
	"cabwright/ui/widget"
)

// copiedMsg says what came of a copy or an export.
type copiedMsg struct {
	path string // "" for the clipboard
	err  error
}

// summary returns the chosen fit as text.
func (m *Model) summary() string { return fits.Summary(m.s.Stone(), m.s.Rough, *m.s.Chosen) }

// copyActions hand the chosen fit's summary on.
func (m *Model) copyActions() []keys.Action {
	why := keys.Unless(m.s.Chosen != nil, "no fit is chosen")
	return []keys.Action{
		{
			Name:       "Copy the fit's summary",
			Keys:       []string{"y"},
			Help:       "to the clipboard, where the terminal allows it",
			ScreenOnly: true,
			Disabled:   why,
			Run:        m.copySummary,
		},
		{
			Name:     "Write the fit's summary to a file",
			Keys:     []string{"Y"},
			Help:     "as a few lines of text",
			Words:    "print export",
			Disabled: why,
			Run:      keys.Do(m.askExport),
		},
	}
}

// copySummary puts the summary on the clipboard by the terminal's OSC 52 (xterm
// control sequences). One write of the whole sequence: the library writes whole
// frames, so that neither comes between the other.
func (m *Model) copySummary() tea.Cmd {
	text, out := m.summary(), m.cfg.Out
	return func() tea.Msg {
		_, err := io.WriteString(out, ansi.SetSystemClipboard(text))
		return copiedMsg{err: err}
	}
}

// askExport asks for a file to write the summary to. There must be none yet.
func (m *Model) askExport() {
	text := m.summary()
	m.s.Ask(&widget.Form{
		Title: "Write the fit's summary",
		Fields: []*widget.Field{
			(&widget.Field{Label: "File", Kind: widget.Words, MaxLen: 1000}).With(stonefile.FileName(m.s.Stone().Name, ".txt")),
		},
		Done: func(f *widget.Form) error {
			path := f.Text(0)
			if path == "" {
				return widget.Wrong{Field: 0, Err: errors.New("type a file name")}
			}
			m.after = func() tea.Msg { return copiedMsg{path: path, err: stonefile.Export(path, []byte(text), false)} }
			return nil
		},
	})
}

// copied says what came of it.
func (m *Model) copied(msg copiedMsg) {
	switch {
	case msg.err != nil:
		m.s.Say(style.Bad, "%v", msg.err)
	case msg.path != "":
		m.s.Say(style.Good, "Written to %s.", msg.path)
	default:
		m.s.Say(style.Good, "Copied to the terminal's clipboard; where that is refused, Y writes a file.")
	}
}
