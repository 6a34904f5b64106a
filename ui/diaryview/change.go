package diaryview

import (
	tea "github.com/charmbracelet/bubbletea"

	"cabwright/planner/diary"
	"cabwright/planner/search"
	"cabwright/planner/worth"
	"cabwright/ui/style"
	"cabwright/ui/view"
)

// change is what the entry that was made last did to the plan.
type change struct {
	made     bool
	best     *search.Fit // before it; nil: none was known
	before   view.Priced // the stone before it, and its prices
	done     diary.Done
	revision int // of the stone with the entry
}

// changeOf names a comparison: the entry's, with the plan and the prices of now.
type changeOf struct {
	revision, plans int
	site            bool
	priced          view.PricedOf
}

// told is what became of the plan, in sentences.
type told struct {
	plan, worth string // worth is "" where no price is meant for either
}

// changeOf returns the comparison that is to be made now; false when there is none:
// no entry was made, the stone was edited since, or the plan for it is not done.
func (v *View) changeOf(s *view.State) (changeOf, bool) {
	c := &v.change
	if !c.made || c.revision != s.Revision() || s.Searching || !s.Current() {
		return changeOf{}, false
	}
	_, priced := s.Priced()
	return changeOf{
		revision: c.revision, plans: s.Plans(), site: s.Site != nil && s.RoughOf == s.Revision(), priced: priced,
	}, true
}

// followChange begins to compare the plan with the one before the entry.
func (v *View) followChange(s *view.State) tea.Cmd {
	of, ok := v.changeOf(s)
	if !ok {
		return nil
	}
	c, after := v.change, s.Best()
	now, _ := s.Priced()
	var site diary.Measurer
	if of.site {
		site = s.Site
	}
	return v.told.Ask(of, func() told { return c.tell(after, now, site) })
}

// tell compares the best fits before and after: carats, likely worth, and the marks
// that are in the way of the one before. site may be nil: then the marks are not
// asked for.
func (c change) tell(after *search.Fit, now view.Priced, site diary.Measurer) told {
	var out told
	out.plan = diary.Compare(c.best, after, site).Text(func(f search.Fit) string {
		return view.Size(f.Candidate) + " " + view.Shape(f.Candidate)
	})
	before := c.before
	before.Prices = now.Prices // a price typed since counts for both
	value := func(p view.Priced, f *search.Fit) *worth.Value {
		if f == nil {
			return nil
		}
		return p.Worth(*f)
	}
	out.worth = worth.ChangedText(value(before, c.best), value(now, after), after != nil, now.Prices.Currency)
	return out
}

// changed says what the entry that was just made did to the marks, the plan and the
// worth.
func (v *View) changed(t *view.FigureList, s *view.State) {
	c := &v.change
	if !c.made || c.revision != s.Revision() {
		return
	}
	for _, id := range c.done.Ground.Gone {
		t.Words(style.Warn, id+" is gone, ground away.")
	}
	for _, id := range c.done.Ground.Maybe {
		t.Words(style.Warn, id+" is perhaps gone: look.")
	}
	for _, check := range c.done.Checks {
		t.Words(style.Text, check.String())
	}
	of, ok := v.changeOf(s)
	said, fresh, _ := v.told.Last(of)
	if !ok || !fresh {
		t.Words(style.Faint, "Planning anew…")
		return
	}
	t.Words(style.Text, said.plan)
	if said.worth != "" {
		t.Words(style.Text, said.worth)
	}
}
