package widget

import (
	"fmt"
	"strings"
)

// blank reports whether nothing stands in the fields that are asked for.
func (f *Form) blank() bool {
	for i := range f.Fields {
		if f.Asked(i) && !f.Blank(i) {
			return false
		}
	}
	return true
}

// wrong reports whether the last answer was refused.
func (f *Form) wrong() bool {
	for _, field := range f.Fields {
		if field.failed || field.refused != "" {
			return true
		}
	}
	return f.problem != ""
}

// next empties the fields for the next line of a list.
func (f *Form) next() {
	for _, field := range f.Fields {
		field.was = ""
		field.set("")
	}
	f.at, f.problem = 0, ""
}

// paste takes many lines at once. A line that is refused stays, with what is
// wrong with it; those before it have been taken, those after it wait.
func (f *Form) paste(text string) Outcome {
	text = strings.NewReplacer("\r\n", "\n", "\r", "\n").Replace(text)
	f.rest = strings.Split(strings.TrimRight(text, "\n \t"), "\n")
	f.pasted = len(f.rest)
	return f.takeRest()
}

// takeRest takes the lines of a paste that wait, up to one that is refused.
func (f *Form) takeRest() Outcome {
	for len(f.rest) > 0 {
		line := f.rest[0]
		f.rest = f.rest[1:]
		if strings.TrimSpace(line) == "" {
			continue
		}
		if out := f.Answer(line); out != Open {
			return out
		}
		if f.wrong() {
			f.problem = fmt.Sprintf("line %d of the %d pasted was not taken", f.pasted-len(f.rest), f.pasted)
			if len(f.rest) > 0 {
				f.problem += ": mend it, or empty it to pass it over; enter goes on"
			}
			return Open
		}
	}
	return Open
}

// accept is enter; in the middle of a paste it goes on with the lines that wait, also
// where the one before them was emptied.
func (f *Form) accept() Outcome {
	waits := len(f.rest) > 0
	if waits && f.blank() {
		f.next()
		return f.takeRest()
	}
	out := f.enter()
	if out == Open && waits && f.blank() { // it was taken
		return f.takeRest()
	}
	return out
}

// waiting says how many lines of a paste wait, "" for none.
func (f *Form) waiting() string {
	switch n := len(f.rest); n {
	case 0:
		return ""
	case 1:
		return "1 line of the paste waits"
	default:
		return fmt.Sprintf("%d lines of the paste wait", n)
	}
}
