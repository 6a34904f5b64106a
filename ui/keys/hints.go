package keys

import (
	"strings"

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

// arrows are the arrow keys in words.
var arrows = strings.NewReplacer("↑↓", "up/down", "← →", "left/right",
	"↑", "up", "↓", "down", "←", "left", "→", "right")

// Spelled returns an entry with arrow keys in words, for terminals that have no
// arrows: the signs that stand in for them read as letters.
func Spelled(b key.Binding) key.Binding {
	b.SetHelp(arrows.Replace(b.Help().Key), b.Help().Desc)
	return b
}

// Hints returns the entries of a bottom line of a width in cells: what can be
// done now, in the order of the actions, as many as find room, with arrow keys in
// words when spelled.
func Hints(actions []Action, width int, spelled bool) []key.Binding {
	var out []key.Binding
	used := 0
	for _, a := range actions {
		b := a.Binding()
		if a.Short == "" || !b.Enabled() {
			continue
		}
		if spelled {
			b = Spelled(b)
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
