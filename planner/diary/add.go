package diary

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"cabwright/planner"
	"cabwright/planner/stonefile"
)

// Step is an entry to be made, with the work on the stone that it tells of.
type Step struct {
	Date       string
	Stage      string
	Carat      float64 // 0: not weighed
	State      string
	Note       string
	Photo      string
	Treatments []string
	Ground     *planner.Grinding // nil: nothing was ground off
	Sealed     []string          // cracks that were filled
	Found      []planner.Finding
	Planned    json.RawMessage // the fit that was meant before it; nil: none
}

// Done is what a step did to the stone besides the entry.
type Done struct {
	Ground planner.Ground
	Checks []Check
}

// Add does what a step tells of and puts its entry at the end of the diary, in one
// edit. The entry keeps the stone as it was then: ground and sealed already, with
// what was still thought of its marks. A dry weight is the stone's weight from
// then on, unless it is that of the finished stone: what is drawn is the rough.
func Add(s planner.Stone, step Step) (planner.Stone, Done, error) {
	var done Done
	out := s
	var err error
	if step.Ground != nil {
		if out, done.Ground, err = planner.Grind(out, *step.Ground); err != nil {
			return s, Done{}, err
		}
	}
	treatments := slices.Clone(step.Treatments)
	for _, id := range step.Sealed {
		i := slices.IndexFunc(out.Cracks, func(k planner.Crack) bool { return k.ID == id })
		if i < 0 {
			return s, Done{}, fmt.Errorf("there is no crack %s to seal", planner.Visible(id))
		}
		k := out.Cracks[i]
		k.Sealed = true
		if out, err = planner.ReplaceCrack(out, id, k); err != nil {
			return s, Done{}, err
		}
	}
	if len(step.Sealed) > 0 {
		treatments = append(treatments, "cyanoacrylate glue in "+strings.Join(step.Sealed, ", "))
	}
	if step.Carat > 0 && State(step.State) != "wet" && !shaped(s, step.Stage) {
		if out, err = planner.SetScaleWeight(out, step.Carat); err != nil {
			return s, Done{}, err
		}
	}
	asItWas := stonefile.Past(out)
	if len(step.Found) > 0 {
		thickest := 0.0
		if rough, err := planner.NewRough(out); err == nil {
			thickest, _ = rough.Thickness()
		}
		done.Checks = Against(out, step.Found, thickest)
	}
	if out, err = ApplyFound(out, step.Found); err != nil {
		return s, Done{}, err
	}
	out, err = planner.AddEntry(out, planner.Entry{
		Date: step.Date, Stage: step.Stage, Carat: step.Carat, State: step.State, Note: step.Note, Photo: step.Photo,
		Treatments: treatments, Found: step.Found, Planned: step.Planned, Stone: asItWas,
	})
	if err != nil {
		return s, Done{}, err
	}
	return out, done, nil
}

// shaped reports whether a stone is no longer the rough that is drawn, but a
// preform or finished, with an entry of a stage.
func shaped(s planner.Stone, stage string) bool {
	is := func(stage string) bool { return stage == "preform" || stage == "polished" || stage == "sold" }
	return is(stage) || slices.ContainsFunc(s.Diary, func(e planner.Entry) bool { return is(e.Stage) })
}
