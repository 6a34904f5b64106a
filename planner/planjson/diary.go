package planjson

import (
	"encoding/json"
	"io"

	"cabwright/planner"
	"cabwright/planner/diary"
)

// DiaryJudged is what is worked out from a diary.
type DiaryJudged struct {
	Porous      bool
	Dryness     diary.Dryness
	Disclosures []string
	Checks      func(planner.Entry) []diary.Check // what an entry found, against what was thought
}

type diaryFile struct {
	Format     string       `json:"format"`
	Version    int          `json:"version"`
	Stone      text         `json:"stone"`
	Steady     bool         `json:"steady"`
	Dryness    text         `json:"dryness"`
	Uptake     *measured    `json:"uptake_pct"`
	NotDry     bool         `json:"not_dry"` // porous, and not steady
	Disclosure []text       `json:"disclosure"`
	Entries    []diaryEntry `json:"entries"`
}

type diaryEntry struct {
	Date       text            `json:"date"`
	Stage      text            `json:"stage"`
	Carat      *measured       `json:"carat"`
	State      text            `json:"state,omitempty"`
	Note       text            `json:"note,omitempty"`
	Photo      text            `json:"photo,omitempty"`
	Treatments []text          `json:"treatments,omitempty"`
	Found      []diaryCheck    `json:"found,omitempty"`
	Planned    json.RawMessage `json:"planned,omitempty"`
}

type diaryCheck struct {
	What    text   `json:"what"`
	Found   exact  `json:"found"`
	Thought *exact `json:"thought"` // null: not known then
	Least   *exact `json:"least,omitempty"`
	Most    *exact `json:"most,omitempty"`
	Held    *bool  `json:"held,omitempty"`
}

// WriteDiary writes a stone's diary, and what is worked out from it, as one JSON
// object. The stones that entries keep are left out: the stone file has them.
func WriteDiary(w io.Writer, s planner.Stone, j DiaryJudged) error {
	out := diaryFile{
		Format:     "cabwright-diary",
		Version:    1,
		Stone:      text(s.Name),
		Steady:     j.Dryness.Steady,
		Dryness:    text(j.Dryness.Why),
		NotDry:     j.Porous && !j.Dryness.Steady,
		Disclosure: texts(j.Disclosures),
		Entries:    []diaryEntry{},
	}
	if j.Dryness.Uptake != 0 {
		uptake := measured(j.Dryness.Uptake)
		out.Uptake = &uptake
	}
	for _, e := range s.Diary {
		line := diaryEntry{
			Date:       text(e.Date),
			Stage:      text(e.Stage),
			State:      text(e.State),
			Note:       text(e.Note),
			Photo:      text(e.Photo),
			Treatments: texts(e.Treatments),
			Planned:    e.Planned,
		}
		if e.Carat > 0 {
			ct := measured(e.Carat)
			line.Carat = &ct
		}
		for _, c := range j.Checks(e) {
			line.Found = append(line.Found, diaryCheckOf(c))
		}
		out.Entries = append(out.Entries, line)
	}
	b := &builder{}
	b.value(out)
	b.raw("\n")
	if b.err != nil {
		return b.err
	}
	_, err := w.Write(b.Bytes())
	return err
}

func diaryCheckOf(c diary.Check) diaryCheck {
	out := diaryCheck{What: text(c.What), Found: exact(c.Found)}
	if c.Known {
		thought := exact(c.Thought)
		out.Thought = &thought
	}
	if c.Ranged {
		least, most, held := exact(c.Least), exact(c.Most), c.Held()
		out.Least, out.Most, out.Held = &least, &most, &held
	}
	return out
}
