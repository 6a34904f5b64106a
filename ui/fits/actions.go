package fits

import (
	tea "github.com/charmbracelet/bubbletea"

	"cabwright/geometry"
	"cabwright/planner/search"
	"cabwright/ui/keys"
	"cabwright/ui/view"
)

// Actions returns what can be done now. While a fit is moved by hand the arrow
// keys are its own; otherwise they go through the list.
func (v *View) Actions(s *view.State) []keys.Action {
	if v.hand.on && whyNotMove(s) == "" {
		return append(v.handActions(s), view.NavigationActions(s, v.cols, v.rows)...)
	}
	return append(v.listActions(s), view.NavigationActions(s, v.cols, v.rows)...)
}

// listActions go through the list and say how it is looked at. Those that are about
// the list or the chosen fit keep both as they are from then on, so that neither
// slides from under the hand.
func (v *View) listActions(s *view.State) []keys.Action {
	out := append(v.stepActions(s), v.chosenActions(s)...)
	out = append(out, v.filterActions(s)...)
	for i, a := range out {
		out[i].Run = func() tea.Cmd {
			v.hold(s)
			return a.Run()
		}
	}
	out = append(out, v.lookActions(s)...)
	out = append(out, v.betActions(s)...)
	out = append(out, v.compareActions(s)...)
	return append(out, v.newerActions(s)...)
}

// newerActions end the list's holding still.
func (v *View) newerActions(s *view.State) []keys.Action {
	v.shown.follow(s)
	return []keys.Action{
		{
			Name:     "List the new fits",
			Keys:     []string{"a"},
			Help:     "what the search has found since the list was last touched",
			Disabled: keys.Unless(v.shown.waiting > 0, "the list holds all that was found"),
			Run:      keys.Do(func() { v.shown.release(s) }),
		},
		{
			Name:     "Best fit",
			Keys:     []string{"home"},
			Help:     "to the top of the list, new fits among it",
			Words:    "first top new",
			Disabled: nothingFound(s),
			Run: func() tea.Cmd {
				v.shown.release(s)
				return v.step(s, -1<<30)
			},
		},
	}
}

// nothingFound says why nothing can be listed.
func nothingFound(s *view.State) string {
	return keys.Unless(len(s.Plan.Fits)+len(s.Plan.RuledOut) > 0, "nothing has been found yet")
}

// stepActions go through the list.
func (v *View) stepActions(s *view.State) []keys.Action {
	nothing := nothingFound(s)
	return []keys.Action{
		{
			Name:     "Next fit",
			Keys:     []string{"down", "j"},
			Short:    "next",
			Help:     "go down the list",
			Disabled: nothing,
			Run:      func() tea.Cmd { return v.step(s, 1) },
		},
		{
			Name:     "Fit before",
			Keys:     []string{"up", "k"},
			Help:     "go up the list",
			Disabled: nothing,
			Run:      func() tea.Cmd { return v.step(s, -1) },
		},
		{
			Name:     "Ten fits on",
			Keys:     []string{"pgdown"},
			Help:     "go down the list",
			Disabled: nothing,
			Run:      func() tea.Cmd { return v.step(s, 10) },
		},
		{
			Name:     "Ten fits back",
			Keys:     []string{"pgup"},
			Help:     "go up the list",
			Disabled: nothing,
			Run:      func() tea.Cmd { return v.step(s, -10) },
		},
	}
}

