package view

import (
	"strings"

	"github.com/charmbracelet/x/ansi"

	"cabwright/planner"
	"cabwright/ui/style"
)

// Tally is the list of figures beside a drawing: names on the left, values on
// the right, in a width of cells.
type Tally struct {
	width int
	style *style.Sheet
	lines []string
}

// NewTally returns an empty tally.
func NewTally(sheet *style.Sheet, width int) *Tally { return &Tally{width: width, style: sheet} }

// Lines returns what has been written.
func (t *Tally) Lines() []string { return t.lines }

// Head writes a heading.
func (t *Tally) Head(text string) {
	t.lines = append(t.lines, t.style.Paint(style.Key, ansi.Truncate(planner.Visible(text), t.width, "…")))
}

// Gap leaves a line free.
func (t *Tally) Gap() { t.lines = append(t.lines, "") }

// Row writes a name and its value.
func (t *Tally) Row(name, value string) {
	name = ansi.Truncate(name, t.width, "…")
	room := t.width - ansi.StringWidth(name) - 1
	value = ansi.Truncate(planner.Visible(value), max(0, room), "…")
	fill := strings.Repeat(" ", max(0, t.width-ansi.StringWidth(name)-ansi.StringWidth(value)))
	t.lines = append(t.lines, t.style.Paint(style.Faint, name)+fill+value)
}

// Words writes a text over as many lines as it needs.
func (t *Tally) Words(role style.Role, text string) {
	for _, line := range strings.Split(ansi.Wordwrap(planner.Visible(text), max(1, t.width), ""), "\n") {
		t.lines = append(t.lines, t.style.Paint(role, line))
	}
}

// Item writes one line of a list to pick from; the chosen one has a sign before it.
func (t *Tally) Item(role style.Role, chosen bool, text string) {
	mark := "  "
	if chosen {
		mark, role = "▸ ", style.Selected
	}
	t.lines = append(t.lines, t.style.Paint(role, mark+ansi.Truncate(planner.Visible(text), max(0, t.width-2), "…")))
}
