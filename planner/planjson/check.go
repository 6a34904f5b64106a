package planjson

import (
	"io"

	"cabwright/planner"
)

// WriteCheck writes what a look at a stone file found, as one JSON object: the
// stone as a plan is headed with it, and the remarks made.
func WriteCheck(w io.Writer, s planner.Stone, rough Rough, remarks []string) error {
	b := &builder{}
	b.raw("{\n  \"format\": \"cabwright-check\", \"version\": 1,\n  \"stone\": ")
	b.value(head(s, rough))
	var lines []any
	for _, r := range remarks {
		lines = append(lines, text(r))
	}
	b.list("remarks", lines)
	b.raw("\n}\n")
	if b.err != nil {
		return b.err
	}
	_, err := w.Write(b.Bytes())
	return err
}
