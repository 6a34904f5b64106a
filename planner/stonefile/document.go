package stonefile

import (
	"bytes"
	"fmt"
	"io"
	"unicode/utf8"

	"cabwright/planner"
	"cabwright/presets"
)

// maxSize is the size in bytes over which a file is refused unread.
const maxSize = 16 << 20

// Document is a stone with the bytes it was read from.
type Document struct {
	Stone    planner.Stone
	Warnings []planner.Warning
	original []byte
}

// newDocument is a document with nothing but what the presets give.
func newDocument(set *presets.Set) *Document {
	d := decoder{set: set}
	return &Document{Stone: d.empty()}
}

// Bytes returns the text to save for a stone: the very bytes that were read
// while it is still the same, format otherwise.
func (d *Document) Bytes(s planner.Stone) []byte {
	if d.original != nil && s.Equal(d.Stone) {
		return d.original
	}
	return format(s)
}

// Read reads a stone file; set holds the materials and what the file leaves
// out. An error is an *Error.
func Read(path string, set *presets.Set) (*Document, error) {
	data, err := load(osDisk{}, path, maxSize)
	if err != nil {
		return nil, &Error{File: path, What: cause(err), Err: err}
	}
	return parse(path, data, set)
}

// ReadFrom reads the text of a stone file that is called name in messages. An
// error is an *Error.
func ReadFrom(r io.Reader, name string, set *presets.Set) (*Document, error) {
	data, err := io.ReadAll(io.LimitReader(r, maxSize+1))
	if err != nil {
		return nil, &Error{File: name, What: cause(err), Err: err}
	}
	return parse(name, data, set)
}

// parse reads the text of a stone file that is called name in messages. An error
// is an *Error.
func parse(name string, data []byte, set *presets.Set) (*Document, error) {
	d, err := draft(name, data, set)
	if err != nil {
		return nil, err
	}
	if problems := planner.Validate(d.Stone, set); len(problems) > 0 {
		return nil, &Error{File: name, Place: problems[0].Place, What: problems[0].What, Err: problems[0]}
	}
	return d, nil
}

// draft reads a text whose stone may not be finished: what the journal holds.
func draft(name string, data []byte, set *presets.Set) (*Document, error) {
	if what := notText(data); what != "" {
		return nil, &Error{File: name, What: what}
	}
	d := decoder{scanner: scanner{data: data}, set: set}
	if d.frame(); d.err == nil {
		d.pos = 0
		d.path = d.path[:0]
	}
	s := d.stone()
	if d.err != nil {
		d.err.File = name
		return nil, d.err
	}
	return &Document{Stone: s, Warnings: d.warnings, original: bytes.Clone(data)}, nil
}

// notText says what is wrong with bytes that are no UTF-8 text.
func notText(data []byte) string {
	switch {
	case len(data) > maxSize:
		return sizeError{int64(len(data)), maxSize}.Error()
	case len(bytes.TrimSpace(data)) == 0:
		return "not JSON: the file is empty"
	case bytes.HasPrefix(data, []byte("\xef\xbb\xbf")):
		return "not JSON: begins with a byte-order mark: save it as UTF-8 without one"
	case !utf8.Valid(data):
		good := 0
		for good < len(data) {
			r, size := utf8.DecodeRune(data[good:])
			if r == utf8.RuneError && size == 1 {
				break
			}
			good += size
		}
		return fmt.Sprintf(
			"not JSON: byte 0x%02X in line %d is no UTF-8", data[good], bytes.Count(data[:good], []byte("\n"))+1,
		)
	}
	return ""
}
