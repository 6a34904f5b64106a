package presets

import (
	"bytes"
	"encoding/json"
	"fmt"
	"strings"
	"unicode"
)

// fields reads the keys of one JSON object and remembers the first thing that
// is wrong with them, with its place (`sizes[3].length_mm`).
type fields struct {
	place string
	raw   map[string]json.RawMessage
	known map[string]bool
	order []string
	err   error
}

// newFields splits a JSON object into its keys. A key given twice is an error:
// a reader that takes the last one would change the meaning silently.
func newFields(place string, raw json.RawMessage) *fields {
	f := &fields{place: place, raw: map[string]json.RawMessage{}, known: map[string]bool{}}
	dec := json.NewDecoder(bytes.NewReader(raw))
	if open, err := dec.Token(); err != nil || open != json.Delim('{') {
		f.fail("", "an object in braces is wanted here")
		return f
	}
	for dec.More() {
		token, err := dec.Token()
		key, isText := token.(string)
		var value json.RawMessage
		if err != nil || !isText || dec.Decode(&value) != nil {
			f.fail("", "the object cannot be read as JSON")
			return f
		}
		if _, twice := f.raw[key]; twice {
			f.fail(key, "given twice")
			return f
		}
		f.raw[key] = value
		f.order = append(f.order, key)
	}
	return f
}

// at returns the place of a key of this object.
func (f *fields) at(key string) string {
	key = visible(key)
	if f.place == "" || key == "" {
		return f.place + key
	}
	return f.place + "." + key
}

func (f *fields) fail(key, format string, args ...any) {
	if f.err == nil {
		f.err = &placeError{f.at(key), fmt.Sprintf(format, args...)}
	}
}

// take decodes a key into target and reports whether it was there.
func (f *fields) take(key string, target any, wanted string) bool {
	f.known[key] = true
	raw, ok := f.raw[key]
	if !ok || f.err != nil {
		return false
	}
	if string(raw) == "null" || json.Unmarshal(raw, target) != nil {
		f.fail(key, "%s is wanted here", wanted)
		return false
	}
	return true
}

// text reads a string of visible characters; it must be there.
func (f *fields) text(key string) string {
	var s string
	if !f.take(key, &s, "a text in quotes") {
		f.fail(key, "missing")
		return ""
	}
	f.checkText(key, s)
	return s
}

// textOr reads a string that may be left out.
func (f *fields) textOr(key, otherwise string) string {
	if _, ok := f.raw[key]; !ok {
		f.known[key] = true
		return otherwise
	}
	return f.text(key)
}

func (f *fields) checkText(key, s string) {
	if strings.TrimSpace(s) == "" {
		f.fail(key, "empty")
	}
	if visible(s) != s {
		f.fail(key, "control or invisible characters in %s", visible(s))
	}
}

// texts reads a list of strings that may be left out.
func (f *fields) texts(key string) []string {
	var list []string
	f.take(key, &list, "a list of texts")
	for i, s := range list {
		f.checkText(fmt.Sprintf("%s[%d]", key, i), s)
	}
	return list
}

// number reads a number from low to high; it must be there.
func (f *fields) number(key string, low, high float64) float64 {
	var x float64
	if !f.take(key, &x, "a number") {
		f.fail(key, "missing")
		return 0
	}
	f.checkNumber(key, x, low, high)
	return x
}

// numberOr reads a number from low to high that may be left out.
func (f *fields) numberOr(key string, low, high, otherwise float64) float64 {
	if _, ok := f.raw[key]; !ok {
		f.known[key] = true
		return otherwise
	}
	return f.number(key, low, high)
}

func (f *fields) checkNumber(key string, x, low, high float64) {
	if !(x >= low && x <= high) {
		f.fail(key, "%g is not from %g to %g", x, low, high)
	}
}

// rising reads a list of exactly n numbers from low to high, none below the
// one before it.
func (f *fields) rising(key string, n int, low, high float64) []float64 {
	var list []float64
	if !f.take(key, &list, "a list of numbers") {
		f.fail(key, "missing")
		return make([]float64, n)
	}
	if len(list) != n {
		f.fail(key, "%d numbers, %d are wanted", len(list), n)
		return make([]float64, n)
	}
	for i, x := range list {
		f.checkNumber(fmt.Sprintf("%s[%d]", key, i), x, low, high)
		if i > 0 && x < list[i-1] {
			f.fail(key, "the numbers must rise: %g comes after %g", x, list[i-1])
		}
	}
	return list
}

// flag reads true or false; left out is false.
func (f *fields) flag(key string) bool {
	var b bool
	f.take(key, &b, "true or false")
	return b
}

// unknown lists the keys nobody has asked for.
func (f *fields) unknown() []string {
	var keys []string
	for _, key := range f.order {
		if !f.known[key] {
			keys = append(keys, f.at(key))
		}
	}
	return keys
}

// placeError says what is wrong where in a file.
type placeError struct{ place, problem string }

func (e *placeError) Error() string {
	if e.place == "" {
		return e.problem
	}
	return e.place + ": " + e.problem
}

// visible shows control, escape and invisible characters as marks, so that a
// text from a file cannot steer a terminal.
func visible(s string) string {
	var b strings.Builder
	for _, r := range s {
		switch {
		case r == unicode.ReplacementChar:
			b.WriteString("?")
		case unicode.IsPrint(r):
			b.WriteRune(r)
		default:
			fmt.Fprintf(&b, "<U+%04X>", r)
		}
	}
	return b.String()
}
