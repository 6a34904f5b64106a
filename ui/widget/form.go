package widget

import (
	"errors"
	"fmt"
	"strings"

	"github.com/charmbracelet/bubbles/viewport"
	tea "github.com/charmbracelet/bubbletea"
)

// Form is a few fields asked for together. The zero index is the first field.
type Form struct {
	Title    string
	Notes    []string // lines to read before answering
	Required bool     // it must be answered: esc does not step back from it
	Fields   []*Field
	// Done takes the values when every field reads well. An error keeps the form
	// open and stands beside the field it names (see Wrong) or under the form.
	Done func(f *Form) error
	// Repeat asks again after each answer, for a list of things typed or pasted one
	// a line; Done takes each line, and at last an empty one, which ends the list.
	Repeat bool
	// TakeBack takes the last line of a list back, when backspace is pressed in an
	// empty one.
	TakeBack func(f *Form)

	at      int
	problem string
	rest    []string // lines of a paste that wait for one before them to be mended
	pasted  int      // how many the paste had
	notes   viewport.Model
}

// Wrong is an error about one field.
type Wrong struct {
	Field int // index
	Err   error
}

func (w Wrong) Error() string { return w.Err.Error() }

// At returns the index of the field that is being typed into: the first one that
// is asked for, at the start.
func (f *Form) At() int {
	if !f.Asked(f.at) {
		f.at = f.beside(1)
	}
	return f.at
}

// GoTo moves to a field; out of range it does nothing.
func (f *Form) GoTo(i int) {
	if i >= 0 && i < len(f.Fields) {
		f.at = i
	}
}

// Step makes the value of the field that is typed into so many steps larger, as
// the wheel of a mouse does.
func (f *Form) Step(n int) {
	f.Fields[f.at].step(n)
	f.problem = ""
}

// Problem returns what Done found wrong with the whole, or "".
func (f *Form) Problem() string { return f.problem }

// Resume takes up what was typed into a form of the same title that was stepped
// back from: stepping back discards nothing.
func (f *Form) Resume(left *Form) {
	if left == nil || left.Title != f.Title || len(left.Fields) != len(f.Fields) {
		return
	}
	f.rest, f.pasted = left.rest, left.pasted
	for i, old := range left.Fields {
		field := f.Fields[i]
		if (old.Label == field.Label || f.Repeat) && old.text() != old.was {
			field.set(old.text())
			field.fresh = false
		}
	}
}

// Outcome is what a key did to a form.
type Outcome int

// The outcomes.
const (
	Open   Outcome = iota // still being filled in
	Closed                // done: Done has taken the values
	Left                  // stepped back from: nothing has changed
)

// Key takes one key.
func (f *Form) Key(msg tea.KeyMsg) Outcome {
	field := f.Fields[f.At()]
	if f.Repeat && msg.Paste && strings.ContainsAny(string(msg.Runes), "\r\n") {
		return f.paste(string(msg.Runes))
	}
	switch msg.String() {
	case "esc":
		if f.Required {
			f.problem = "this must be decided first"
			return Open
		}
		return Left
	case "enter":
		return f.accept()
	case "ctrl+j":
		if f.Repeat { // a line end that was pasted unmarked
			return f.accept()
		}
	case "tab":
		if f.Repeat && f.beside(1) == f.at { // of a row that was pasted unmarked
			field.key(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{'\t'}})
			return Open
		}
		f.at = f.beside(1)
	case "shift+tab":
		f.at = f.beside(-1)
	case "pgup":
		f.notes.HalfPageUp()
	case "pgdown":
		f.notes.HalfPageDown()
	case "down", "up":
		f.upDown(msg.String())
	case "ctrl+s":
		if f.Repeat && !f.blank() {
			if f.accept(); f.wrong() {
				return Open
			}
		}
		return f.finish()
	case "backspace":
		if f.Repeat && f.TakeBack != nil && field.text() == "" {
			f.TakeBack(f)
			return Open
		}
		field.key(msg)
		f.problem = ""
	default:
		field.key(msg)
		f.problem = ""
	}
	return Open
}

