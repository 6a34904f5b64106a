package diaryview

import (
	"encoding/json"
	"fmt"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"cabwright/planner"
	"cabwright/planner/diary"
	"cabwright/planner/planjson"
	"cabwright/planner/search"
	"cabwright/planner/stonefile"
	"cabwright/presets"
	"cabwright/ui/keys"
	"cabwright/ui/style"
	"cabwright/ui/view"
)

// View is the view of the diary; New makes one.
type View struct {
	at     int // the entry looked at, from 0; the number of entries: the stone as it is now
	beside int // the one it is set beside, -1 for none
	first  int // the first line of the list that is shown
	pasts  map[string]past
	change change
	Today  func() time.Time // for the date of a new entry
}

// past is a stone that an entry keeps, read once.
type past struct {
	stone  planner.Stone
	rough  *planner.Rough
	fit    *search.Fit
	checks []diary.Check
	err    error
}

// change is what the last entry did to the plan.
type change struct {
	meant    *search.Fit // best before it; nil: none, or no entry was made
	made     bool
	done     diary.Done
	revision int  // of the stone with the entry
	told     bool // the plan for it has ended and is compared
	text     string
}

// latest stands for the stone as it is now, however many entries there are.
const latest = 1 << 30

// alone stands for no stone beside the chosen one.
const alone = -1

// New returns the view.
func New() *View { return &View{at: latest, beside: alone, pasts: map[string]past{}, Today: time.Now} }

// Name stands on the title line.
func (v *View) Name() string { return "Diary" }

// Update has nothing to wait for.
func (v *View) Update(*view.State, tea.Msg) tea.Cmd { return nil }

// Mouse chooses an entry.
func (v *View) Mouse(s *view.State, m view.Mouse) tea.Cmd {
	switch m.Kind {
	case view.WheelUp:
		v.move(s, -1)
	case view.WheelDown:
		v.move(s, 1)
	case view.Press:
		if i := v.first + m.Row - listHead; m.Row >= listHead && m.Row < listHead+v.listRows(s, m.Height) &&
			i <= len(s.Stone().Diary) {
			v.at = i
		}
	}
	return nil
}

func (v *View) move(s *view.State, by int) {
	v.keep(s)
	n := len(s.Stone().Diary)
	at := max(0, min(v.at+by, n))
	if at == v.beside { // the one that stays is passed over
		at = v.beside + by
	}
	if at >= 0 && at <= n {
		v.at = at
	}
}

// keep holds the choice to the entries there are: an undo may have taken one.
func (v *View) keep(s *view.State) {
	n := len(s.Stone().Diary)
	v.at = max(0, min(v.at, n))
	if v.beside > n || v.beside == v.at {
		v.beside = alone
	}
}

// read returns the stone of entry i, or the one of now for i behind the last.
func (v *View) read(s *view.State, i int) past {
	stone := s.Stone()
	if i >= len(stone.Diary) {
		p := past{stone: stone, fit: s.Best()}
		if s.RoughOf == s.Revision() {
			p.rough = s.Rough
		}
		return p
	}
	e := stone.Diary[i]
	key := fmt.Sprintf("%d %d %s", i, len(e.Stone), e.Date)
	if p, known := v.pasts[key]; known {
		return p
	}
	p := readPast(e, s.Presets)
	v.pasts[key] = p
	return p
}

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

// Actions returns what can be done now.
func (v *View) Actions(s *view.State) []keys.Action {
	v.keep(s)
	n := len(s.Stone().Diary)
	none := keys.Unless(n > 0, "the diary has no entry yet: n makes one")
	return []keys.Action{
		{
			Name:  "New entry",
			Keys:  []string{"n"},
			Short: "new entry",
			Help:  "weight, what was found, ground off, sealed; the stone as it is goes with it",
			Words: "diary weigh grind seal polish sold note",
			Run:   keys.Do(func() { v.askEntry(s) }),
		},
		{
			Name:     "Entry before",
			Keys:     []string{"up", "k"},
			Short:    "choose",
			Help:     "the stone as it was then is drawn",
			Disabled: none,
			Run:      keys.Do(func() { v.move(s, -1) }),
		},
		{
			Name:     "Next entry",
			Keys:     []string{"down", "j"},
			Help:     "the last line is the stone as it is now",
			Disabled: none,
			Run:      keys.Do(func() { v.move(s, 1) }),
		},
		{
			Name:     "Set beside",
			Keys:     []string{"b"},
			Short:    "beside",
			Help:     "keep this one in sight and choose another beside it; again: alone",
			Words:    "compare two",
			Disabled: none,
			Run:      keys.Do(func() { v.setBeside(s) }),
		},
		{
			Name:  "Show the other face",
			Keys:  []string{"f"},
			Short: "other face",
			Help:  "the base as it is seen with the stone turned over, or the top again",
			Run:   keys.Do(s.TurnFace),
		},
	}
}

func (v *View) setBeside(s *view.State) {
	if v.beside != alone {
		v.beside = alone
		s.Say(style.Text, "One stone alone again.")
		return
	}
	from := v.at
	if v.at < len(s.Stone().Diary) {
		v.move(s, 1)
	} else {
		v.move(s, -1)
	}
	v.beside = from
	s.Say(style.Text, "%s stays; choose another with the arrows.", v.name(s, v.beside))
}

// name is what an entry is called.
func (v *View) name(s *view.State, i int) string {
	if i >= len(s.Stone().Diary) {
		return "The stone now"
	}
	return fmt.Sprintf("Entry %d, %s,", i+1, planner.Visible(s.Stone().Diary[i].Stage))
}

// planned is the fit that the stone is to become now, as an entry keeps it: the one
// chosen, or the best.
func planned(s *view.State) (*search.Fit, json.RawMessage) {
	f := s.Best()
	if s.Chosen != nil {
		f = s.Chosen
	}
	if f == nil {
		return nil, nil
	}
	kept := *f
	return &kept, planjson.Fit(1, kept)
}
