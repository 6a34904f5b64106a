package worthview

import (
	"fmt"
	"strings"

	"github.com/charmbracelet/x/ansi"

	"cabwright/planner"
	"cabwright/planner/money"
	"cabwright/planner/worth"
	"cabwright/ui/view"
)

// column is one column of the list of fits.
type column struct {
	head  string
	width int
	left  bool // words stand at the left, figures at the right
	text  func(f worth.Fit, c money.Currency) string
}

// wideList is the width from which the list has faces, the likely worth and roomier
// columns.
const wideList = 64

// columns are those that a width has room for in full: a figure that is cut short
// would be another one.
func columns(width int) []column {
	name := column{head: "fit, mm", width: 15, left: true, text: func(f worth.Fit, _ money.Currency) string {
		return view.Size(f.Candidate) + " " + view.Shape(f.Candidate)
	}}
	carat := column{head: "ct", width: 5, text: func(f worth.Fit, _ money.Currency) string {
		return fmt.Sprintf("%.2f", f.Carat)
	}}
	low, likely, high := valueColumn("worth low", func(v *worth.Value) money.Amount { return v.Low }),
		valueColumn("likely", func(v *worth.Value) money.Amount { return v.Likely }),
		valueColumn("high", func(v *worth.Value) money.Amount { return v.High })
	even := column{head: "even at", width: 8, text: func(f worth.Fit, c money.Currency) string {
		if f.BreakEven == nil {
			return "-"
		}
		return f.BreakEven.Text(c)
	}}
	all := []column{name, carat, low, high, even}
	if width >= wideList {
		name.width, carat.width, even.width = 18, 6, 9
		low.width, likely.width, high.width = 10, 10, 10
		face := column{head: "face", width: 5, left: true, text: func(f worth.Fit, _ money.Currency) string {
			return view.FaceUp(f.Candidate)
		}}
		margin := column{head: "margin", width: 7, text: func(f worth.Fit, _ money.Currency) string {
			if f.Margin == nil {
				return "-"
			}
			return f.Margin.Decimal(0) + "%"
		}}
		price := column{head: " price", width: 12, left: true, text: func(f worth.Fit, _ money.Currency) string {
			if f.Value == nil {
				return ""
			}
			return " " + planner.Visible(f.Value.By)
		}}
		all = []column{name, face, carat, low, likely, high, even, margin, price}
	}
	room := width - 1
	for i, col := range all {
		if room -= 1 + col.width; room < 0 {
			return all[:i]
		}
	}
	all[len(all)-1].width += room // the words of the price have what is left
	return all
}

func valueColumn(head string, of func(*worth.Value) money.Amount) column {
	return column{head: head, width: 9, text: func(f worth.Fit, c money.Currency) string {
		if f.Value == nil {
			return "-"
		}
		return of(f.Value).Text(c)
	}}
}

// lineOf lays a text a column out, a free cell before each.
func lineOf(cols []column, text func(column) string) string {
	var b strings.Builder
	for _, col := range cols {
		cell := ansi.Truncate(text(col), col.width, "…")
		fill := strings.Repeat(" ", col.width-ansi.StringWidth(cell))
		if col.left {
			b.WriteString(" " + cell + fill)
		} else {
			b.WriteString(" " + fill + cell)
		}
	}
	return b.String()
}
