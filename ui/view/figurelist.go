package view

import (
	"regexp"
	"slices"
	"strings"

	"github.com/charmbracelet/x/ansi"

	"cabwright/planner"
	"cabwright/ui/style"
)

// unbroken is the hyphen at which no line ends (U+2011).
const unbroken = "\u2011"

var figureHyphen = regexp.MustCompile(`(\d)-(\d)`)

// FigureList is the list of figures beside a drawing: names on the left, values on
// the right, in a width of cells.
type FigureList struct {
	width int
	style *style.Sheet
	lines []string
}

// NewFigureList returns an empty list.
func NewFigureList(sheet *style.Sheet, width int) *FigureList {
	return &FigureList{width: width, style: sheet}
}

// Sentence joins what is to be said on one line, with semicolons between; empty
// parts are left out.
func Sentence(parts ...string) string {
	parts = slices.DeleteFunc(slices.Clone(parts), func(p string) bool { return p == "" })
	return strings.Join(parts, "; ")
}

// Lines returns what has been written.
func (t *FigureList) Lines() []string { return t.lines }

// Head writes a heading.
func (t *FigureList) Head(text string) {
	t.lines = append(t.lines, t.style.Paint(style.Key, ansi.Truncate(planner.Visible(text), t.width, "…")))
}

// Width is how many cells a line has.
func (t *FigureList) Width() int { return t.width }

// Line writes one line as it is, cut short where it is too long.
func (t *FigureList) Line(role style.Role, text string) {
	t.lines = append(t.lines, t.style.Paint(role, ansi.Truncate(planner.Visible(text), t.width, "…")))
}

// Gap leaves a line free.
func (t *FigureList) Gap() { t.lines = append(t.lines, "") }

// Row writes a name and its value.
func (t *FigureList) Row(name, value string) {
	name = ansi.Truncate(name, t.width, "…")
	room := t.width - ansi.StringWidth(name) - 1
	value = ansi.Truncate(planner.Visible(value), max(0, room), "…")
	fill := strings.Repeat(" ", max(0, t.width-ansi.StringWidth(name)-ansi.StringWidth(value)))
	t.lines = append(t.lines, t.style.Paint(style.Faint, name)+fill+value)
}

// Words writes a text over as many lines as it needs.
func (t *FigureList) Words(role style.Role, text string) {
	// A hyphen between two figures is no place to break: a date stays whole.
	text = figureHyphen.ReplaceAllString(planner.Visible(text), "$1"+unbroken+"$2")
	for _, line := range strings.Split(ansi.Wrap(text, max(1, t.width), ""), "\n") {
		t.lines = append(t.lines, t.style.Paint(role, strings.ReplaceAll(line, unbroken, "-")))
	}
}

// Item writes one line of a list to pick from; the chosen one has a sign before it.
func (t *FigureList) Item(role style.Role, chosen bool, text string) {
	mark := "  "
	if chosen {
		mark, role = chosenMark, style.Selected
	}
	t.lines = append(t.lines, t.style.Paint(role, mark+ansi.Truncate(planner.Visible(text), max(0, t.width-2), "…")))
}

const chosenMark = "▸ "

// Whole writes the chosen one of a list in full, over as many lines as that takes.
func (t *FigureList) Whole(text string) {
	mark := chosenMark
	for _, line := range t.broken(text) {
		t.lines = append(t.lines, t.style.Paint(style.Selected, mark+line))
		mark = "  "
	}
}

// WholeLines is how many lines that is.
func (t *FigureList) WholeLines(text string) int { return len(t.broken(text)) }

func (t *FigureList) broken(text string) []string {
	return strings.Split(ansi.Wrap(planner.Visible(text), max(1, t.width-2), ""), "\n")
}
