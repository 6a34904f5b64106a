package viewtest

import (
	"strings"

	"cabwright/geometry"
	"cabwright/geometry/outline"
	"cabwright/geometry/solid"
	"cabwright/planner"
	"cabwright/planner/search"
	"cabwright/presets"
	"cabwright/ui/canvas"
	"cabwright/ui/keys"
	"cabwright/ui/style"
	"cabwright/ui/view"
)

// T is what a test is asked for.
type T interface {
	Helper()
	Fatalf(format string, args ...any)
}

// Follower is a view that works something out away from the keys.
type Follower interface {
	view.View
	view.Follower
}

// State is that of a workbench without colours on a stone whose solid is made.
func State(t T, stone planner.Stone, set *presets.Set) *view.State {
	t.Helper()
	s := view.NewState(planner.NewHistory(stone), set, style.New(style.NoColour, style.Unknown), canvas.Braille)
	Lay(t, s)
	return s
}

// Lay makes the solid of the stone as it is.
func Lay(t T, s *view.State) {
	t.Helper()
	rough, err := planner.NewRough(s.Stone())
	if err != nil {
		t.Fatalf("the stone has no solid: %v", err)
	}
	s.Rough, s.RoughOf = rough, s.Revision()
}

// Settle works out what the view asks for until it asks for nothing.
func Settle(v Follower, s *view.State) {
	for cmd := v.Follow(s); cmd != nil; cmd = v.Follow(s) {
		for cmd != nil {
			cmd = v.Update(s, cmd())
		}
	}
}

// Press does what each key is bound to, and what is asked for then.
func Press(t T, v Follower, s *view.State, names ...string) {
	t.Helper()
	for _, name := range names {
		Run(t, v, s, name)
		Settle(v, s)
	}
}

// Run does what a key is bound to, and nothing that it asks for.
func Run(t T, v view.View, s *view.State, name string) {
	t.Helper()
	a, bound := keys.Find(v.Actions(s), name)
	switch {
	case !bound:
		t.Fatalf("no action on %s", name)
	case a.Disabled != "":
		t.Fatalf("%s: %s", a.Name, a.Disabled)
	}
	a.Run()
}

// Screen is the view as it is drawn, without blanks at the ends of lines.
func Screen(v view.View, s *view.State, width, height int) string {
	lines := v.Render(s, width, height)
	for i := range lines {
		lines[i] = strings.TrimRight(lines[i], " ")
	}
	return strings.Join(lines, "\n") + "\n"
}

// Oval is a fit of so many carats, give or take: an oval 8 mm wide, top up, with a low
// dome and a flat back.
func Oval(length, carat, give float64) search.Fit {
	o, err := outline.New("oval", length, 8)
	if err != nil {
		panic(err)
	}
	body := solid.Cabochon{Outline: o, Wall: 1.2, WallLeanDeg: 10, Dome: 2, Sides: 1}
	return search.Fit{
		Candidate: search.Candidate{Solid: body, Face: planner.Top},
		Pose:      search.Pose{Origin: geometry.Vec3{X: 10, Y: 5, Z: 1}, Axes: geometry.Identity3()},
		Carat:     carat, CaratLow: carat - give, CaratHigh: carat + give, Proved: true,
	}
}
