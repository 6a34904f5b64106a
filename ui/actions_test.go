package ui

import (
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/require"

	"cabwright/ui/keys"
)

// states are rows of keys that bring the workbench into each of its modes.
var states = [][]string{
	nil, {"<tab>"}, {"o"}, {"o", "<enter>"}, {"2"}, {"2", "<tab>"}, {"2", "<tab>", "."}, {"2", "c"}, {"2", "p", "<enter>"},
	{"3"}, {"3", "n"}, {"3", "b"}, {"3", "c"}, {"3", "r"}, {"3", "T"}, {"4"}, {"5"}, {"5", "a"}, {"6"}, {"7"},
}

// In no mode do two actions share a key, and every action can be told by its name,
// has a line of help, and either does something or says why not.
func TestKeysAreUniqueAndActionsExplained(t *testing.T) {
	for _, state := range states {
		m := settled(t, "nodule.stone", 80, 24)
		press(t, m, state...)
		by, names := map[string]string{}, map[string]bool{}
		for _, a := range m.actions() {
			for _, k := range a.Keys {
				require.Empty(t, by[k], "after %v, %s is the key of %s too", state, k, a.Name)
				by[k] = a.Name
				require.False(t, strings.HasPrefix(k, "alt+"), "%s: a chord that only some terminals send", k)
			}
			require.NotEmpty(t, a.Keys, a.Name)
			require.NotEmpty(t, a.Help, a.Name)
			require.False(t, names[a.Name], "after %v there are two actions called %s", state, a.Name)
			names[a.Name] = true
			require.NotNil(t, a.Run, a.Name)
		}
	}
}

// Whatever can be done anywhere is in the list, is found by its name, and runs
// from there or says why it can't.
func TestEveryActionRunsFromTheList(t *testing.T) {
	for _, state := range [][]string{{"2", "c"}, {"2", "<tab>", "."}, {"3"}} {
		m := settled(t, "slab.stone", 80, 24)
		press(t, m, state...)
		for i := range m.everything() {
			m := settled(t, "slab.stone", 80, 24)
			press(t, m, state...)
			a := m.everything()[i]
			if a.Name == "All actions" {
				continue
			}
			press(t, m, "?")
			press(t, m, strings.Split(a.Name, "")...)
			a = m.everything()[i] // what can be done may have changed meanwhile
			found := keys.Search(m.everything(), a.Name)
			at := indexOf(found, a)
			require.GreaterOrEqual(t, at, 0, "%s is not found by its name", a.Name)
			for range at {
				press(t, m, "<down>")
			}
			m.Update(tea.KeyMsg{Type: tea.KeyEnter})
			require.Nil(t, m.fault, "%s: %v", a.Name, m.fault)
			if a.Disabled != "" {
				require.NotNil(t, m.finder, "the list stays after what can't be done: %s, %s", a.Name, a.Disabled)
				require.Contains(t, m.s.Status().Text, a.Disabled)
			} else {
				require.Nil(t, m.finder)
			}
			frameOf(t, m)
		}
	}
}

func indexOf(actions []keys.Action, a keys.Action) int {
	for i, b := range actions {
		if b.Name == a.Name {
			return i
		}
	}
	return -1
}