// chosenActions are about the chosen fit.
func (v *View) chosenActions(s *view.State) []keys.Action {
	do, nothing := keys.Do, nothingFound(s)
	none := keys.Unless(s.Chosen != nil, "no fit is chosen")
	unfold, folded := v.unfold, none
	if v.mode == reasons {
		unfold, folded = v.unfoldRefused, nothing
	}
	return []keys.Action{
		{
			Name:     "Pin or let go",
			Keys:     []string{"p"},
			Short:    "pin",
			Help:     "keep the chosen fit for comparison, whatever the search finds",
			Disabled: none,
			Run:      do(func() { v.pin(s) }),
		},
		{
			Name:     "Beside each other",
			Keys:     []string{"b"},
			Short:    "beside",
			Help:     "the chosen fit and the pinned ones side by side",
			Words:    "compare",
			Disabled: none,
			Run:      do(func() { v.open(s, beside) }),
		},
		{
			Name:     "Move by hand",
			Keys:     []string{"n"},
			Short:    "by hand",
			Help:     "move, turn, tilt, raise and lower the chosen fit and see what it has to spare",
			Disabled: whyNotMove(s),
			Run: do(func() {
				v.open(s, alone)
				v.hand.on = true
			}),
		},
		{
			Name:     "Where it has most colour",
			Keys:     []string{"t"},
			Help:     "the place of the chosen stone with most colour under it that keeps the spare wanted",
			Words:    "best place colour zone brilliance",
			Disabled: whyNotColour(s),
			Run:      func() tea.Cmd { return v.mostColour(s) },
		},
		{
			Name:     "Where it has most to spare",
			Keys:     []string{"G"},
			Help:     "the place of the chosen stone, anywhere in the rough, that keeps most beyond the allowances",
			Words:    "best place clearance room margin",
			Disabled: whyNotMove(s),
			Run:      func() tea.Cmd { return v.mostSpare(s) },
		},
		{
			Name:     "Unfold or fold variants",
			Keys:     []string{"v", "enter"},
			Short:    "variants",
			Help:     "single- and double-sided, other domes and backs of the same size, a line each",
			Disabled: folded,
			Run:      do(func() { unfold(s) }),
		},
	}
}

// lookActions change what is looked at.
func (v *View) lookActions(s *view.State) []keys.Action {
	return []keys.Action{
		{
			Name:     "Why bigger ones do not fit",
			Keys:     []string{"r"},
			Short:    "why not",
			Help:     "what is in the way of each other size, by how much, and what would make it fit",
			Words:    "reasons larger",
			Disabled: nothingFound(s),
			Run: func() tea.Cmd {
				v.open(s, reasons)
				return v.ask(s)
			},
		},
		{
			Name:     "Step back",
			Keys:     []string{"esc"},
			Help:     "to one fit alone",
			Disabled: keys.Unless(v.mode != alone, "one fit alone is shown already"),
			Run:      keys.Do(func() { v.back(s) }),
		},
	}
}

// filterActions say which fits are listed.
func (v *View) filterActions(s *view.State) []keys.Action {
	do := keys.Do
	return []keys.Action{
		{
			Name:     "What to list",
			Keys:     []string{"o"},
			Short:    "list",
			Help:     "which outline, size, sides and face, in which order, and how much to spare is wanted",
			Words:    "filter rank sort order outline length sides face spare colour",
			Disabled: nothingFound(s),
			Run:      do(func() { v.askFilter(s) }),
		},
		{
			Name:     "List all",
			Keys:     []string{"x"},
			Help:     "the heaviest first, nothing left out",
			Disabled: keys.Unless(v.filter != (filter{}), "all fits are listed"),
			Run:      do(func() { v.filter = filter{}; v.refilter(s); v.askForSpare(s) }),
		},
	}
}

// compareActions show the best of two kinds beside each other.
func (v *View) compareActions(s *view.State) []keys.Action {
	var out []keys.Action
	for r := noReady + 1; r < readyCount; r++ {
		left, right := r.names()
		out = append(out, keys.Action{
			Name:     "Compare: " + left + ", " + right,
			Keys:     []string{r.key()},
			Help:     "the best of all of each beside each other, and of the chosen size where there is room",
			Disabled: nothingFound(s),
			Run: keys.Do(func() {
				v.open(s, beside)
				v.mode, v.ready = beside, r
			}),
		})
	}
	return out
}

// handActions are the ways to move a fit. Each press moves it, or its end, by
// one step.
func (v *View) handActions(s *view.State) []keys.Action {
	out := append(v.shiftActions(s), v.turnActions(s)...)
	return append(out, v.placeActions(s)...)
}

