package planner

import (
	"bytes"
	"encoding/json"
	"slices"
)

// Entry is one entry of a stone's diary. It is never changed once it is made.
type Entry struct {
	Date       string  // 2026-05-02, or with a time as in RFC 3339
	Stage      string  // "first grind"
	Carat      float64 // weight then; 0: not weighed
	State      string  // when it was weighed: "dry", "soaked"
	Note       string
	Photo      string // where a picture of it is
	Treatments []string
	Found      []Finding       // what was found out about the marks
	Planned    json.RawMessage // the fit that was meant, as a plan prints it; nil: none
	Stone      json.RawMessage // the stone as it was, as a stone file without a diary; nil: none
	Unknown    []UnknownKey
}

// Finding is a value of a mark that was measured: P1.depth is 3.2 mm.
type Finding struct {
	What  string // the mark's id and what of it, with a point between
	Value float64
}

func (e Entry) equal(o Entry) bool {
	return e.Date == o.Date && e.Stage == o.Stage && e.Carat == o.Carat && e.State == o.State &&
		e.Note == o.Note && e.Photo == o.Photo && same(e.Treatments, o.Treatments) && same(e.Found, o.Found) &&
		bytes.Equal(e.Planned, o.Planned) && bytes.Equal(e.Stone, o.Stone) &&
		sameFunc(e.Unknown, o.Unknown, UnknownKey.equal)
}

// AddEntry adds an entry at the end of the diary.
func AddEntry(s Stone, e Entry) (Stone, error) {
	var c checker
	c.entry(at("diary", len(s.Diary)), e)
	if err := c.first(); err != nil {
		return s, err
	}
	e.Treatments, e.Found = slices.Clone(e.Treatments), slices.Clone(e.Found)
	s.Diary = inserted(s.Diary, len(s.Diary), e)
	return s, nil
}
