package diary

import (
	"fmt"
	"slices"
	"strings"

	"cabwright/planner"
)

// Stage is a step of the work that entries are made of.
type Stage struct {
	Name  string
	About string
}

// Stages returns the steps in the order in which the work takes them. Other names
// may stand in a file; they are kept.
func Stages() []Stage {
	return []Stage{
		{"bought", "as it came, weighed"},
		{"dry", "weighed dry, to see whether it still loses weight"},
		{"first grind", "skin taken off, looked into"},
		{"sealed", "cracks filled before the saw"},
		{"sawn", "parted or trimmed"},
		{"preform", "ground to the outline"},
		{"dried", "dry again after wet work"},
		{"polished", "finished, weighed"},
		{"sold", "gone, with its papers"},
	}
}

// StageNames returns the names of the stages.
func StageNames() []string {
	var names []string
	for _, s := range Stages() {
		names = append(names, s.Name)
	}
	return names
}

// ParseStage returns the stage that is meant by a name, whatever its capitals.
func ParseStage(text string) (string, error) {
	name := strings.ToLower(strings.Join(strings.Fields(text), " "))
	if !slices.Contains(StageNames(), name) {
		return "", fmt.Errorf("%q is no stage: they are %s", planner.Visible(text), strings.Join(StageNames(), ", "))
	}
	return name, nil
}

// Now returns the name of the last stage of a stone's diary, and when it began:
// the date of the first of the entries of that name that end the diary. Both are
// empty when there is none.
func Now(s planner.Stone) (stage, since string) {
	n := len(s.Diary)
	if n == 0 {
		return "", ""
	}
	stage, since = s.Diary[n-1].Stage, s.Diary[n-1].Date
	for i := n - 1; i >= 0 && s.Diary[i].Stage == stage; i-- {
		since = s.Diary[i].Date
	}
	return stage, since
}

// Finished reports whether a stone's diary says that it was polished, and returns
// the entry that weighs the finished stone: the last with a weight from then on.
func Finished(s planner.Stone) (entry planner.Entry, done bool) {
	for _, e := range s.Diary {
		if e.Stage == "polished" || e.Stage == "sold" {
			if !done || e.Carat > 0 {
				entry = e
			}
			done = true
		}
	}
	return entry, done
}
