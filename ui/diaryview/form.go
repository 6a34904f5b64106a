package diaryview

import (
	"errors"
	"fmt"
	"strconv"
	"strings"
	"time"

	"cabwright/planner"
	"cabwright/planner/diary"
	"cabwright/ui/style"
	"cabwright/ui/view"
	"cabwright/ui/widget"
)

// The fields of a new entry.
const (
	stage = iota
	date
	carat
	state
	ground
	where
	radius
	found
	seal
	treatments
	note
	photo
)

// The words of the field that says where stone was ground off.
var wheres = []string{
	"the top, all over",
	"the base, all over",
	"the top, about the cursor",
	"the base, about the cursor",
}

// grinds are the stages at which stone is taken off by a wheel.
var grinds = map[string]bool{"first grind": true, "preform": true, "polished": true}

// askEntry asks for a new entry, with the stage that comes next.
func (v *View) askEntry(s *view.State) {
	names := diary.StageNames()
	next := nextStage(s.Stone())
	isStage := func(f *widget.Form, want func(string) bool) bool { return want(names[f.Choice(stage)]) }
	notGrinding := func(f *widget.Form) bool { return !isStage(f, func(n string) bool { return grinds[n] }) }
	notLocal := func(f *widget.Form) bool { return notGrinding(f) || f.Blank(ground) || f.Choice(where) < 2 }
	blank := func(label, kept string) *widget.Field {
		return &widget.Field{Label: label, Kind: widget.Words, Optional: kept, MaxLen: 2000}
	}
	s.Ask(&widget.Form{
		Title: "New entry in the diary",
		Fields: []*widget.Field{
			stage: (&widget.Field{Label: "Stage", Kind: widget.Choose, Choices: names}).With(next),
			date:  {Label: "Date", Kind: widget.Words, MaxLen: 30, Optional: "today, " + v.Today().Format(time.DateOnly)},
			carat: {Label: "Weight", Kind: widget.Carat, Max: 1e6, Optional: "not weighed"},
			state: (&widget.Field{Label: "Weighed", Kind: widget.Choose, Choices: []string{"dry", "wet"},
				Hidden: func(f *widget.Form) bool { return f.Blank(carat) }}).With("dry"),
			ground: {Label: "Ground off", Kind: widget.Length, Max: 100, Optional: "nothing", Hidden: notGrinding},
			where: (&widget.Field{Label: "Off", Kind: widget.Choose, Choices: wheres,
				Hidden: func(f *widget.Form) bool { return notGrinding(f) || f.Blank(ground) }}).With(wheres[0]),
			radius: (&widget.Field{Label: "How far about the cursor", Kind: widget.Length, Min: 0.1, Max: 100,
				Hidden: notLocal}).WithNumber(planner.GrindRadius),
			found: {Label: "Found, like P1.depth=3.2", Kind: widget.Words, Optional: "nothing new", MaxLen: 500,
				Hidden: func(f *widget.Form) bool { return len(s.Stone().Cracks)+len(s.Stone().Pockets) == 0 }},
			seal: {Label: "Cracks filled with glue, like C1, C2", Kind: widget.Words, Optional: "none", MaxLen: 500,
				Hidden: func(f *widget.Form) bool { return !isStage(f, func(n string) bool { return n == "sealed" }) }},
			treatments: blank("Treatments, to be disclosed", "none"),
			note:       blank("Note", "none"),
			photo:      blank("Photograph, where it is", "none"),
		},
		Done: func(f *widget.Form) error { return v.enter(s, f, names) },
	})
}

// nextStage is the stage after the last one, as the work takes them.
func nextStage(s planner.Stone) string {
	names := diary.StageNames()
	now, _ := diary.Now(s)
	for i, n := range names[:len(names)-1] {
		if n == now {
			return names[i+1]
		}
	}
	if now == names[len(names)-1] {
		return now
	}
	return names[0]
}