// shiftActions move a fit without turning it.
func (v *View) shiftActions(s *view.State) []keys.Action {
	act := func(change func() func(search.Pose) search.Pose) func() tea.Cmd {
		return keys.Do(func() { v.move(s, change()) })
	}
	to := func(key string) func() tea.Cmd {
		return act(func() func(search.Pose) search.Pose {
			d, _ := s.Arrow(key)
			return shift(geometry.Vec3{X: d.X, Y: d.Y})
		})
	}
	lift := func(sign float64) func() tea.Cmd {
		return act(func() func(search.Pose) search.Pose { return shift(geometry.Vec3{Z: sign * s.Step}) })
	}
	return []keys.Action{
		{
			Name:  "Move to the left",
			Keys:  []string{"left"},
			Short: "move",
			Help:  "by one step",
			Run:   to("left"),
		},
		{
			Name: "Move to the right",
			Keys: []string{"right"},
			Help: "by one step",
			Run:  to("right"),
		},
		{
			Name: "Move away",
			Keys: []string{"up"},
			Help: "by one step",
			Run:  to("up"),
		},
		{
			Name: "Move nearer",
			Keys: []string{"down"},
			Help: "by one step",
			Run:  to("down"),
		},
		{
			Name:  "Raise",
			Keys:  []string{"r", "pgup"},
			Short: "raise",
			Help:  "by one step, towards the top face",
			Run:   lift(1),
		},
		{
			Name:  "Lower",
			Keys:  []string{"v", "pgdown"},
			Short: "lower",
			Help:  "by one step, towards the base",
			Run:   lift(-1),
		},
	}
}

// turnActions turn and tilt a fit.
func (v *View) turnActions(s *view.State) []keys.Action {
	turn := func(of func(float64) geometry.Mat3, sign float64) func() tea.Cmd {
		return keys.Do(func() { v.move(s, swing(*s.Chosen, of(sign*angle(s)))) })
	}
	seen := 1.0 // a turn to the left on the screen, whichever face is seen
	if s.PlaneOf(s.Face, 1, 1).Mirror {
		seen = -1
	}
	return []keys.Action{
		{
			Name:  "Turn to the left",
			Keys:  []string{","},
			Short: "turn",
			Help:  "its end moves by one step",
			Run:   turn(geometry.RotZ, seen),
		},
		{
			Name: "Turn to the right",
			Keys: []string{"."},
			Help: "its end moves by one step",
			Run:  turn(geometry.RotZ, -seen),
		},
		{
			Name:  "Tilt to the right",
			Keys:  []string{"l"},
			Short: "tilt",
			Help:  "its right side goes down by one step",
			Run:   turn(geometry.RotY, seen),
		},
		{
			Name: "Tilt to the left",
			Keys: []string{"h"},
			Help: "its left side goes down by one step",
			Run:  turn(geometry.RotY, -seen),
		},
		{
			Name: "Tilt away",
			Keys: []string{"k"},
			Help: "its far side goes down by one step",
			Run:  turn(geometry.RotX, -1),
		},
		{
			Name: "Tilt nearer",
			Keys: []string{"j"},
			Help: "its near side goes down by one step",
			Run:  turn(geometry.RotX, 1),
		},
	}
}

// placeActions settle a fit, put it back, keep it or leave it.
func (v *View) placeActions(s *view.State) []keys.Action {
	return []keys.Action{
		{
			Name:     "Settle",
			Keys:     []string{"g"},
			Short:    "settle",
			Help:     "find the best clearance near by",
			Disabled: keys.Unless(!v.hand.settling, "it is settling already"),
			Run:      func() tea.Cmd { return v.settle(s) },
		},
		{
			Name:     "Put back",
			Keys:     []string{"o"},
			Short:    "put back",
			Help:     "to where the search found it",
			Disabled: keys.Unless(v.hand.found != nil, "it lies where it was found"),
			Run:      keys.Do(func() { v.putBack(s) }),
		},
		{
			Name: "Pin or let go",
			Keys: []string{"p"},
			Help: "keep the fit as it lies now for comparison",
			Run:  keys.Do(func() { v.pin(s) }),
		},
		{
			Name:  "Done moving",
			Keys:  []string{"esc", "enter"},
			Short: "done",
			Help:  "leave it where it lies",
			Run:   keys.Do(func() { v.back(s) }),
		},
	}
}
