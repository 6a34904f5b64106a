package presets

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"regexp"
	"slices"
)

// The format every presets file names, and the newest version known.
const (
	formatName    = "cabwright-presets"
	formatVersion = 1
)

// reader adds the rows of one file to a set.
type reader struct {
	set      *Set
	source   string // of rows that do not say; "": each row has to
	warnings []string
}

// read adds the rows of a file's text to the set. A row with the key of one
// that is already there (for sizes: shape, length and width) takes its place.
func (r *reader) read(text []byte) error {
	if err := wellFormed(text); err != nil {
		return err
	}
	f := newFields("", text)
	if format := f.text("format"); f.err == nil && format != formatName {
		f.fail("format", "%q is wanted here", formatName)
	}
	if version := f.number("version", 1, 1e6); f.err == nil && version != formatVersion {
		f.fail("version", "this program knows version %d", formatVersion)
	}
	if f.err != nil {
		return f.err
	}
	for _, table := range []func(*fields) error{
		r.cautions, r.materials, r.sizes, r.domeStyles, r.backStyles, r.walls,
		r.saws, r.wheels, r.prices, r.roughPrices, r.allowances, r.defaults,
	} {
		if err := table(f); err != nil {
			return err
		}
	}
	r.note(f)
	return nil
}

// wellFormed gives the line of the first break of the JSON syntax.
func wellFormed(text []byte) error {
	var any json.RawMessage
	dec := json.NewDecoder(bytes.NewReader(text))
	err := dec.Decode(&any)
	if err == nil {
		if _, err = dec.Token(); err == io.EOF {
			return nil
		}
		err = fmt.Errorf("something follows the closing brace")
	}
	at := dec.InputOffset()
	switch syntax, ok := err.(*json.SyntaxError); {
	case ok:
		at = syntax.Offset
	case err == io.EOF || err == io.ErrUnexpectedEOF:
		at, err = int64(len(text)), fmt.Errorf("the text ends too early")
	}
	line := 1 + bytes.Count(text[:min(int(at), len(text))], []byte("\n"))
	return fmt.Errorf("line %d: not JSON: %v", line, err)
}

// note warns of the keys of an object that mean nothing here.
func (r *reader) note(f *fields) {
	for _, place := range f.unknown() {
		r.warnings = append(r.warnings, place+": unknown key, not used")
	}
}

// rows calls one for each row of a table with its fields.
func (r *reader) rows(file *fields, table string, one func(*fields)) error {
	var list []json.RawMessage
	file.take(table, &list, "a list of rows")
	if file.err != nil {
		return file.err
	}
	for i, raw := range list {
		f := newFields(fmt.Sprintf("%s[%d]", table, i), raw)
		if f.err == nil {
			one(f)
		}
		if f.err != nil {
			return f.err
		}
		r.note(f)
	}
	return nil
}

// sourceOf reads where a row's figures come from.
func (r *reader) sourceOf(f *fields) string {
	if r.source == "" {
		return f.text("source")
	}
	return f.textOr("source", r.source)
}

var keyForm = regexp.MustCompile(`^[a-z0-9]+(-[a-z0-9]+)*$`)

// keyOf reads the key of a row.
func (r *reader) keyOf(f *fields) string {
	key := f.text("key")
	if f.err == nil && !keyForm.MatchString(key) {
		f.fail("key", "%q: a key is made of a to z, 0 to 9 and single hyphens", key)
	}
	return key
}

// put adds a row, in the place of the one with the same key if there is one.
// It always makes a new slice: built-in sets share theirs.
func put[R row](table []R, one R) []R {
	table = slices.Clone(table)
	for i := range table {
		if table[i].key() == one.key() {
			table[i] = one
			return table
		}
	}
	return append(table, one)
}
