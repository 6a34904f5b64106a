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
// wrong with it; those before it have been taken.
func (f *Form) paste(text string) Outcome {
	lines := strings.Split(strings.NewReplacer("\r\n", "\n", "\r", "\n").Replace(text), "\n")
	for i, line := range lines {
		if strings.TrimSpace(line) == "" {
			continue
		}
		if out := f.Answer(line); out != Open {
			return out
		}
		if f.wrong() {
			f.problem = fmt.Sprintf("line %d of the %d pasted was not taken; those before it were", i+1, len(lines))
			return Open
		}
	}
	return Open
}
