package ui

import (
	"path/filepath"

	tea "github.com/charmbracelet/bubbletea"

	"cabwright/ui/view"
)

// folderMsg brings what the stone's folder holds.
type folderMsg struct{ folder view.Folder }

// readFolder reads the folder that the stone's file lies in, or will; nothing for a
// workbench without a file.
func (m *Model) readFolder() tea.Cmd {
	path := m.keeper.path
	if m.cfg.Path == "" || path == "" {
		return nil
	}
	m.folders++
	number, set := m.folders, m.s.Presets
	return func() tea.Msg {
		return folderMsg{view.ReadFolder(filepath.Dir(path), filepath.Base(path), set, number)}
	}
}

// tookFolder takes the newest reading.
func (m *Model) tookFolder(msg folderMsg) {
	if msg.folder.Number > m.s.Folder.Number {
		m.s.Folder = msg.folder
	}
}
