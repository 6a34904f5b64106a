package marks

import (
	"errors"
	"fmt"
	"slices"

	"cabwright/geometry"
	"cabwright/planner"
	"cabwright/planner/odds"
	"cabwright/ui/edit"
	"cabwright/ui/keys"
	"cabwright/ui/style"
	"cabwright/ui/view"
	"cabwright/ui/widget"
)

// unsureActions are about how sure a cutter is of a mark.
func (v *View) unsureActions(s *view.State) []keys.Action {
	t, is := selected(s)
	mark := is && t.Kind != view.Zone
	why := keys.Unless(mark, "no crack or pocket is selected: tab goes from one mark to the next")
	half := keys.Action{
		Name:     "Not sure of its depth",
		Keys:     []string{"n"},
		Short:    "not sure",
		Help:     "take the depth as from half to double; n again takes it as known",
		Words:    "unsure doubt odds range guess",
		Disabled: why,
		Run:      keys.Do(func() { v.halfToDouble(s, t) }),
	}
	if mark && isUnsure(s.Stone(), t) {
		half.Name, half.Short, half.Help = "Sure of it", "sure", "take depth, run-on and presence as known"
		half.Run = keys.Do(func() { v.sure(s, t) })
	}
	crack := is && t.Kind == view.Crack
	lookable := mark && slices.Contains(edit.Lookable(s.Stone()), id(s.Stone(), t))
	return []keys.Action{
		half,
		{
			Name:     "How sure of it",
			Keys:     []string{"N"},
			Help:     "could it be less deep, could it be more, is it there at all",
			Words:    "unsure doubt odds range chance",
			Disabled: why,
			Run:      keys.Do(func() { v.askHowSure(s, t) }),
		},
		{
			Name:     "Looked, and it is still there",
			Keys:     []string{"W"},
			Help:     "how deep you looked: that is the least it can be from then on",
			Words:    "window dig least depth unsure odds",
			Disabled: keys.Unless(lookable, "no mark of unsure depth is selected: n makes it unsure"),
			Run:      keys.Do(func() { edit.AskLooked(s, id(s.Stone(), t), 0) }),
		},
		{
			Name:     "Suppose a pocket where the crack ends",
			Keys:     []string{"P"},
			Help:     "cracks and sand often go together (common practice): with a chance that it is there",
			Words:    "sand unsure",
			Disabled: keys.Unless(crack, "no crack is selected: tab goes from one mark to the next"),
			Run:      keys.Do(func() { v.askSupposed(s, t) }),
		},
	}
}

// isUnsure reports whether something of a mark is not known for sure.
func isUnsure(st planner.Stone, t view.Selection) bool {
	switch t.Kind {
	case view.Crack:
		k := st.Cracks[t.Index]
		return k.DepthRange != nil || k.RunOnRange != nil || k.Chance != nil
	case view.Pocket:
		p := st.Pockets[t.Index]
		return p.DepthRange != nil || p.TopRange != nil || p.BottomRange != nil || p.Chance != nil
	}
	return false
}

func (v *View) halfToDouble(s *view.State, t view.Selection) {
	mark := id(s.Stone(), t)
	// What is wrong stands in the status line.
	_ = s.Do(
		"Take "+mark+" as half to double",
		func(st planner.Stone) (planner.Stone, error) { return planner.MakeUnsure(st, mark) },
	)
}

func (v *View) sure(s *view.State, t view.Selection) {
	mark := id(s.Stone(), t)
	_ = s.Do("Take "+mark+" as known", func(st planner.Stone) (planner.Stone, error) { return planner.MakeSure(st, mark) })
}

// percentField asks how likely a mark is there at all.
func percentField(now *float64) *widget.Field {
	f := &widget.Field{
		Label:    "Chance that it is there at all, %",
		Kind:     widget.Plain,
		Max:      100,
		Step:     5,
		Optional: "it is there",
	}
	if now != nil {
		f.WithNumber(100 * *now)
	}
	return f
}

func readPercent(f *widget.Form, i int) *float64 {
	if f.Blank(i) || f.Number(i) == 100 {
		return nil
	}
	share := f.Number(i) / 100
	return &share
}

