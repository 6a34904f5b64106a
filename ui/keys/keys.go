// Package keys holds what a user can do as data: each action has a name, keys,
// a line of help and what it does. The list of all actions and the bottom line
// are made from it, so neither can say what the program does not do.
package keys

import (
	"strings"
	"unicode/utf8"

	tea "github.com/charmbracelet/bubbletea"
)

// Action is one thing a user can do. Actions are built for the present state
// each time they are asked for.
type Action struct {
	Name  string         // what it is called in the list and in messages: "Add a corner"
	Keys  []string       // as the terminal library names them; the first one is shown
	Short string         // its word on the bottom line; empty keeps it to the list
	Help  string         // one line for the list
	Why   string         // why it can't be done now; empty when it can
	Sight bool           // it changes only how the screen looks or is worked
	Run   func() tea.Cmd // does it; only called when Why is empty
}

// Find returns the action bound to a key.
func Find(actions []Action, key string) (Action, bool) {
	for _, a := range actions {
		for _, k := range a.Keys {
			if k == key {
				return a, true
			}
		}
	}
	return Action{}, false
}

// Search returns the actions in which every word of a query occurs, in their
// name, help or key; names that begin with the query come first.
func Search(actions []Action, query string) []Action {
	words := strings.Fields(strings.ToLower(query))
	var first, rest []Action
	for _, a := range actions {
		text := strings.ToLower(a.Name + " " + a.Help + " " + strings.Join(labels(a.Keys), " "))
		all := true
		for _, w := range words {
			all = all && strings.Contains(text, w)
		}
		switch {
		case !all:
		case len(words) > 0 && strings.HasPrefix(strings.ToLower(a.Name), words[0]):
			first = append(first, a)
		default:
			rest = append(rest, a)
		}
	}
	return append(first, rest...)
}

// Hint is one entry of the bottom line.
type Hint struct{ Key, Word string }

// Hints returns the entries of a bottom line of a width in cells: what can be
// done now, in the order of the actions, as many as find room with two cells
// between them.
func Hints(actions []Action, width int) []Hint {
	var out []Hint
	used := 0
	for _, a := range actions {
		if a.Short == "" || a.Why != "" || len(a.Keys) == 0 {
			continue
		}
		h := Hint{Label(a.Keys[0]), a.Short}
		n := utf8.RuneCountInString(h.Key) + 1 + utf8.RuneCountInString(h.Word)
		if len(out) > 0 {
			n += 2
		}
		if used+n > width {
			break
		}
		used += n
		out = append(out, h)
	}
	return out
}

// Label returns how a key is written on the screen.
func Label(key string) string {
	switch key {
	case " ":
		return "space"
	case "up", "down", "left", "right":
		return map[string]string{"up": "↑", "down": "↓", "left": "←", "right": "→"}[key]
	case "pgup":
		return "page up"
	case "pgdown":
		return "page down"
	}
	return key
}

func labels(keys []string) []string {
	out := make([]string, len(keys))
	for i, k := range keys {
		out[i] = Label(k)
	}
	return out
}
