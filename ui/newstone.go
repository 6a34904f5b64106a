package ui

import (
	"errors"
	"fmt"
	"path/filepath"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"cabwright/geometry"
	"cabwright/planner"
	"cabwright/planner/stonefile"
	"cabwright/ui/widget"
)

// askNewStone asks for the file of a stone of its own, as the other piece of a cut.
// It goes beside the one at hand, and never over a file.
func (m *Model) askNewStone(stone planner.Stone) {
	e := planner.Extent(stone.Outline)
	path := filepath.Join(filepath.Dir(m.keeper.path), stonefile.FileName(stone.Name, ".stone"))
	set := m.s.Presets
	m.s.Ask(&widget.Form{
		Title: "Keep the other piece as a stone of its own",
		Notes: []string{
			fmt.Sprintf(
				"%s: %.1f x %.1f mm, %.0f mm2 in plan.", planner.Visible(stone.Name), e.Length, e.Width,
				geometry.Area(stone.Outline),
			),
			"Weigh it and go over its marks when you open it. Esc leaves it out.",
		},
		Fields: []*widget.Field{(&widget.Field{Label: "File", Kind: widget.Words, MaxLen: 1000}).With(path)},
		Done: func(f *widget.Form) error {
			path := f.Text(0)
			if path == "" {
				return widget.Wrong{Field: 0, Err: errors.New("type a file name, like offcut.stone")}
			}
			if !strings.HasSuffix(path, ".stone") {
				path += ".stone"
			}
			m.after = func() tea.Msg {
				return copiedMsg{path: path, err: stonefile.Create(path, stone, false, stonefile.Options{Set: set})}
			}
			return nil
		},
	})
}
