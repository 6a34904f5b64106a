package ui

import (
	"fmt"
	"strings"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"

	"cabwright/ui/keys"
	"cabwright/ui/style"
	"cabwright/ui/view"
)

// list is the searchable list of every action.
type list struct {
	query []rune
	at    int
	top   int // the first one shown
}

// found returns the actions the query leaves.
func (l *list) found(m *Model) []keys.Action { return keys.Search(m.everything(), string(l.query)) }

// key takes a key while the list is open.
func (l *list) key(m *Model, msg tea.KeyMsg) tea.Cmd {
	found := l.found(m)
	switch msg.String() {
	case "esc":
		m.list = nil
	case "up", "shift+tab":
		l.at--
	case "down", "tab":
		l.at++
	case "pgup":
		l.at -= 10
	case "pgdown":
		l.at += 10
	case "home":
		l.at = 0
	case "end":
		l.at = len(found)
	case "backspace":
		if len(l.query) > 0 {
			l.query = l.query[:len(l.query)-1]
		}
		l.at = 0
	case "enter":
		return l.do(m, found)
	default:
		if msg.Type == tea.KeyRunes || msg.Type == tea.KeySpace {
			l.query = append(l.query, msg.Runes...)
			l.at = 0
		}
	}
	l.at = max(0, min(l.at, len(l.found(m))-1))
	return nil
}

// sentence is all that is to be said of an action.
func sentence(a keys.Action) string {
	if a.Why != "" {
		return a.Name + " can't be done now: " + a.Why
	}
	return a.Name + ": " + a.Help
}

// do runs the chosen action; one that can't be done now says why and the list
// stays.
func (l *list) do(m *Model, found []keys.Action) tea.Cmd {
	if l.at < 0 || l.at >= len(found) {
		return nil
	}
	a := found[l.at]
	if a.Why == "" {
		m.list = nil
	}
	return m.run(a, true)
}

// mouse takes what the mouse did at a row of the list.
func (l *list) mouse(m *Model, kind view.MouseKind, row int) tea.Cmd {
	found := l.found(m)
	switch kind {
	case view.WheelUp:
		l.at = max(0, l.at-1)
	case view.WheelDown:
		l.at = max(0, min(l.at+1, len(found)-1))
	case view.Cancel:
		m.list = nil
	case view.Press:
		i := l.top + row - 2
		if row >= 2 && i < len(found) {
			l.at = i
			return l.do(m, found)
		}
	}
	return nil
}

// render draws the list: what is searched for, then a line an action.
func (l *list) render(m *Model, width, height int) []string {
	st := m.s.Style
	found := l.found(m)
	out := []string{
		st.Paint(style.Key, "Find an action: ") + string(l.query) + st.Paint(style.Cursor, "▏"),
		st.Paint(style.Faint, fmt.Sprintf("%d of %d. A number before a key is the view it works in.", len(found), len(m.everything()))),
	}
	if l.at < len(found) && (l.at > 0 || len(l.query) > 0) {
		a := found[l.at]
		out[1] = st.Paint(style.Text, ansi.Truncate(sentence(a), width, "…"))
	}
	rows := max(1, height-2)
	l.top = max(min(l.top, l.at), l.at-rows+1)
	const keyWide = 11
	nameWide := 0
	for _, a := range found {
		nameWide = max(nameWide, ansi.StringWidth(a.Name))
	}
	nameWide = min(nameWide+1, max(12, width/2))
	for i := l.top; i < len(found) && i < l.top+rows; i++ {
		a := found[i]
		mark := "  "
		if i == l.at {
			mark = st.Paint(style.Selected, "▸ ")
		}
		key := ""
		if len(a.Keys) > 0 {
			key = keys.Label(a.Keys[0])
		}
		help := ansi.Truncate(a.Help, max(0, width-keyWide-nameWide-3), "…")
		if a.Why != "" {
			help = st.Paint(style.Faint, ansi.Truncate("not now: "+a.Why, max(0, width-keyWide-nameWide-3), "…"))
		}
		out = append(out, mark+view.Fit(st.Paint(style.Key, key), keyWide)+view.Fit(a.Name, nameWide)+" "+help)
	}
	if len(found) == 0 {
		out = append(out, "  No action has "+strings.TrimSpace(string(l.query))+" in it: backspace takes letters back.")
	}
	return out
}
