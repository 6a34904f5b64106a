package keys

import (
	"github.com/charmbracelet/bubbles/key"
	"github.com/charmbracelet/x/ansi"
)

// HintGap is how many cells lie between two entries of the bottom line.
const HintGap = 2

// Hint returns an entry of the bottom line: a key and the word for what it does.
func Hint(name, word string) key.Binding {
	return key.NewBinding(key.WithKeys(name), key.WithHelp(Label(name), word))
}

// HintWidth returns how many cells an entry takes.
func HintWidth(b key.Binding) int {
	return ansi.StringWidth(b.Help().Key) + 1 + ansi.StringWidth(b.Help().Desc)
}

// Hints returns the entries of a bottom line of a width in cells: what can be
// done now, in the order of the actions, as many as find room.
func Hints(actions []Action, width int) []key.Binding {
	var out []key.Binding
	used := 0
	for _, a := range actions {
		b := a.Binding()
		if a.Short == "" || !b.Enabled() {
			continue
		}
		n := HintWidth(b)
		if len(out) > 0 {
			n += HintGap
		}
		if used+n > width {
			break
		}
		used += n
		out = append(out, b)
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
