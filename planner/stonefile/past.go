package stonefile

import (
	"bytes"
	"encoding/json"

	"cabwright/planner"
	"cabwright/presets"
)

// Past returns a stone as an entry of its diary keeps it: the text of a stone file
// on one line, without a diary.
func Past(s planner.Stone) json.RawMessage {
	s.Diary = nil
	var b bytes.Buffer
	if err := json.Compact(&b, format(s)); err != nil {
		panic(err) // what format writes is JSON
	}
	return b.Bytes()
}

// ReadPast reads a stone that an entry of a diary keeps. It need not be finished.
// An error is an *Error.
func ReadPast(text json.RawMessage, set *presets.Set) (planner.Stone, error) {
	d, err := draft("the diary's stone", text, set)
	if err != nil {
		return planner.Stone{}, err
	}
	return d.Stone, nil
}