// upDown goes to the field above or below; where there is but one question, and
// its choices stand below each other, to the choice.
func (f *Form) upDown(key string) {
	n := map[string]int{"up": -1, "down": 1}[key]
	if len(f.Fields) == 1 && f.Fields[0].Kind == Choose {
		f.Step(n)
		return
	}
	f.at = f.beside(n)
}

// Asked reports whether a field is asked for with the answers there are now.
func (f *Form) Asked(i int) bool { return f.Fields[i].Hidden == nil || !f.Fields[i].Hidden(f) }

// beside returns the field n = 1 after or n = -1 before the present one that is
// asked for, from the last to the first.
func (f *Form) beside(n int) int {
	at := f.at
	for range f.Fields {
		at = (at + n + len(f.Fields)) % len(f.Fields)
		if f.Asked(at) {
			return at
		}
	}
	return f.at
}

// enter goes on to the next field, and from the last one finishes.
func (f *Form) enter() Outcome {
	if _, err := f.Fields[f.at].read(); err != nil {
		f.Fields[f.at].failed = true
		return Open
	}
	if next := f.beside(1); next > f.at {
		f.at = next
		return Open
	}
	return f.finish()
}

func (f *Form) finish() Outcome {
	for i, field := range f.Fields {
		if _, err := field.read(); err != nil && f.Asked(i) {
			field.failed = true
			f.at = i
			return Open
		}
	}
	err := f.Done(f)
	switch {
	case err == nil && f.Repeat && !f.blank():
		f.next()
		return Open
	case err == nil:
		return Closed
	}
	var wrong Wrong
	if errors.As(err, &wrong) && wrong.Field >= 0 && wrong.Field < len(f.Fields) {
		f.at = wrong.Field
		f.Fields[wrong.Field].refused = wrong.Err.Error()
		return Open
	}
	f.problem = err.Error()
	return Open
}

// Number returns what field i reads as; call it from Done. A blank field gives 0.
func (f *Form) Number(i int) float64 {
	v, _ := f.Fields[i].read()
	return v.number
}

// Text returns the text of field i without spaces around it.
func (f *Form) Text(i int) string { return strings.TrimSpace(f.Fields[i].text()) }

// Blank reports whether field i is empty.
func (f *Form) Blank(i int) bool { return f.Text(i) == "" }

// Choice returns the index of the chosen word of field i.
func (f *Form) Choice(i int) int {
	v, _ := f.Fields[i].read()
	return v.choice
}

// Point returns the numbers of field i, which asks for two or three.
func (f *Form) Point(i int) []float64 {
	v, _ := f.Fields[i].read()
	return v.point
}

// Summary returns "title (2 of 5)", of the fields that are asked for.
func (f *Form) Summary() string {
	at, n := 0, 0
	for i := range f.Fields {
		if f.Asked(i) {
			n++
			if i <= f.at {
				at++
			}
		}
	}
	if n < 2 {
		return f.Title
	}
	return fmt.Sprintf("%s (%d of %d)", f.Title, at, n)
}

// Answer takes a whole line for the field that is typed into, as a dialogue of
// plain lines does: nothing keeps the present value, a single - empties it, and
// the number of a choice picks that. Then it goes on as the enter key does.
func (f *Form) Answer(line string) Outcome {
	field := f.Fields[f.At()]
	field.failed, field.refused, f.problem = false, "", ""
	line = strings.TrimSpace(line)
	switch {
	case line == "":
	case field.Kind == Choose:
		if !field.pick(line) {
			field.refused = fmt.Sprintf("type a number from 1 to %d", len(field.Choices))
			return Open
		}
	case line == "-" && field.Optional != "":
		field.set("")
	default:
		if field.Kind == Place || field.Kind == TableRow {
			line = cells(line)
		}
		field.set(string(printable([]rune(line))))
	}
	return f.enter()
}
