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
		return append(v.handActions(s), view.Looking(s, v.cols, v.rows)...)
	}
	return append(v.listActions(s), view.Looking(s, v.cols, v.rows)...)
}

func (v *View) listActions(s *view.State) []keys.Action {
	do := view.Do
	none := ""
	if s.Chosen == nil {
		none = "no fit is chosen"
	}
	nothing := ""
	if len(s.Plan.Fits)+len(s.Plan.RuledOut) == 0 {
		nothing = "nothing has been found yet"
	}
	open := func(m mode) func() tea.Cmd {
		return do(func() {
			if v.mode == m {
				m = alone
			}
			v.mode, v.ready = m, noReady
		})
	}
	back := ""
	if v.mode == alone {
		back = "one fit alone is shown already"
	}
	narrowed := ""
	if v.filter == (filter{}) {
		narrowed = "all fits are listed"
	}
	out := []keys.Action{
		{Name: "Next fit", Keys: []string{"down", "j"}, Short: "next", Help: "go down the list", Run: do(func() { v.step(s, 1) }), Why: nothing},
		{Name: "Fit before", Keys: []string{"up", "k"}, Help: "go up the list", Run: do(func() { v.step(s, -1) }), Why: nothing},
		{Name: "Ten fits on", Keys: []string{"pgdown"}, Help: "go down the list", Run: do(func() { v.step(s, 10) }), Why: nothing},
		{Name: "Ten fits back", Keys: []string{"pgup"}, Help: "go up the list", Run: do(func() { v.step(s, -10) }), Why: nothing},
		{Name: "Best fit", Keys: []string{"home"}, Help: "to the top of the list", Run: do(func() { v.step(s, -1<<30) }), Why: nothing},
		{Name: "Pin or let go", Keys: []string{"p"}, Short: "pin", Help: "keep the chosen fit for comparison, whatever the search finds", Run: do(func() { v.pin(s) }), Why: none},
		{Name: "Beside each other", Keys: []string{"b"}, Short: "beside", Help: "the chosen fit and the pinned ones side by side", Run: open(beside), Why: none},
		{Name: "Move by hand", Keys: []string{"n"}, Short: "by hand", Help: "move, turn, tilt, raise and lower the chosen fit and see its clearance", Run: do(func() { v.mode, v.hand.on = alone, true }), Why: whyNotMove(s)},
		{Name: "Why others cannot fit", Keys: []string{"r"}, Short: "why not", Help: "what rules each other size out, and by how much at least", Run: open(reasons), Why: nothing},
		{Name: "List one outline", Keys: []string{"o"}, Short: "outline", Help: "only ovals, only rounds and so on, then all again", Run: do(func() { v.filter.nextShape(s.Plan); v.refilter(s) }), Why: nothing},
		{Name: "List by sides", Keys: []string{"d"}, Short: "sides", Help: "single-sided, double-sided, both", Run: do(func() { v.filter.nextSides(); v.refilter(s) }), Why: nothing},
		{Name: "List by face", Keys: []string{"w"}, Short: "way up", Help: "dome out of the top, out of the base, either", Run: do(func() { v.filter.nextFace(); v.refilter(s) }), Why: nothing},
		{Name: "List by size", Keys: []string{"z"}, Short: "size", Help: "from one length to another", Run: do(func() { v.askSize(s) }), Why: nothing},
		{Name: "List all", Keys: []string{"x"}, Help: "take every filter off", Run: do(func() { v.filter = filter{}; v.refilter(s) }), Why: narrowed},
		{Name: "Step back", Keys: []string{"esc"}, Help: "to one fit alone", Run: do(v.back), Why: back},
	}
	for r := noReady + 1; r < readyCount; r++ {
		out = append(out, keys.Action{
			Name: "Compare: " + r.words(), Keys: []string{r.key()}, Help: "the best of each beside each other, of the chosen outline if both hold it",
			Run: do(func() { v.mode, v.ready = beside, r }), Why: nothing,
		})
	}
	return out
}

// handActions are the ways to move a fit. Each press moves it, or its end, by
// one step.
func (v *View) handActions(s *view.State) []keys.Action {
	act := func(change func() func(search.Pose) search.Pose) func() tea.Cmd {
		return view.Do(func() { v.move(s, change()) })
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
	turn := func(of func(float64) geometry.Mat3, sign float64) func() tea.Cmd {
		return act(func() func(search.Pose) search.Pose { return swing(*s.Chosen, of(sign*angle(s))) })
	}
	seen := 1.0 // a turn to the left on the screen, whichever face is seen
	if s.PlaneOf(s.Face, 1, 1).Mirror {
		seen = -1
	}
	unmoved := ""
	if v.hand.found == nil {
		unmoved = "it lies where it was found"
	}
	busy := ""
	if v.hand.settling {
		busy = "it is settling already"
	}
	return []keys.Action{
		{Name: "Move to the left", Keys: []string{"left"}, Short: "move", Help: "by one step", Run: to("left")},
		{Name: "Move to the right", Keys: []string{"right"}, Help: "by one step", Run: to("right")},
		{Name: "Move away", Keys: []string{"up"}, Help: "by one step", Run: to("up")},
		{Name: "Move nearer", Keys: []string{"down"}, Help: "by one step", Run: to("down")},
		{Name: "Turn to the left", Keys: []string{","}, Short: "turn", Help: "its end moves by one step", Run: turn(geometry.RotZ, seen)},
		{Name: "Turn to the right", Keys: []string{"."}, Help: "its end moves by one step", Run: turn(geometry.RotZ, -seen)},
		{Name: "Tilt to the right", Keys: []string{"l"}, Short: "tilt", Help: "its right side goes down by one step", Run: turn(geometry.RotY, seen)},
		{Name: "Tilt to the left", Keys: []string{"h"}, Help: "its left side goes down by one step", Run: turn(geometry.RotY, -seen)},
		{Name: "Tilt away", Keys: []string{"k"}, Help: "its far side goes down by one step", Run: turn(geometry.RotX, -1)},
		{Name: "Tilt nearer", Keys: []string{"j"}, Help: "its near side goes down by one step", Run: turn(geometry.RotX, 1)},
		{Name: "Raise", Keys: []string{"r", "pgup"}, Short: "raise", Help: "by one step, towards the top face", Run: lift(1)},
		{Name: "Lower", Keys: []string{"v", "pgdown"}, Short: "lower", Help: "by one step, towards the base", Run: lift(-1)},
		{Name: "Settle", Keys: []string{"g"}, Short: "settle", Help: "find the best clearance near by", Run: func() tea.Cmd { return v.settle(s) }, Why: busy},
		{Name: "Put back", Keys: []string{"o"}, Short: "put back", Help: "to where the search found it", Run: view.Do(func() { v.putBack(s) }), Why: unmoved},
		{Name: "Pin or let go", Keys: []string{"p"}, Help: "keep the fit as it lies now for comparison", Run: view.Do(func() { v.pin(s) })},
		{Name: "Done moving", Keys: []string{"esc", "enter"}, Short: "done", Help: "leave it where it lies", Run: view.Do(v.back)},
	}
}
