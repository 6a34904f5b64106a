package widget

import (
	"io"
	"strings"
	"unicode"

	"github.com/charmbracelet/bubbles/cursor"
	"github.com/charmbracelet/bubbles/textinput"
	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/lipgloss"
	"github.com/charmbracelet/x/ansi"

	"cabwright/planner"
	"cabwright/ui/style"
)

// Input is a line that is typed into. When it is longer than its room it
// scrolls, so that the cursor stays in sight.
type Input struct {
	line  textinput.Model
	raw   string // what it was set to
	shown string // the same as the line holds it: without control characters
}

// cursorSign stands before the character the cursor is on. A reversed character
// would be lost where NO_COLOR is set.
const cursorSign = "▏"

// uncoloured writes no sequences of its own: colours come from the style sheet.
var uncoloured = lipgloss.NewRenderer(io.Discard)

// NewInput returns an empty line of at most limit characters, 0 for no limit.
func NewInput(limit int) Input {
	line := textinput.New()
	line.Prompt = ""
	line.CharLimit = limit
	// The library's own paste starts a program to ask for the clipboard; what the
	// terminal pastes comes as typed text.
	line.KeyMap.Paste.SetEnabled(false)
	line.KeyMap.AcceptSuggestion.SetEnabled(false)
	line.KeyMap.NextSuggestion.SetEnabled(false)
	line.KeyMap.PrevSuggestion.SetEnabled(false)
	line.Cursor.SetMode(cursor.CursorStatic)
	line.Focus()
	return Input{line: line}
}

// Set replaces the text and puts the cursor behind it.
func (i *Input) Set(text string) {
	i.line.SetValue(text)
	i.line.CursorEnd()
	i.raw, i.shown = text, i.line.Value()
}

// Text returns what stands in the line. A text it was set to and that nobody has
// changed comes back as it was, control characters included.
func (i *Input) Text() string {
	if v := i.line.Value(); v != i.shown {
		return v
	}
	return i.raw
}

// Typed returns the text before and behind the cursor.
func (i *Input) Typed() (before, after string) {
	runes := []rune(i.line.Value())
	at := min(i.line.Position(), len(runes))
	return string(runes[:at]), string(runes[at:])
}

// Key takes a key or a pasted text and reports whether it did anything.
// Characters that cannot be seen are left out.
func (i *Input) Key(msg tea.KeyMsg) bool {
	if msg.Type == tea.KeyRunes || msg.Type == tea.KeySpace {
		if msg.Alt {
			return false
		}
		msg.Runes = printable(msg.Runes)
	}
	text, at := i.line.Value(), i.line.Position()
	i.line, _ = i.line.Update(msg)
	return i.line.Value() != text || i.line.Position() != at
}

// printable returns the characters that can be seen, with a space for each line
// end and tab.
func printable(runes []rune) []rune {
	out := make([]rune, 0, len(runes))
	for _, r := range runes {
		switch {
		case unicode.IsPrint(r):
			out = append(out, r)
		case r == '\n' || r == '\t':
			out = append(out, ' ')
		}
	}
	return out
}

// View returns the line with the cursor in it in at most width cells.
func (i *Input) View(st *style.Sheet, width int) string {
	// The library's window can be a cell wider than it was told; the sign of the
	// cursor takes one more.
	if room := max(1, width-3); i.line.Width != room {
		at := i.line.Position()
		i.line.Width = room
		i.line.CursorEnd() // the library fits its window to a width from the end
		i.line.SetCursor(at)
	}
	i.line.TextStyle = uncoloured.NewStyle().Transform(planner.Visible)
	i.line.Cursor.Style = uncoloured.NewStyle().Transform(func(char string) string {
		return st.Paint(style.Cursor, cursorSign) + planner.Visible(char)
	})
	return strings.TrimRight(ansi.Truncate(i.line.View(), max(0, width), ""), " ")
}
