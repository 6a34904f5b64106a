package widget

import (
	"fmt"
	"strings"

	"github.com/charmbracelet/bubbles/viewport"
	"github.com/charmbracelet/x/ansi"

	"cabwright/planner"
	"cabwright/ui/style"
)

// Row is one line of a form as it is drawn, with the field it belongs to and,
// of a list of choices, the choice; -1 for none.
type Row struct {
	Text   string
	Field  int
	Choice int
}

// Rows draws the form in a width and at most so many lines: a rule with its
// title, the notes, each field that is asked for, and under the one that is typed
// into what it understood or what is wrong with it.
func (f *Form) Rows(st *style.Sheet, width, height int) []Row {
	f.At()
	head := f.headRows(st, width)
	fields := f.askedRows(st, width, mostChoices)
	if over := len(head) + len(fields) - height; over > 0 {
		fields = f.askedRows(st, width, max(fewestChoices, mostChoices-over))
	}
	out := append(head, f.noteRows(st, width, height-len(head)-len(fields))...)
	return append(out, f.inSight(fields, height-len(out))...)
}

// headRows are a rule with the form's title, which stands below it in full where it
// is longer than the rule.
func (f *Form) headRows(st *style.Sheet, width int) []Row {
	title := " " + f.Summary() + " "
	if room := width - 1 - ansi.StringWidth(title); room >= 0 {
		return []Row{textRow(st.Paint(style.Faint, "─"+title+strings.Repeat("─", room)))}
	}
	out := []Row{textRow(st.Paint(style.Faint, strings.Repeat("─", width)))}
	for _, line := range wrapped(f.Summary(), width-2) {
		out = append(out, textRow(st.Paint(style.Faint, "  "+line)))
	}
	return out
}

// inSight returns as many rows as there is room for, those of the field that is
// answered among them.
func (f *Form) inSight(rows []Row, room int) []Row {
	if room = max(1, room); len(rows) <= room {
		return rows
	}
	last := 0
	for i, r := range rows {
		if r.Field == f.at {
			last = i
		}
	}
	from := max(0, min(last+1-room, len(rows)-room))
	return rows[from : from+room]
}

// askedRows are the lines of the fields that are asked for, with so many choices of
// one that is chosen from, and what is wrong with them.
func (f *Form) askedRows(st *style.Sheet, width, choices int) (fields []Row) {
	for i := range f.Fields {
		if f.Asked(i) {
			fields = append(fields, f.fieldRows(st, i, width, choices)...)
		}
	}
	if text := f.waiting(); text != "" {
		fields = append(fields, textRow("  "+st.Paint(style.Faint, text)))
	}
	if p := f.problem; p != "" {
		for _, line := range wrapped("! "+planner.Visible(p), width-2) {
			fields = append(fields, textRow("  "+st.Paint(style.Bad, line)))
		}
	}
	return fields
}

func textRow(text string) Row { return Row{Text: text, Field: -1, Choice: -1} }

// wrapped breaks a text into lines of at most width cells.
func wrapped(text string, width int) []string {
	return strings.Split(ansi.Wrap(text, max(1, width), "/"), "\n")
}

// fewestNotes is how many lines of the notes stay in sight, however little room
// there is.
const fewestNotes = 3

// noteRows are the notes, scrolled by page up and page down where they are longer
// than their room.
func (f *Form) noteRows(st *style.Sheet, width, room int) []Row {
	var lines []string
	for _, note := range f.Notes {
		lines = append(lines, wrapped(planner.Visible(note), width-2)...)
	}
	if len(lines) == 0 {
		return nil
	}
	if room >= len(lines) {
		room = len(lines)
		f.notes.YOffset = 0
	} else {
		room = max(fewestNotes, room) - 1 // a line says that there is more
	}
	if f.notes.Height != room || f.notes.Width != width-2 {
		f.notes = viewport.New(max(1, width-2), room)
	}
	at := f.notes.YOffset
	f.notes.SetContent(strings.Join(lines, "\n"))
	f.notes.SetYOffset(at)
	var out []Row
	for _, line := range strings.Split(f.notes.View(), "\n") {
		out = append(out, textRow("  "+strings.TrimRight(line, " ")))
	}
	if room < len(lines) {
		from := f.notes.YOffset + 1
		more := fmt.Sprintf("  lines %d-%d of %d: page down and page up go on", from, from+room-1, len(lines))
		out = append(out, textRow(st.Paint(style.Faint, more)))
	}
	return out
}

