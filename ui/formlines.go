package ui

import (
	"strings"

	"github.com/charmbracelet/x/ansi"

	"cabwright/planner"
	"cabwright/ui/form"
	"cabwright/ui/style"
)

// formLines draws an open form: a rule with its title, a line a field, and under
// the field that is typed into what it understood or what is wrong with it.
func formLines(st *style.Sheet, f *form.Form, width int) []string {
	lines, _ := formRows(st, f, width)
	return lines
}

// formRows is formLines with, for each line, the index of its field or -1.
func formRows(st *style.Sheet, f *form.Form, width int) (out []string, fields []int) {
	title := " " + f.Summary() + " "
	rule := "─" + title + strings.Repeat("─", max(0, width-1-ansi.StringWidth(title)))
	out = []string{st.Paint(style.Faint, ansi.Truncate(rule, width, ""))}
	fields = []int{-1}
	for _, note := range f.Notes {
		out, fields = append(out, "  "+ansi.Truncate(planner.Visible(note), max(0, width-2), "…")), append(fields, -1)
	}
	for i, field := range f.Fields {
		mark, role := "  ", style.Text
		if i == f.At() {
			mark, role = st.Paint(style.Selected, "▸ "), style.Key
		}
		line := mark + st.Paint(role, field.Prompt()) + " " + typed(st, field, i == f.At())
		remark, wrong := field.Remark()
		if remark != "" {
			look := style.Faint
			if wrong {
				look = style.Bad
				remark = "! " + remark
			}
			room := width - ansi.StringWidth(line) - 2
			if ansi.StringWidth(remark) > room && i == f.At() {
				out = append(out, line, "    "+st.Paint(look, ansi.Truncate(remark, max(0, width-4), "…")))
				fields = append(fields, i, i)
				continue
			}
			line += "  " + st.Paint(look, ansi.Truncate(remark, max(0, room), "…"))
		}
		out, fields = append(out, line), append(fields, i)
	}
	if p := f.Problem(); p != "" {
		out = append(out, "  "+st.Paint(style.Bad, ansi.Truncate("! "+planner.Visible(p), max(0, width-2), "…")))
		fields = append(fields, -1)
	}
	return out, fields
}

// typed is what stands in a field: the text with the cursor in it, or the words
// to choose from.
func typed(st *style.Sheet, field *form.Field, active bool) string {
	if field.Kind == form.Choose {
		chosen, _ := field.Typed()
		if !active {
			return planner.Visible(chosen)
		}
		var words []string
		for _, c := range field.Choices {
			word := planner.Visible(c)
			if c == chosen {
				word = st.Paint(style.Selected, "["+word+"]")
			}
			words = append(words, word)
		}
		if len(words) <= 4 {
			return strings.Join(words, " ")
		}
		return st.Paint(style.Selected, "["+planner.Visible(chosen)+"]")
	}
	before, after := field.Typed()
	cursor := ""
	if active {
		cursor = st.Paint(style.Cursor, "▏")
	}
	return planner.Visible(before) + cursor + planner.Visible(after)
}
