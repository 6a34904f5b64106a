package ui

import (
	tea "github.com/charmbracelet/bubbletea"

	"cabwright/ui/keys"
	"cabwright/ui/view"
	"cabwright/ui/widget"
)

// openFinder opens the list of all actions.
func (m *Model) openFinder() { m.finder = widget.NewFinder(m.everything) }

// finderDid takes what a key or a click in the finder chose.
func (m *Model) finderDid(chosen *keys.Action, closed bool) tea.Cmd {
	if closed {
		m.finder = nil
	}
	if chosen == nil {
		return nil
	}
	return m.run(*chosen, true)
}

// mouseInFinder takes what the mouse did at a row of the finder.
func (m *Model) mouseInFinder(kind view.MouseKind, row int) tea.Cmd {
	switch kind {
	case view.WheelUp:
		m.finder.Move(-1)
	case view.WheelDown:
		m.finder.Move(1)
	case view.Cancel:
		m.finder = nil
	case view.Press:
		return m.finderDid(m.finder.Click(row))
	}
	return nil
}