// fieldRows are the lines of one field.
func (f *Form) fieldRows(st *style.Sheet, i, width, choices int) []Row {
	field, active := f.Fields[i], i == f.at
	mark, role := "  ", style.Text
	if active {
		mark, role = st.Paint(style.Selected, "▸ "), style.Key
	}
	prompt := mark + st.Paint(role, field.Prompt()) + " "
	room := width - ansi.StringWidth(prompt)
	row := func(text string) Row { return Row{Text: text, Field: i, Choice: -1} }
	var out []Row
	switch {
	case field.Kind == Choose && active:
		return f.choiceRows(st, i, prompt, width, choices)
	case active:
		out = []Row{row(prompt + field.line().View(st, room))}
	default:
		text := ansi.Truncate(planner.Visible(field.text()), max(0, room), "…")
		out = []Row{row(prompt + text)}
	}
	remark, wrong := field.Remark()
	if remark == "" {
		return out
	}
	look := style.Faint
	if wrong {
		look, remark = style.Bad, "! "+remark
	}
	remark = planner.Visible(remark)
	room = width - ansi.StringWidth(out[0].Text) - 2
	switch {
	case ansi.StringWidth(remark) <= room:
		out[0].Text += "  " + st.Paint(look, remark)
	case active || wrong:
		for _, line := range wrapped(remark, width-4) {
			out = append(out, row("    "+st.Paint(look, line)))
		}
	default:
		out[0].Text += "  " + st.Paint(look, ansi.Truncate(remark, max(0, room), "…"))
	}
	return out
}

// mostChoices is how many choices are shown below each other at once, fewestChoices
// where there is little room.
const mostChoices, fewestChoices = 8, 3

// choiceRows are the choices of the field that is answered: beside each other
// where they find room and other questions stand around them, else one a line.
func (f *Form) choiceRows(st *style.Sheet, i int, prompt string, width, most int) []Row {
	field := f.Fields[i]
	var words []string
	for k, c := range field.Choices {
		word := planner.Visible(c)
		if k == field.index() {
			word = st.Paint(style.Selected, "["+word+"]")
		}
		words = append(words, word)
	}
	line := prompt + strings.Join(words, " ")
	if len(f.Fields) > 1 && ansi.StringWidth(line) <= width {
		return []Row{{Text: line, Field: i, Choice: -1}}
	}
	out := []Row{{Text: prompt, Field: i, Choice: -1}}
	from := 0
	if len(words) > most {
		from = max(0, min(field.index()-most/2, len(words)-most))
		of := fmt.Sprintf("%d of %d; its first letter goes to one", field.index()+1, len(words))
		out[0].Text += st.Paint(style.Faint, of)
	}
	for k := from; k < len(words) && k < from+most; k++ {
		text := fmt.Sprintf("     %d %s", k+1, planner.Visible(field.Choices[k]))
		if k == field.index() {
			text = "   " + st.Paint(style.Selected, fmt.Sprintf("▸ %d %s", k+1, planner.Visible(field.Choices[k])))
		}
		out = append(out, Row{Text: ansi.Truncate(text, width, "…"), Field: i, Choice: k})
	}
	return out
}

// Click goes to the field of a row; on a choice it takes that, and on the choices
// of the field that is answered the next one.
func (f *Form) Click(row Row) {
	if row.Field < 0 || row.Field >= len(f.Fields) {
		return
	}
	field := f.Fields[row.Field]
	switch {
	case row.Choice >= 0 && row.Choice < len(field.Choices):
		field.set(field.Choices[row.Choice])
	case row.Field == f.at && field.Kind == Choose:
		field.step(1)
	}
	f.at = row.Field
}
