package command

import (
	"strings"

	"github.com/charmbracelet/x/ansi"
)

// lineWidth is the width in cells that tables and remarks are laid out for.
const lineWidth = 80

// table is rows of text in columns. A column is as wide as its widest cell, and
// the last one is wrapped so that no line is longer than lineWidth.
type table struct {
	rows  [][]string
	right map[int]bool // columns set flush right
	tight bool         // one space between columns, not two
}

func (t *table) add(cells ...string) { t.rows = append(t.rows, cells) }

// String returns the table, a line feed after each line.
func (t *table) String() string {
	var widths []int
	for _, row := range t.rows {
		for i, cell := range row {
			if i == len(widths) {
				widths = append(widths, 0)
			}
			widths[i] = max(widths[i], ansi.StringWidth(cell))
		}
	}
	var b strings.Builder
	for _, row := range t.rows {
		t.line(&b, row, widths)
	}
	return b.String()
}

func (t *table) line(b *strings.Builder, row []string, widths []int) {
	var line strings.Builder
	gap, used := "  ", 0
	if t.tight {
		gap = " "
	}
	for i, cell := range row {
		if i == len(row)-1 && !t.right[i] {
			break
		}
		pad := strings.Repeat(" ", widths[i]-ansi.StringWidth(cell))
		if t.right[i] {
			cell = pad + cell
		} else {
			cell += pad
		}
		line.WriteString(cell + gap)
		used += widths[i] + len(gap)
	}
	last := ""
	if n := len(row) - 1; !t.right[n] {
		last = row[n]
	}
	for k, part := range wrapped(last, max(lineWidth-used, 12)) {
		if k > 0 {
			line.WriteString("\n" + strings.Repeat(" ", used))
		}
		line.WriteString(part)
	}
	for _, l := range strings.Split(line.String(), "\n") {
		b.WriteString(strings.TrimRight(l, " ") + "\n")
	}
}

// wrapped returns text in lines of at most width cells, broken between words
// where it can be.
func wrapped(text string, width int) []string {
	return strings.Split(ansi.Wrap(text, width, ""), "\n")
}

// paragraph returns text in lines of at most lineWidth cells, each ended.
func paragraph(text string) string {
	return strings.Join(wrapped(text, lineWidth), "\n") + "\n"
}
