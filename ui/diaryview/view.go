package diaryview

import (
	"encoding/json"
	"fmt"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"cabwright/planner"
	"cabwright/planner/planjson"
	"cabwright/ui/keys"
	"cabwright/ui/style"
	"cabwright/ui/view"
)

// View is the view of the diary; New makes one.
type View struct {
	at      int // the entry looked at, from 0; the number of entries: the stone as it is now
	beside  int // the one it is set beside, alone for none
	first   int // the first line of the list that is shown
	pasts   map[key]past
	reading bool // a past stone is being read
	change  change
	told    view.Aside[changeOf, told]
	Today   func() time.Time // for the date of a new entry
}

// latest stands for the stone as it is now, however many entries there are.
const latest = 1 << 30

// alone stands for no stone beside the chosen one.
const alone = -1

// New returns the view.
func New() *View { return &View{at: latest, beside: alone, pasts: map[key]past{}, Today: time.Now} }

// Name stands on the title line.
func (v *View) Name() string { return "Diary" }

// Follow begins what is to be read and compared, beside the event loop.
func (v *View) Follow(s *view.State) tea.Cmd {
	v.keep(s)
	if cmd := v.followPasts(s); cmd != nil {
		return cmd
	}
	return v.followChange(s)
}

// Update takes what was read and compared.
func (v *View) Update(_ *view.State, msg tea.Msg) tea.Cmd {
	if p, ok := msg.(pastMsg); ok {
		v.pasts[p.key], v.reading = p.past, false
	}
	v.told.Take(msg)
	return nil
}

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
// chosen, or the best; nil: none.
func planned(s *view.State) json.RawMessage {
	f := s.Best()
	if s.Chosen != nil {
		f = s.Chosen
	}
	if f == nil {
		return nil
	}
	return planjson.Fit(1, *f)
}
