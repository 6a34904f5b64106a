package ui

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"
	"github.com/stretchr/testify/require"

	"cabwright/planner"
	"cabwright/planner/stonefile"
	"cabwright/presets"
	"cabwright/ui/canvas"
	"cabwright/ui/diaryview"
	"cabwright/ui/view"
	"cabwright/ui/worthview"
)

var update = flag.Bool("update", false, "write the golden frames anew")

// settled returns the workbench on a demo stone of so many cells, its search
// done and its solid made, without a terminal. Colours are off, so that frames
// are plain text.
func settled(t testing.TB, name string, cols, rows int) *Model {
	t.Helper()
	doc, err := stonefile.Read(filepath.Join("..", "testdata", "stones", name), presets.Builtin())
	require.NoError(t, err)
	env := map[string]string{"TERM": "xterm", "NO_COLOR": "1"}
	cfg := Config{Getenv: func(k string) string { return env[k] }, Presets: presets.Builtin(), Search: fakeSearch}
	m := newWorkbench(cfg, doc.Stone, &memoryStore{path: name})
	for i, v := range m.views {
		switch v := v.(type) {
		case *diaryview.View:
			v.Today = func() time.Time { return time.Date(2026, 5, 1, 12, 0, 0, 0, time.UTC) }
			m.views[i] = prompt{v}
		case *worthview.View:
			m.views[i] = prompt{v}
		}
	}
	m.Update(tea.WindowSizeMsg{Width: cols, Height: rows})
	settle(t, m)
	return m
}

// prompt is a view that has worked out what it follows by the time it is drawn: a
// test does not run the commands of an Update.
type prompt struct{ view.View }

func (p prompt) Follow(s *view.State) tea.Cmd {
	f, ok := p.View.(view.Follower)
	if !ok {
		return nil
	}
	for cmd := f.Follow(s); cmd != nil; cmd = f.Follow(s) {
		p.Update(s, cmd())
	}
	return nil
}

// settle does at once what the workbench's commands would do in time.
func settle(t testing.TB, m *Model) {
	t.Helper()
	m.follow()
	s := m.s
	m.keeper.noted = s.History().Changes()
	if err := unfinished(s.Stone()); err != nil {
		s.RoughErr = err
		return
	}
	body := makeBody(nil, s.Stone(), s.Presets, s.Revision())().(bodyMsg)
	m.Update(body)
	m.Update(planMsg{run: m.search.run, plan: fakePlan(s.Stone()), last: true})
}

// press types keys into a workbench without a terminal, and does what each asks
// for but the search.
func press(t testing.TB, m *Model, keys ...string) {
	t.Helper()
	types := map[string]tea.KeyType{"<enter>": tea.KeyEnter, "<esc>": tea.KeyEsc, "<tab>": tea.KeyTab, "<up>": tea.KeyUp,
		"<down>": tea.KeyDown, "<left>": tea.KeyLeft, "<right>": tea.KeyRight, "<back>": tea.KeyBackspace,
		"<ctrl+s>": tea.KeyCtrlS, "<home>": tea.KeyHome,
		"<pgdown>": tea.KeyPgDown}
	for _, k := range keys {
		if kind, ok := types[k]; ok {
			m.Update(tea.KeyMsg{Type: kind})
			continue
		}
		m.Update(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(k)})
	}
	require.Nil(t, m.fault)
}

// frameOf returns the screen as text and checks its measure: exactly the
// terminal's lines, none wider than it is.
func frameOf(t require.TestingT, m *Model) string {
	lines := strings.Split(m.View(), "\n")
	require.Nil(t, m.fault)
	require.Len(t, lines, m.height)
	for _, l := range lines {
		require.LessOrEqual(t, ansi.StringWidth(l), m.width, "%q", l)
	}
	for i := range lines {
		lines[i] = strings.TrimRight(lines[i], " ")
	}
	return strings.Join(lines, "\n") + "\n"
}

// The views of the stone, the list of actions, forms and the screens of small
// terminals, as they were looked at and found good. The views of fits and of the
// section have frames of their own.
func TestGoldenFrames(t *testing.T) {
	for _, c := range []struct {
		name string
		keys []string
	}{
		{"outline", nil},
		{"outline-corner", []string{"<tab>", "<tab>", "<right>"}},
		{"outline-reading", []string{"t"}},
		{"marks", []string{"2"}},
		{"marks-crack", []string{"2", "<tab>", "."}},
		{"marks-change", []string{"2", "<tab>", "e"}},
		{"list", []string{"?", "c", "r", "a", "c", "k"}},
		{"details", []string{"i"}},
		{"worth", []string{"6"}},
		{"diary", []string{"7"}},
		{"diary-entry", []string{"7", "n"}},
	} {
		for _, size := range [][2]int{{80, 24}, {160, 50}} {
			t.Run(fmt.Sprintf("%s-%dx%d", c.name, size[0], size[1]), func(t *testing.T) {
				m := settled(t, "nodule.stone", size[0], size[1])
				press(t, m, c.keys...)
				settle(t, m)
				golden(t, frameOf(t, m))
			})
		}
	}
	for _, size := range [][2]int{{60, 18}, {45, 12}, {30, 8}, {29, 7}, {1, 1}} {
		t.Run(fmt.Sprintf("small-%dx%d", size[0], size[1]), func(t *testing.T) {
			golden(t, frameOf(t, settled(t, "nodule.stone", size[0], size[1])))
		})
	}
	t.Run("first-hint", func(t *testing.T) {
		cfg := Config{Getenv: func(string) string { return "" }, Presets: presets.Builtin()}
		m := newWorkbench(cfg, planner.Stone{}, &memoryStore{path: "new.stone", isNew: true})
		settle(t, m)
		golden(t, ansi.Strip(frameOf(t, m)))
	})
}

// Drawn in ASCII, no view shows a sign that an ASCII terminal lacks.
func TestASCIIFramesAreASCII(t *testing.T) {
	for _, size := range [][2]int{{80, 24}, {160, 50}, {45, 12}} {
		m := settled(t, "nodule.stone", size[0], size[1])
		m.s.Glyphs = canvas.ASCII
		for _, k := range []string{"<tab>", "2", "<tab>", ".", "e", "<esc>", "3", "b", "r", "n", "<esc>", "T", "4", "5", "a",
			"6", "c", "<esc>", "7", "n", "<esc>", "?", "<esc>", "i"} {
			press(t, m, k)
			for i, r := range frameOf(t, m) {
				require.Less(t, r, rune(0x80), "after %s, at %d: %q", k, i, r)
			}
		}
	}
}

// golden compares a frame with the one in testdata.
func golden(t *testing.T, frame string) {
	t.Helper()
	path := filepath.Join("testdata", "frames", filepath.Base(t.Name())+".txt")
	if *update {
		require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o755))
		require.NoError(t, os.WriteFile(path, []byte(frame), 0o644))
	}
	want, err := os.ReadFile(path)
	require.NoError(t, err)
	was, is := strings.Split(string(want), "\n"), strings.Split(frame, "\n")
	require.Len(t, is, len(was))
	for i := range was {
		require.Equal(t, was[i], is[i], "line %d; -update writes the frames anew", i+1)
	}
}
