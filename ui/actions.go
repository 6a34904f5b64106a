package ui

import (
	"fmt"

	tea "github.com/charmbracelet/bubbletea"

	"cabwright/ui/canvas"
	"cabwright/ui/keys"
	"cabwright/ui/style"
)

// actions returns what can be done now: the open view's actions, then the
// workbench's own. Where both use a key, the view's counts.
func (m *Model) actions() []keys.Action {
	return append(m.ofView(m.at), m.own()...)
}

// ofView returns a view's actions. In the views of fits what is done keeps the
// chosen fit, so that a better one does not slide under the hand; those that the
// stone is drawn in show the best, whichever it is.
func (m *Model) ofView(i int) []keys.Action {
	out := m.views[i].Actions(m.s)
	if _, drawing := m.views[i].(pointing); drawing {
		return out
	}
	return m.s.KeepingChoice(out)
}

// everything returns what the list of all actions holds: what can be done now,
// and what can be done in the other views, which opens them.
func (m *Model) everything() []keys.Action {
	out := m.actions()
	known := map[string]bool{}
	for _, a := range out {
		known[a.Name] = true
	}
	for i := range m.views {
		if i == m.at {
			continue
		}
		for _, a := range m.ofView(i) {
			if known[a.Name] {
				continue
			}
			there := a
			there.Keys = nil
			if len(a.Keys) > 0 {
				there.Keys = []string{fmt.Sprintf("%d %s", i+1, keys.Label(a.Keys[0]))}
			}
			there.Run = func() tea.Cmd {
				m.open(i)
				return a.Run()
			}
			out = append(out, there)
		}
	}
	return out
}

// own returns the actions that hold in every view.
func (m *Model) own() []keys.Action {
	out := append(m.stoneActions(), m.copyActions()...)
	for i, v := range m.views {
		out = append(out, keys.Action{
			Name:     "View: " + v.Name(),
			Keys:     []string{fmt.Sprint(i + 1)},
			Help:     "open this view",
			Disabled: keys.Unless(i != m.at, "this view is open"),
			Run:      keys.Do(func() { m.open(i) }),
		})
	}
	return append(out, m.screenActions()...)
}

// stoneActions are about the stone as a whole.
func (m *Model) stoneActions() []keys.Action {
	undo, redo := m.s.History().Next()
	return []keys.Action{
		{
			Name:     "Save",
			Keys:     []string{"ctrl+s"},
			Short:    "save",
			Help:     "write the stone to its file",
			Disabled: m.keeper.whyNotSave(m.s),
			Run:      m.save,
		},
		{
			Name:  "Save a copy as",
			Keys:  []string{"S"},
			Help:  "write the stone to another file and go on with that one",
			Words: "rename file",
			Run:   keys.Do(m.askSaveAs),
		},
		{
			Name:     named("Undo", undo),
			Keys:     []string{"u"},
			Short:    "undo",
			Help:     "take the latest edit back",
			Disabled: keys.Unless(undo != "", "nothing has been done yet"),
			Run:      keys.Do(m.s.Undo),
		},
		{
			Name:     named("Redo", redo),
			Keys:     []string{"U"},
			Short:    "redo",
			Help:     "make the edit again that was undone last",
			Disabled: keys.Unless(redo != "", "nothing was undone"),
			Run:      keys.Do(m.s.Redo),
		},
		{
			Name:  "Stone's details",
			Keys:  []string{"i"},
			Help:  "name, material, specific gravity, weight on the scale, allowances",
			Words: "settings options info sg carat skin",
			Run:   keys.Do(m.askDetails),
		},
	}
}

// screenActions are about the workbench itself.
func (m *Model) screenActions() []keys.Action {
	return []keys.Action{
		{
			Name:       "All actions",
			Keys:       []string{"?", "f1", "ctrl+p"},
			Help:       "find any action by its name or what it is for, and do it",
			Words:      "help keys commands menu search",
			ScreenOnly: true,
			Run:        keys.Do(m.openFinder),
		},
		{
			Name:  "Save a picture",
			Keys:  []string{"s"},
			Help:  "of the screen or the drawing, as SVG and PNG, for a listing or the diary",
			Words: "export image screenshot svg png photo",
			Run:   keys.Do(m.askPicture),
		},
		{
			Name:       "Signs and colours",
			Keys:       []string{"E"},
			Help:       "a legend of the drawing; again to put it away",
			Words:      "legend key explain symbols",
			ScreenOnly: true,
			Run:        keys.Do(func() { m.legend = !m.legend }),
		},
		{
			Name:       "Leave the mouse to the terminal",
			Keys:       []string{"m"},
			Help:       "to mark and copy text with it; m takes it back",
			Words:      "select paste",
			ScreenOnly: true,
			Run:        m.toggleMouse,
		},
		{
			Name:       "Draw with other dots",
			Keys:       []string{"D"},
			Help:       "braille, half blocks or plain ASCII, for fonts that lack the finer ones",
			Words:      "font characters",
			ScreenOnly: true,
			Run:        keys.Do(m.nextGlyphs),
		},
		{
			Name:       "Colours for another ground",
			Keys:       []string{"B"},
			Help:       "colours for any ground, a dark one or a light one",
			Words:      "theme dark light background",
			ScreenOnly: true,
			Run:        keys.Do(m.nextGround),
		},
		{
			Name:       "Suspend",
			Keys:       []string{"ctrl+z"},
			Help:       "back to the shell for a while; fg returns",
			ScreenOnly: true,
			Run:        func() tea.Cmd { return tea.Suspend },
		},
		{
			Name:  "Leave",
			Keys:  []string{"q", "ctrl+c"},
			Help:  "end the program; edits not saved are kept beside the file",
			Words: "quit exit close end",
			Run:   m.askLeave,
		},
	}
}

// named puts the edit's name beside undo and redo.
func named(word, edit string) string {
	if edit == "" {
		return word
	}
	return word + ": " + edit
}

func (m *Model) toggleMouse() tea.Cmd {
	m.mouse = !m.mouse
	if m.mouse {
		m.s.Say(style.Text, "The mouse is the workbench's again.")
		return tea.EnableMouseCellMotion
	}
	m.s.Say(style.Text, "The mouse is the terminal's: mark and copy; m takes it back.")
	return tea.DisableMouse
}

// drawnIn are what a drawing can be made of, in the order a key goes through them.
var drawnIn = []struct {
	mode canvas.Mode
	name string
}{
	{canvas.Braille, "braille dots"},
	{canvas.HalfBlock, "half blocks"},
	{canvas.ASCII, "plain ASCII"},
}

func (m *Model) nextGlyphs() {
	for i, d := range drawnIn {
		if d.mode == m.s.Glyphs {
			next := drawnIn[(i+1)%len(drawnIn)]
			m.s.Glyphs = next.mode
			m.s.Say(style.Text, "Drawing in %s.", next.name)
			return
		}
	}
}

func (m *Model) nextGround() {
	m.ground = (m.ground + 1) % 3
	m.s.Style = style.New(m.colours, m.ground)
	m.s.Say(style.Text, "Colours for %s.", [...]string{"any ground", "a dark ground", "a light ground"}[m.ground])
	if m.colours == style.NoColour {
		m.s.Say(style.Text, "No colours: NO_COLOR is set or the terminal has none.")
	}
}
