package keys

import (
	"slices"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"
)

// Action is one thing a user can do. Actions are built for the present state
// each time they are asked for.
type Action struct {
	Name       string         // what it is called in the list and in messages: "Add a corner"
	Keys       []string       // as the terminal library names them; the first one is shown
	Short      string         // its word on the bottom line; empty keeps it to the list
	Help       string         // one line for the list
	Words      string         // other words a user may look for it by
	ScreenOnly bool           // it changes only how the screen looks or is worked
	Disabled   string         // why it can't be done now; empty when it can
	Run        func() tea.Cmd // does it; only called when Disabled is empty
}

// Binding returns the action's keys with what the bottom line says of them.
func (a Action) Binding() key.Binding {
	if len(a.Keys) == 0 {
		return key.NewBinding(key.WithDisabled())
	}
	b := key.NewBinding(key.WithKeys(a.Keys...), key.WithHelp(Label(a.Keys[0]), a.Short))
	b.SetEnabled(a.Disabled == "")
	return b
}

// Do makes an action's Run of a function that has no command to give.
func Do(f func()) func() tea.Cmd {
	return func() tea.Cmd {
		f()
		return nil
	}
}

// Unless returns nothing when an action can be done, and why not otherwise: what
// an action's Disabled holds.
func Unless(can bool, why string) string {
	if can {
		return ""
	}
	return why
}

// Find returns the action bound to a key, also one that can't be done now, which
// the library's own matching passes by: pressing its key has to say why.
func Find(actions []Action, key string) (Action, bool) {
	for _, a := range actions {
		if slices.Contains(a.Keys, key) {
			return a, true
		}
	}
	return Action{}, false
}
