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
		prompt := field.Prompt()
		before, after := field.Typed()
		line := mark + st.Paint(role, prompt) + " " + planner.Visible(before)
		if i == f.At() {
			line += st.Paint(style.Cursor, "▏")
		}
		line += planner.Visible(after)
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
