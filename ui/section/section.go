package section

import (
	"errors"
	"math"

	tea "github.com/charmbracelet/bubbletea"

	"cabwright/geometry"
	"cabwright/planner"
	"cabwright/ui/drawing"
	"cabwright/ui/keys"
	"cabwright/ui/style"
	"cabwright/ui/view"
	"cabwright/ui/widget"
)

// View is the view of a cut; New makes one.
type View struct {
	cut  *drawing.Cut   // nil: along the chosen fit, or the stone's length
	look float64        // the place looked at, as a share of the way from A to B
	from *geometry.Vec2 // where a new cut is being drawn from
}

// New returns the view of a cut.
func New() *View { return &View{look: 0.5} }

// Name stands on the title line.
func (v *View) Name() string { return "Section" }

// Update has nothing to wait for.
func (v *View) Update(*view.State, tea.Msg) tea.Cmd { return nil }

// line returns the cut, from where it enters the outline to where it leaves it.
func (v *View) line(s *view.State) drawing.Cut {
	k := scene(s).LongAxis()
	if v.cut != nil {
		k = *v.cut
	}
	return k.Across(s.Stone().Outline)
}

// length returns how long the cut is, in mm.
func length(k drawing.Cut) float64 { return k.B.Sub(k.A).Norm() }

// put makes k the cut, if it runs through the stone.
func (v *View) put(s *view.State, k drawing.Cut) {
	if !k.Inside(s.Stone().Outline) {
		s.Say(style.Warn, "The section line would miss the stone: it stays where it is.")
		return
	}
	k = k.Across(s.Stone().Outline)
	v.cut = &k
}

// rough returns the rough if it belongs to the stone as it is now.
func rough(s *view.State) *planner.Rough {
	if s.RoughOf != s.Revision() {
		return nil
	}
	return s.Rough
}

// Actions returns what can be done now.
func (v *View) Actions(s *view.State) []keys.Action {
	out := append(v.cutActions(s), v.lineActions(s)...)
	// The whole stone is always in sight here, so there is nothing to zoom.
	looking := view.NavigationActions(s, 1, 1)
	for _, key := range []string{"f", "[", "]"} {
		if a, ok := keys.Find(looking, key); ok {
			out = append(out, a)
		}
	}
	return out
}

// Explained says what lies at the place looked at, and that a heavier fit waits.
func (v *View) Explained(s *view.State, within float64) string {
	k := v.line(s)
	return view.Sentence(s.Waiting(), drawing.Explain(scene(s), k.At(v.look*length(k)), within))
}

// noCut says why there is no cut to move.
func (v *View) noCut(s *view.State) string {
	return keys.Unless(v.line(s).Inside(s.Stone().Outline), "there is no outline to lay a section through")
}

// cutActions go from slice to slice and along the cut.
func (v *View) cutActions(s *view.State) []keys.Action {
	do, none := keys.Do, v.noCut(s)
	slice := func(steps float64) func() tea.Cmd {
		return do(func() { v.put(s, v.line(s).Moved(steps*s.Step)) })
	}
	turn := func(sign float64) func() tea.Cmd {
		return do(func() {
			k := v.line(s)
			v.put(s, k.Turned(sign*math.Min(math.Pi/12, 2*s.Step/math.Max(1, length(k)))))
		})
	}
	look := func(steps float64) func() tea.Cmd {
		return do(func() { v.lookAt(v.look + steps*s.Step/math.Max(s.Step, length(v.line(s)))) })
	}
	return []keys.Action{
		{
			Name:     "Next slice",
			Keys:     []string{"up"},
			Short:    "next slice",
			Help:     "the section line goes one step to the left as seen from A",
			Disabled: none,
			Run:      slice(1),
		},
		{
			Name:     "Slice before",
			Keys:     []string{"down"},
			Short:    "slice before",
			Help:     "the section line goes one step to the right as seen from A",
			Disabled: none,
			Run:      slice(-1),
		},
		{
			Name:     "Look towards B",
			Keys:     []string{"right"},
			Short:    "along",
			Help:     "heights and thickness one step further along the section line",
			Disabled: none,
			Run:      look(1),
		},
		{
			Name:     "Look towards A",
			Keys:     []string{"left"},
			Help:     "heights and thickness one step back along the section line",
			Disabled: none,
			Run:      look(-1),
		},
		{
			Name:     "Turn the section line to the left",
			Keys:     []string{","},
			Short:    "turn",
			Help:     "about its middle; its ends move by one step",
			Disabled: none,
			Run:      turn(1),
		},
		{
			Name:     "Turn the section line to the right",
			Keys:     []string{"."},
			Help:     "about its middle; its ends move by one step",
			Disabled: none,
			Run:      turn(-1),
		},
	}
}

