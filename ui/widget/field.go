package widget

import (
	"fmt"
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"
)

// Kind is what a field asks for.
type Kind int

// The kinds.
const (
	Length   Kind = iota // mm, or any unit of length
	Angle                // degrees
	Carat                // metric carats, or grams
	Plain                // a number without a unit
	Words                // any text
	Choose               // one of Choices
	Place                // x, y or x, y, z in mm
	Size                 // a length, or a length and a width: "4" or "4x3"
	Unsure               // a length that may be a range: "3", "2-5" or "2-3-5"
	TableRow             // a row of a table, its cells apart by spaces, semicolons or tabs
)

// Field is one question of a form.
type Field struct {
	Label    string
	Kind     Kind
	Min, Max float64  // of Length, Angle, Carat, Plain and each number of the other kinds
	Choices  []string // of Choose
	Parts    int      // of Place: 2 or 3
	Optional string   // what leaving it empty means; "" when it can't be left empty
	MaxLen   int      // of Words; 0: 200 characters
	Step     float64  // of the wheel, for numbers; 0: 0.1

	// Odds says in words what the range of an Unsure field means; nil: nothing.
	Odds func(Span) string

	// Hidden reports that the answers to other fields leave nothing to ask here;
	// nil: always asked.
	Hidden func(f *Form) bool

	input   *Input
	was     string // the present value, as text
	fresh   bool   // nothing typed yet: the first key replaces the text
	failed  bool   // enter was pressed on a text that does not read
	refused string
}

// maxText is the longest text a field takes where it sets no limit itself.
const maxText = 200

// line returns the field's line, made when it is first needed.
func (f *Field) line() *Input {
	if f.input == nil {
		limit := f.MaxLen
		if limit == 0 {
			limit = maxText
		}
		line := NewInput(limit)
		f.input = &line
	}
	return f.input
}

// text returns what stands in the field.
func (f *Field) text() string { return f.line().Text() }

// With sets the present value as text and returns the field.
func (f *Field) With(text string) *Field {
	f.was = text
	f.set(text)
	f.fresh = true
	return f
}

// WithNumber sets the present value and returns the field.
func (f *Field) WithNumber(v float64) *Field { return f.With(number(v)) }

func (f *Field) set(text string) { f.line().Set(text) }

// key takes one key of the line.
func (f *Field) key(msg tea.KeyMsg) {
	f.failed, f.refused = false, ""
	if f.Kind == Choose {
		f.choose(msg)
		return
	}
	types := msg.Type == tea.KeyRunes || msg.Type == tea.KeySpace
	if (f.Kind == Place || f.Kind == TableRow) && types {
		msg.Runes = []rune(cells(string(msg.Runes)))
	}
	if f.fresh && f.Kind != Words && types && !msg.Alt {
		f.set("") // the first character typed over a number replaces it
	}
	if f.line().Key(msg) {
		f.fresh = false
	}
}

// cells puts a semicolon for each tab, which stands between the cells of a row
// that comes out of a spreadsheet.
func cells(text string) string { return strings.ReplaceAll(text, "\t", ";") }

// choose steps through the choices, or goes to the one of a number or to the next
// that begins with a letter.
func (f *Field) choose(msg tea.KeyMsg) {
	switch msg.String() {
	case "left":
		f.step(-1)
	case "right", " ":
		f.step(1)
	default:
		if msg.Type != tea.KeyRunes {
			return
		}
		text := strings.ToLower(string(msg.Runes))
		for i := 1; i <= len(f.Choices); i++ {
			k := (f.index() + i) % len(f.Choices)
			if strings.HasPrefix(strings.ToLower(f.Choices[k]), text) || text == fmt.Sprint(k+1) {
				f.set(f.Choices[k])
				return
			}
		}
	}
}

// step goes n choices on, or makes a number n steps larger within its range.
func (f *Field) step(n int) {
	f.failed, f.refused = false, ""
	switch f.Kind {
	case Choose:
		k := (f.index() + n) % len(f.Choices)
		f.set(f.Choices[(k+len(f.Choices))%len(f.Choices)])
	case Length, Angle, Carat, Plain, Unsure:
		step := f.Step
		if step == 0 {
			step = 0.1
		}
		now := 0.0
		if v, err := f.read(); err == nil {
			now = v.number
		}
		v := settle(now + float64(n)*step)
		if f.Min != 0 || f.Max != 0 {
			v = max(f.Min, min(f.Max, v))
		}
		f.fresh = false
		f.set(number(v))
	}
}

// index returns which of the choices stands in the field.
func (f *Field) index() int { return max(0, slices.Index(f.Choices, f.text())) }

// pick takes the number of a choice, counted from 1, or how it begins.
func (f *Field) pick(text string) bool {
	for i, c := range f.Choices {
		if text == fmt.Sprint(i+1) || strings.HasPrefix(strings.ToLower(c), strings.ToLower(text)) {
			f.set(c)
			return true
		}
	}
	return false
}

// Prompt returns what stands before the typed text, with the unit and, once
// something else stands in the field, the present value: "Saw kerf, mm [0.4]:".
func (f *Field) Prompt() string {
	var b strings.Builder
	b.WriteString(f.Label)
	switch f.Kind {
	case Length, Place, Size, Unsure:
		b.WriteString(", mm")
	case Angle:
		b.WriteString(", degrees")
	case Carat:
		b.WriteString(", ct")
	}
	if f.was != "" && f.Kind != Choose && f.was != f.text() {
		fmt.Fprintf(&b, " [%s]", f.was)
	}
	b.WriteByte(':')
	return b.String()
}

// Typed returns the text before and after the cursor.
func (f *Field) Typed() (before, after string) { return f.line().Typed() }

// Remark returns what the field understood, or what is wrong with it, and
// whether it is wrong. While a number is being typed it is not called wrong.
func (f *Field) Remark() (text string, wrong bool) {
	if f.refused != "" {
		return f.refused, true
	}
	v, err := f.read()
	switch {
	case err != nil && f.failed:
		return err.Error(), true
	case err != nil:
		return "", false
	case f.Kind == Choose:
		return "", false
	case f.text() == "":
		return f.Optional, false
	case v.understood != "":
		return "= " + v.understood, false
	case f.Optional != "":
		return "empty: " + f.Optional, false
	}
	return "", false
}
