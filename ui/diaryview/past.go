package diaryview

import (
	"encoding/json"

	tea "github.com/charmbracelet/bubbletea"

	"cabwright/planner"
	"cabwright/planner/diary"
	"cabwright/planner/planjson"
	"cabwright/planner/search"
	"cabwright/planner/stonefile"
	"cabwright/presets"
	"cabwright/ui/view"
)

// past is a stone that an entry keeps.
type past struct {
	stone  planner.Stone
	rough  *planner.Rough
	fit    *search.Fit
	checks []diary.Check
	err    error
}

// key names what an entry keeps: texts that are read once never change.
type key struct{ stone, planned *byte }

func keyOf(e planner.Entry) key { return key{first(e.Stone), first(e.Planned)} }

func first(text json.RawMessage) *byte {
	if len(text) == 0 {
		return nil
	}
	return &text[0]
}

// pastMsg brings a past stone to the view.
type pastMsg struct {
	key  key
	past past
}

// past returns the stone of entry i, or the one of now for i behind the last; not
// known while it is being read.
func (v *View) past(s *view.State, i int) (p past, known bool) {
	stone := s.Stone()
	if i >= len(stone.Diary) {
		p := past{stone: stone, fit: s.Best()}
		if s.RoughOf == s.Revision() {
			p.rough = s.Rough
		}
		return p, true
	}
	p, known = v.pasts[keyOf(stone.Diary[i])]
	return p, known
}

// followPasts begins to read what the chosen entries keep, one after the other.
func (v *View) followPasts(s *view.State) tea.Cmd {
	if v.reading {
		return nil
	}
	for _, i := range []int{v.at, v.beside} {
		if i < 0 || i >= len(s.Stone().Diary) {
			continue
		}
		e, set := s.Stone().Diary[i], s.Presets
		k := keyOf(e)
		if _, known := v.pasts[k]; known {
			continue
		}
		v.reading = true
		return func() tea.Msg { return pastMsg{k, readPast(e, set)} }
	}
	return nil
}

// readPast reads what an entry keeps: its stone, with the solid of it, and its fit.
func readPast(e planner.Entry, set *presets.Set) past {
	var p past
	if e.Planned != nil {
		if f, err := planjson.ReadFit(e.Planned); err == nil {
			p.fit = &f
		}
	}
	if e.Stone == nil {
		return p
	}
	if p.stone, p.err = stonefile.ReadPast(e.Stone, set); p.err != nil {
		return p
	}
	if r, err := planner.NewRough(p.stone); err == nil {
		p.rough = r
	}
	p.checks = diary.Checks(e, set)
	return p
}