// enter makes the entry of a form.
func (v *View) enter(s *view.State, f *widget.Form, names []string) error {
	step := diary.Step{
		Date:       f.Text(date),
		Stage:      names[f.Choice(stage)],
		Note:       f.Text(note),
		Photo:      f.Text(photo),
		Treatments: listed(f.Text(treatments)),
	}
	if f.Blank(date) {
		step.Date = v.Today().Format(time.DateOnly)
	}
	if !f.Blank(carat) {
		if step.Carat = f.Number(carat); step.Carat == 0 {
			return widget.Wrong{
				Field: carat,
				Err:   errors.New("a stone weighs something: leave it empty when it was not weighed"),
			}
		}
		step.State = []string{"dry", "wet"}[f.Choice(state)]
	}
	var err error
	if f.Asked(found) {
		if step.Found, err = findings(f.Text(found)); err != nil {
			return widget.Wrong{Field: found, Err: err}
		}
	}
	if f.Asked(seal) {
		step.Sealed = listed(f.Text(seal))
	}
	if f.Asked(ground) && f.Number(ground) > 0 {
		g := planner.Grinding{Face: planner.Top, MM: f.Number(ground)}
		if f.Choice(where)%2 == 1 {
			g.Face = planner.Base
		}
		if f.Choice(where) >= 2 {
			at := s.Cursor
			g.At, g.Radius = &at, f.Number(radius)
		}
		step.Ground = &g
	}
	// Best before it, not what was chosen, is what the best after it is compared with.
	best := s.Best()
	before, _ := s.Priced()
	step.Planned = planned(s)
	after, done, err := diary.Add(s.Stone(), step)
	if err != nil { // a wrong value of the form is said in the form: only a good entry is an edit
		return wrongField(err)
	}
	err = s.Do("Diary: "+step.Stage, func(planner.Stone) (planner.Stone, error) { return after, nil })
	if err != nil {
		return wrongField(err)
	}
	v.at = len(s.Stone().Diary)
	v.change = change{made: true, best: best, before: before, done: done, revision: s.Revision()}
	s.Say(style.Text, "Entry %d made: %s (u undoes it).", len(s.Stone().Diary), planner.Visible(said(step, done)))
	return nil
}

// said says in a few words what an entry did.
func said(step diary.Step, done diary.Done) string {
	parts := []string{step.Stage}
	if g := step.Ground; g != nil {
		parts = append(parts, fmt.Sprintf("%g mm off the %s", g.MM, g.Face))
	}
	if len(done.Ground.Gone) > 0 {
		parts = append(parts, "gone: "+strings.Join(done.Ground.Gone, ", "))
	}
	if len(done.Ground.Maybe) > 0 {
		parts = append(parts, "perhaps gone: "+strings.Join(done.Ground.Maybe, ", "))
	}
	return strings.Join(parts, ", ")
}

// wrongField sets an error beside the field that it is about.
func wrongField(err error) error {
	var p planner.Problem
	if !errors.As(err, &p) {
		if strings.Contains(err.Error(), "to seal") {
			return widget.Wrong{Field: seal, Err: err}
		}
		return widget.Wrong{Field: found, Err: err}
	}
	switch {
	case strings.HasSuffix(p.Place, ".date"):
		return widget.Wrong{Field: date, Err: errors.New(p.What)}
	case p.Place == "ground", p.Place == string(planner.Top), p.Place == string(planner.Base):
		return widget.Wrong{Field: ground, Err: errors.New(p.What)}
	}
	return err
}

// listed takes a list apart at its commas.
func listed(text string) []string {
	var out []string
	for _, part := range strings.Split(text, ",") {
		if part = strings.TrimSpace(part); part != "" {
			out = append(out, part)
		}
	}
	return out
}

// findings reads "P1.depth=3.2, C1.run_on=2".
func findings(text string) ([]planner.Finding, error) {
	var out []planner.Finding
	for _, part := range listed(text) {
		what, value, two := strings.Cut(part, "=")
		v, err := strconv.ParseFloat(strings.TrimSpace(value), 64)
		if !two || err != nil {
			return nil, fmt.Errorf("%q: write a mark, what of it and its mm, like P1.depth=3.2", planner.Visible(part))
		}
		out = append(out, planner.Finding{What: strings.TrimSpace(what), Value: v})
	}
	return out, nil
}
