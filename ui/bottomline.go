package ui

import (
	"slices"
	"strings"

	"github.com/charmbracelet/bubbles/help"
	"github.com/charmbracelet/bubbles/key"
	"github.com/charmbracelet/lipgloss"
	"github.com/charmbracelet/x/ansi"

	"cabwright/ui/canvas"
	"cabwright/ui/keys"
	"cabwright/ui/style"
	"cabwright/ui/widget"
)

// hints returns the entries of the bottom line; the list of all actions and the
// way out always have their place at the end.
func (m *Model) hints() []key.Binding {
	out := m.entries()
	if m.s.Glyphs == canvas.ASCII {
		for i := range out {
			out[i] = keys.Spelled(out[i])
		}
	}
	return out
}

func (m *Model) entries() []key.Binding {
	switch {
	case m.s.Asking() != nil:
		return fitted(formHints(m.s.Asking()), m.width)
	case m.finder != nil:
		return []key.Binding{keys.Hint("enter", "do it"), keys.Hint("↑↓", "choose"), keys.Hint("esc", "back")}
	}
	last := []key.Binding{keys.Hint("?", "all actions"), keys.Hint("q", "leave")}
	room := m.width
	for _, b := range last {
		room -= keys.HintGap + keys.HintWidth(b)
	}
	return append(keys.Hints(m.actions(), room, m.s.Glyphs == canvas.ASCII), last...)
}

// formHints are the keys of an open form.
func formHints(f *widget.Form) []key.Binding {
	choice := f.Fields[f.At()].Kind == widget.Choose
	out := []key.Binding{keys.Hint("enter", "done")}
	switch {
	case len(f.Fields) > 1:
		out = []key.Binding{keys.Hint("enter", "next"), keys.Hint("tab", "another field"), keys.Hint("ctrl+s", "done")}
		if choice {
			out = append(out, keys.Hint("← →", "choose"))
		}
	case choice:
		out = append(out, keys.Hint("↑↓", "choose"))
	}
	if !f.Required {
		out = append(out, keys.Hint("esc", "back"))
	}
	return out
}

// fitted leaves entries out where the line has no room for all, the second first: the
// first is what is done next, the last the way back.
func fitted(all []key.Binding, width int) []key.Binding {
	total := func() (n int) {
		for _, b := range all {
			n += keys.HintWidth(b) + keys.HintGap
		}
		return n - keys.HintGap
	}
	for len(all) > 2 && total() > width {
		all = slices.Delete(all, 1, 2)
	}
	return all
}

// keysLine is the last line. The library writes it; which entries find room is
// decided in keys.Hints, as a click has to know.
func (m *Model) keysLine() string {
	line := help.New()
	line.ShortSeparator = strings.Repeat(" ", keys.HintGap)
	line.Styles = help.Styles{ShortKey: painted(m.s.Style, style.Key)}
	return ansi.Truncate(line.ShortHelpView(m.hints()), m.width, "")
}

// painted is a role of the style sheet as the library takes its styles.
func painted(st *style.Sheet, role style.Role) lipgloss.Style {
	return lipgloss.NewStyle().Transform(func(s string) string { return st.Paint(role, s) })
}
