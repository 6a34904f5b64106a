package widget

import (
	"fmt"
	"strings"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/lipgloss"
	"github.com/charmbracelet/x/ansi"

	"cabwright/planner"
	"cabwright/ui/keys"
	"cabwright/ui/style"
)

// Finder is the list of every action, searched by what is typed. It is made
// anew each time it is opened; All returns the actions as they are now.
type Finder struct {
	All func() []keys.Action

	query Input
	at    int // the chosen one of those found
	top   int // the first one shown
}

// NewFinder returns a finder over some actions.
func NewFinder(all func() []keys.Action) *Finder { return &Finder{All: all, query: NewInput(maxText)} }

// headRows is how many lines stand above the found actions.
const headRows = 2

func (l *Finder) found() []keys.Action { return keys.Search(l.All(), l.query.Text()) }

// Key takes a key. It returns the action to be done, nil while none is chosen,
// and whether the finder is to be closed.
func (l *Finder) Key(msg tea.KeyMsg) (chosen *keys.Action, closed bool) {
	const page = 10
	switch msg.String() {
	case "esc":
		return nil, true
	case "up", "shift+tab":
		l.Move(-1)
	case "down", "tab":
		l.Move(1)
	case "pgup":
		l.Move(-page)
	case "pgdown":
		l.Move(page)
	case "enter":
		return l.choose(l.found())
	default:
		text := l.query.Text()
		if l.query.Key(msg); l.query.Text() != text {
			l.at = 0
		}
	}
	return nil, false
}

// choose returns the action that is chosen. One that can't be done now says why
// and the finder stays.
func (l *Finder) choose(found []keys.Action) (*keys.Action, bool) {
	if l.at >= len(found) {
		return nil, false
	}
	a := found[l.at]
	return &a, a.Disabled == ""
}

// Move goes n actions on.
func (l *Finder) Move(n int) { l.at = max(0, min(l.at+n, len(l.found())-1)) }

// Click chooses the action on a line of the finder.
func (l *Finder) Click(row int) (chosen *keys.Action, closed bool) {
	found := l.found()
	if i := l.top + row - headRows; row >= headRows && i < len(found) {
		l.at = i
		return l.choose(found)
	}
	return nil, false
}

// sentence is all that is to be said of an action.
func sentence(a keys.Action) string {
	if a.Disabled != "" {
		return a.Name + " can't be done now: " + a.Disabled
	}
	return a.Name + ": " + a.Help
}

// keyWide is the width of the column of keys, in cells.
const keyWide = 12

// Render draws the finder: what is searched for, then a line an action.
func (l *Finder) Render(st *style.Sheet, width, height int) []string {
	found := l.found()
	const ask = "Find an action: "
	out := []string{
		st.Paint(style.Key, ask) + l.query.View(st, width-len(ask)),
		st.Paint(
			style.Faint,
			fmt.Sprintf("%d of %d. A number before a key is the view it works in.", len(found), len(l.All())),
		),
	}
	if l.at < len(found) && (l.at > 0 || l.query.Text() != "") {
		out[1] = st.Paint(style.Text, ansi.Truncate(sentence(found[l.at]), width, "…"))
	}
	rows := max(1, height-headRows)
	l.top = max(min(l.top, l.at), l.at-rows+1)
	nameWide := 0
	for _, a := range found[l.top:min(len(found), l.top+rows)] {
		nameWide = max(nameWide, ansi.StringWidth(a.Name))
	}
	nameWide = min(nameWide+1, max(12, width/2))
	for i := l.top; i < len(found) && i < l.top+rows; i++ {
		mark := "  "
		if i == l.at {
			mark = st.Paint(style.Selected, "▸ ")
		}
		out = append(out, mark+l.line(st, found[i], nameWide, width-2))
	}
	if len(found) == 0 {
		out = append(
			out,
			"  No action goes by "+planner.Visible(strings.TrimSpace(l.query.Text()))+": backspace takes letters back.",
		)
	}
	return out
}

// line is one action's line: its key, its name, its help or why it can't be done.
func (l *Finder) line(st *style.Sheet, a keys.Action, nameWide, width int) string {
	key := ""
	if len(a.Keys) > 0 {
		key = keys.Label(a.Keys[0])
	}
	room := max(0, width-keyWide-nameWide-1)
	help := ansi.Truncate(a.Help, room, "…")
	if a.Disabled != "" {
		help = st.Paint(style.Faint, ansi.Truncate("not now: "+a.Disabled, room, "…"))
	}
	column := func(text string, wide int) string {
		return lipgloss.PlaceHorizontal(wide, lipgloss.Left, ansi.Truncate(text, wide, "…"))
	}
	return column(st.Paint(style.Key, key), keyWide) + column(a.Name, nameWide) + " " + help
}