// askHowSure asks what a depth could be besides its likely value.
func (v *View) askHowSure(s *view.State, t view.Selection) {
	st, mark := s.Stone(), id(s.Stone(), t)
	if t.Kind == view.Crack {
		k := st.Cracks[t.Index]
		v.askLessMore(s, mark, k.Depth, k.Through, k.DepthRange, k.Chance)
		return
	}
	p := st.Pockets[t.Index]
	if p.Face == planner.Top || p.Face == planner.Base {
		v.askLessMore(s, mark, p.Depth, false, p.DepthRange, p.Chance)
		return
	}
	// The heights of an inside pocket are typed as ranges where they are changed.
	s.Ask(&widget.Form{
		Title:  "How sure are you of " + mark + "?",
		Fields: []*widget.Field{percentField(p.Chance)},
		Done: func(f *widget.Form) error {
			return v.keepHowSure(s, mark, nil, readPercent(f, 0))
		},
	})
}

// askLessMore asks whether a depth could be less, and more.
func (v *View) askLessMore(
	s *view.State,
	mark string,
	depth float64,
	through bool,
	now *planner.Range,
	chance *float64,
) {
	likely := fmt.Sprintf("%g mm", depth)
	if through {
		likely = "right through"
	}
	less := blank(fmt.Sprintf("Likely %s. Could it be less, as little as", likely), "no", 0)
	more := blank("Could it be more, as much as", "no", 0)
	if through {
		more.Hidden = func(*widget.Form) bool { return true }
	}
	if now != nil {
		less.WithNumber(now.Least)
		if !now.Open {
			more.WithNumber(now.Most)
		}
	}
	s.Ask(&widget.Form{
		Title:  "How sure are you of " + mark + "?",
		Fields: []*widget.Field{less, more, percentField(chance)},
		Done: func(f *widget.Form) error {
			r := &planner.Range{Least: depth, Most: depth, Open: through}
			if !f.Blank(0) {
				r.Least = f.Number(0)
			}
			if !f.Blank(1) {
				r.Most = f.Number(1)
			}
			switch {
			case !through && r.Least > depth:
				return widget.Wrong{Field: 0, Err: fmt.Errorf("that is more than the likely %s", likely)}
			case !through && r.Most < depth:
				return widget.Wrong{Field: 1, Err: fmt.Errorf("that is less than the likely %s", likely)}
			case !through && r.Least == r.Most || through && f.Blank(0):
				r = nil
			}
			err := v.keepHowSure(s, mark, r, readPercent(f, 2))
			if err == nil && r != nil {
				s.Say(style.Text, "%s: %s.", mark, rangeWords(s, odds.Depth)(spanOf(depth, through, r)))
			}
			return err
		},
	})
}

// keepHowSure gives a mark another depth range and chance.
func (v *View) keepHowSure(s *view.State, mark string, depth *planner.Range, chance *float64) error {
	return s.Do("Change how sure "+mark+" is", func(st planner.Stone) (planner.Stone, error) {
		for _, k := range st.Cracks {
			if k.ID == mark {
				k.DepthRange, k.Chance = depth, chance
				return planner.ReplaceCrack(st, mark, k)
			}
		}
		for _, p := range st.Pockets {
			if p.ID == mark {
				p.DepthRange, p.Chance = depth, chance
				return planner.ReplacePocket(st, mark, p)
			}
		}
		return st, errors.New("there is no such mark any more")
	})
}

// askSupposed asks for a pocket that may be where a crack ends: at its selected
// point, else at its last.
func (v *View) askSupposed(s *view.State, t view.Selection) {
	const deep, chance = 2, 6
	k := s.Stone().Cracks[t.Index]
	end := k.Path[len(k.Path)-1]
	if t.Point >= 0 {
		end = k.Path[t.Point]
	}
	depth := k.Depth
	if depth == 0 {
		depth = 2
	}
	half := 0.5
	fields := append(ovalFields(end, 2), pocketFields(s, deep, planner.Pocket{Face: k.Face, Depth: depth, High: 1})...)
	fields = append(fields, percentField(&half))
	s.Ask(
		&widget.Form{Title: "A pocket supposed where " + k.ID + " ends", Fields: fields, Done: func(f *widget.Form) error {
			p, err := readPocket(f, deep, planner.Pocket{Chance: readPercent(f, chance)})
			if err != nil {
				return err
			}
			middle, size := f.Point(0), f.Point(1)
			p.Outline = planner.OvalOutline(geometry.Vec2{X: middle[0], Y: middle[1]}, size[0], size[1], 0)
			name := "Suppose a pocket where " + k.ID + " ends"
			return v.add(s, name, view.Pocket, func(st planner.Stone) (planner.Stone, error) { return planner.AddPocket(st, p) })
		}},
	)
}
