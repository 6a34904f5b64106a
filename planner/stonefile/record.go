package stonefile

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"hash/crc32"
	"strconv"
	"unicode/utf8"
)

// A journal is lines of text. Each is the CRC-32C (Castagnoli, RFC 3720) of
// what follows it, in eight hexadecimal digits, a blank, and one record as JSON.
// The first record starts the journal with a stone's whole text; each later one
// changes one piece of the text before it.

// record is one line of a journal.
type record struct {
	Kind string `json:"kind"` // start, edit or save
	Seq  uint64 `json:"seq"`  // one more than the record before

	// Of a start.
	Format     string `json:"format,omitempty"`
	Generation uint64 `json:"generation,omitempty"` // later journals of a stone have larger ones
	File       string `json:"file,omitempty"`       // the stone file's path
	Text       string `json:"text,omitempty"`
	Edits      int    `json:"edits,omitempty"` // edits that Text holds already

	// Of a start and a save: the digest of the stone file's bytes that the
	// edits up to here began from, or are about to be saved in; empty: no file.
	Sum string `json:"sum,omitempty"`

	// Of an edit: its name, and the text changed: Cut bytes at At become Put.
	// Of a start: the name of the latest edit in Text.
	Edit string `json:"edit,omitempty"`
	At   int    `json:"at,omitempty"`
	Cut  int    `json:"cut,omitempty"`
	Put  string `json:"put,omitempty"`
}

const (
	kindStart = "start"
	kindEdit  = "edit"
	kindSave  = "save"

	journalFormat = "cabwright-journal-1"
)

var castagnoli = crc32.MakeTable(crc32.Castagnoli)

// encode returns a record's line.
func (r record) encode() []byte {
	var body bytes.Buffer
	e := json.NewEncoder(&body)
	e.SetEscapeHTML(false)
	if err := e.Encode(r); err != nil {
		panic(err) // a struct of texts and numbers always encodes
	}
	return seal(body.Bytes()) // Encode has ended it with a newline
}

// seal puts the checksum of a record's JSON and newline before it.
func seal(body []byte) []byte {
	return append(fmt.Appendf(nil, "%08x ", crc32.Checksum(body, castagnoli)), body...)
}

// errRecord says that a line is not what was once written.
var errRecord = errors.New("a record that is not as it was written")

// decodeRecord reads a line with its newline.
func decodeRecord(line []byte) (r record, err error) {
	const head = 9
	if len(line) < head+1 || line[head-1] != ' ' || line[len(line)-1] != '\n' {
		return r, errRecord
	}
	sum, err := strconv.ParseUint(string(line[:head-1]), 16, 32)
	if err != nil || uint32(sum) != crc32.Checksum(line[head:], castagnoli) {
		return r, errRecord
	}
	if err := json.Unmarshal(line[head:], &r); err != nil {
		return r, errRecord
	}
	return r, nil
}

// change returns the edit record that turns one text into another: what is left
// when their common beginning and end are taken away, cut at whole characters.
func change(before, after []byte) record {
	at := 0
	for at < len(before) && at < len(after) && before[at] == after[at] {
		at++
	}
	for at > 0 && (at < len(after) && !utf8.RuneStart(after[at]) || at < len(before) && !utf8.RuneStart(before[at])) {
		at--
	}
	end := 0
	for end < len(before)-at && end < len(after)-at && before[len(before)-1-end] == after[len(after)-1-end] {
		end++
	}
	for end > 0 && !utf8.RuneStart(after[len(after)-end]) {
		end--
	}
	return record{Kind: kindEdit, At: at, Cut: len(before) - at - end, Put: string(after[at : len(after)-end])}
}

// apply makes an edit record's change.
func (r record) apply(text []byte) ([]byte, error) {
	if r.At < 0 || r.Cut < 0 || r.At > len(text) || r.Cut > len(text)-r.At || len(text)+len(r.Put)-r.Cut > maxSize {
		return nil, errRecord
	}
	out := make([]byte, 0, len(text)+len(r.Put)-r.Cut)
	out = append(out, text[:r.At]...)
	out = append(out, r.Put...)
	return append(out, text[r.At+r.Cut:]...), nil
}

// story is what a journal tells, as far as it can be read.
type story struct {
	generation, seq uint64
	text            []byte
	edits           []string // the names of those that the journal spells out
	edited          int      // number of edits, those before a compaction included
	sums            []string // digests of the stone files it belongs to
	cut             bool     // something behind the last good record could not be read
}

// readStory reads a journal up to its end or to the first record that is not
// as it was written. It fails when not even the first one is.
func readStory(data []byte) (*story, error) {
	var st *story
	for len(data) > 0 {
		line := data
		if i := bytes.IndexByte(data, '\n'); i >= 0 {
			line = data[:i+1]
		}
		r, err := decodeRecord(line)
		if err == nil {
			st, err = st.then(r)
		}
		if err != nil {
			if st == nil {
				return nil, err
			}
			st.cut = true
			return st, nil
		}
		data = data[len(line):]
	}
	if st == nil {
		return nil, errRecord
	}
	return st, nil
}

// then returns the story with one more record.
func (st *story) then(r record) (*story, error) {
	if st == nil {
		if r.Kind != kindStart || r.Format != journalFormat {
			return nil, errRecord
		}
		st = &story{generation: r.Generation, seq: r.Seq, text: []byte(r.Text), edited: r.Edits, sums: []string{r.Sum}}
		if r.Edit != "" {
			st.edits = []string{r.Edit}
		}
		return st, nil
	}
	if r.Seq != st.seq+1 {
		return st, errRecord
	}
	switch r.Kind {
	case kindEdit:
		text, err := r.apply(st.text)
		if err != nil {
			return st, err
		}
		st.text = text
		st.edits = append(st.edits, r.Edit)
		st.edited++
	case kindSave:
		st.sums = append(st.sums, r.Sum)
	default:
		return st, errRecord
	}
	st.seq = r.Seq
	return st, nil
}
