package edit

import (
	"slices"

	"cabwright/ui/view"
)

// Things are what can be selected in a view, in the order in which tab goes
// through them; each is whole: its Point is -1.
type Things []view.Selection

// Add appends n things of a kind and returns the longer list.
func (all Things) Add(kind view.Kind, n int) Things {
	for i := range n {
		all = append(all, view.Selection{Kind: kind, Index: i, Point: -1})
	}
	return all
}

// Whole returns the thing that a selection is of, without its point.
func Whole(t view.Selection) view.Selection {
	t.Point = -1
	return t
}

// Index returns where a selection's thing stands in the list, -1 when it is not
// there.
func (all Things) Index(t view.Selection) int { return slices.Index(all, Whole(t)) }

// Beside returns the thing step places after the selected one, from the last to
// the first; ok is false when there is none at all. With nothing selected the
// first step goes to the first or the last.
func (all Things) Beside(selected view.Selection, step int) (t view.Selection, ok bool) {
	if len(all) == 0 {
		return view.Selection{}, false
	}
	at := all.Index(selected)
	if at < 0 && step < 0 {
		at = 0
	}
	return all[(at+step+len(all))%len(all)], true
}

// LetGo selects nothing.
func LetGo(s *view.State) { s.Selected = view.Selection{Point: -1} }