// lineActions say where the cut runs.
func (v *View) lineActions(s *view.State) []keys.Action {
	do, none := keys.Do, v.noCut(s)
	fitless := none
	if s.Chosen == nil {
		fitless = "no fit is chosen: view Fits has the list"
	}
	return []keys.Action{
		{
			Name:     "Cut along the fit",
			Keys:     []string{"o"},
			Short:    "along the fit",
			Help:     "along the chosen fit's length, and follow it",
			Disabled: fitless,
			Run:      do(func() { v.cut = nil }),
		},
		{
			Name:     "Cut across the fit",
			Keys:     []string{"w"},
			Short:    "across",
			Help:     "across the chosen fit's middle",
			Disabled: fitless,
			Run:      do(func() { v.across(s) }),
		},
		{
			Name:     "Exact ends of the section line",
			Keys:     []string{"="},
			Short:    "exact",
			Help:     "type the points A and B it runs through",
			Disabled: none,
			Run:      do(func() { v.ask(s) }),
		},
	}
}

// lookAt looks at a place of the cut, held to its ends.
func (v *View) lookAt(share float64) { v.look = math.Max(0, math.Min(1, share)) }

// across cuts square to the fit's length through the middle of it.
func (v *View) across(s *view.State) {
	lo, hi := s.Chosen.Solid.Outline.Extent()
	mid := geometry.Vec3{X: (lo.X + hi.X) / 2}
	v.put(s, drawing.Cut{
		A: s.Chosen.Pose.Place(mid.Add(geometry.Vec3{Y: lo.Y})).XY(),
		B: s.Chosen.Pose.Place(mid.Add(geometry.Vec3{Y: hi.Y})).XY(),
	})
}

// coordinateMax is how far from the origin an end can be typed, mm: what a stone
// file holds.
const coordinateMax = 1000

// ask asks for two points of the cut.
func (v *View) ask(s *view.State) {
	k := v.line(s)
	field := func(label string, p geometry.Vec2) *widget.Field {
		f := &widget.Field{Label: label, Kind: widget.Place, Parts: 2, Min: -coordinateMax, Max: coordinateMax}
		return f.With(coordinates(p))
	}
	s.Ask(
		&widget.Form{
			Title:  "The section line runs through",
			Fields: []*widget.Field{field("A", k.A), field("B", k.B)},
			Done: func(f *widget.Form) error {
				a, b := f.Point(0), f.Point(1)
				k := drawing.Cut{A: geometry.Vec2{X: a[0], Y: a[1]}, B: geometry.Vec2{X: b[0], Y: b[1]}}
				if k.A == k.B {
					return widget.Wrong{Field: 1, Err: errors.New("the same point as A: a line needs two")}
				}
				if !k.Inside(s.Stone().Outline) {
					return errors.New("a line through these points misses the stone")
				}
				v.put(s, k)
				return nil
			},
		},
	)
}

// Mouse draws a new cut in the plan, looks along it in the section, and steps
// through the stone with the wheel.
func (v *View) Mouse(s *view.State, m view.Mouse) tea.Cmd {
	cols, _ := view.Columns(m.Width)
	rows := planRows(s, cols, m.Height)
	switch {
	case m.Kind == view.Cancel:
		v.from = nil
	case m.Kind == view.Release:
		v.from = nil
	case v.from != nil && m.Kind == view.Drag:
		v.draw(s, plane(s, cols, rows).At(cols, rows, m.Col, m.Row))
	case m.Kind == view.WheelUp:
		v.put(s, v.line(s).Moved(s.Step))
	case m.Kind == view.WheelDown:
		v.put(s, v.line(s).Moved(-s.Step))
	case m.Col >= cols:
	case m.Row < rows && m.Kind == view.Press:
		at := plane(s, cols, rows).At(cols, rows, m.Col, m.Row)
		v.from = &at
	case m.Row >= rows && rough(s) != nil:
		k := v.line(s)
		at := window(s, k, cols, m.Height-rows).At(cols, m.Height-rows, m.Col, m.Row-rows)
		v.lookAt(at.X / math.Max(length(k), 1e-9)) // a cut of no length has one place
	}
	return nil
}

// draw makes the line from where the mouse was pressed to a point the cut, once
// it is long enough to have a direction.
func (v *View) draw(s *view.State, to geometry.Vec2) {
	k := drawing.Cut{A: *v.from, B: to}
	if length(k) > 1 && k.Inside(s.Stone().Outline) {
		v.put(s, k)
	}
}
