package sawview

import (
	"cmp"
	"fmt"
	"math"
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"cabwright/geometry"
	"cabwright/planner"
	"cabwright/planner/cuts"
	"cabwright/planner/diary"
	"cabwright/ui/edit"
	"cabwright/ui/keys"
	"cabwright/ui/style"
	"cabwright/ui/view"
	"cabwright/ui/widget"
)

// Actions returns what can be done now.
func (v *View) Actions(s *view.State) []keys.Action {
	out := append(v.cutActions(s), v.stoneActions(s)...)
	for _, a := range edit.Arrows(s, "the chosen cut, square to itself", func(by geometry.Vec2) { v.move(s, by) }) {
		a.Name = strings.Replace(a.Name, "Move ", "Move the cut ", 1)
		a.Disabled = v.none(s)
		out = append(out, a)
	}
	looking := view.NavigationActions(s, 1, 1)
	for _, key := range []string{"f", "[", "]"} {
		if a, ok := keys.Find(looking, key); ok {
			out = append(out, a)
		}
	}
	return out
}

// none says why there is no cut to change.
func (v *View) none(s *view.State) string {
	switch {
	case len(v.kept(s)) > 0:
		return ""
	case v.pending(s):
		return "the cuts are being worked out"
	}
	return "there is no cut: a adds one"
}

const (
	turnStep = 2 * math.Pi / 180
	leanStep = 2 * math.Pi / 180
)

// cutActions choose and change a cut.
func (v *View) cutActions(s *view.State) []keys.Action {
	do, none := keys.Do, v.none(s)
	turn := func(angle float64) func() tea.Cmd {
		return do(func() { v.replane(s, "Turn the cut", func(p cuts.Plane) cuts.Plane { return p.Turned(angle) }) })
	}
	lean := func(angle float64) func() tea.Cmd {
		return do(func() { v.replane(s, "Lean the cut", func(p cuts.Plane) cuts.Plane { return p.Leaned(angle) }) })
	}
	next := func(n int) func() tea.Cmd {
		return do(func() {
			if all := len(v.kept(s)); all > 0 {
				v.at = (v.at + n + all) % all
			}
		})
	}
	return []keys.Action{
		{
			Name:     "Next cut",
			Keys:     []string{"tab"},
			Short:    "next cut",
			Help:     "in the order of sawing",
			Disabled: none,
			Run:      next(1),
		},
		{
			Name:     "Cut before",
			Keys:     []string{"shift+tab"},
			Help:     "in the order of sawing",
			Disabled: none,
			Run:      next(-1),
		},
		{
			Name:     "Turn the cut to the left",
			Keys:     []string{","},
			Short:    "turn",
			Help:     "by 2 degrees, about the middle of its marks",
			Disabled: none,
			Run:      turn(turnStep),
		},
		{
			Name:     "Turn the cut to the right",
			Keys:     []string{"."},
			Help:     "by 2 degrees, about the middle of its marks",
			Disabled: none,
			Run:      turn(-turnStep),
		},
		{
			Name:     "Lean the cut outwards",
			Keys:     []string{">"},
			Short:    "lean",
			Help:     "by 2 degrees: its foot goes toward the offcut",
			Disabled: none,
			Run:      lean(leanStep),
		},
		{
			Name:     "Lean the cut inwards",
			Keys:     []string{"<"},
			Help:     "by 2 degrees: its foot goes toward the stone",
			Disabled: none,
			Run:      lean(-leanStep),
		},
		{
			Name:     "Exact cut",
			Keys:     []string{"="},
			Help:     "type its point, direction, lean and kerf",
			Disabled: none,
			Run:      do(func() { v.ask(s) }),
		},
		{
			Name:     "Take the cut away",
			Keys:     []string{"x", "delete"},
			Help:     "the chosen one",
			Disabled: none,
			Run:      do(func() { v.delete(s) }),
		},
	}
}

// stoneActions are about all the cuts.
func (v *View) stoneActions(s *view.State) []keys.Action {
	do, none := keys.Do, v.none(s)
	own := len(s.Stone().Cuts) > 0
	return append(v.layoutActions(s), []keys.Action{
		{
			Name:     "One stone more",
			Keys:     []string{"+"},
			Short:    "more stones",
			Help:     "from the same rough, up to 8",
			Disabled: v.noStones(s, v.stones < cuts.MostStones, "8 is the most"),
			Run:      do(func() { v.stones++; v.say(s) }),
		},
		{
			Name:     "One stone fewer",
			Keys:     []string{"-"},
			Help:     "from the same rough",
			Disabled: v.noStones(s, v.stones > 1, "one is the least"),
			Run:      do(func() { v.stones--; v.say(s) }),
		},
		{
			Name:  "Add a cut",
			Keys:  []string{"a"},
			Short: "add",
			Help:  "upright, through the cursor",
			Run:   do(func() { v.add(s) }),
		},
		{
			Name:     "Keep the cuts",
			Keys:     []string{"k"},
			Short:    "keep",
			Help:     "in the stone's file, to be changed by hand",
			Disabled: cmp.Or(keys.Unless(!own, "they are kept already"), none),
			Run:      do(func() { v.keep(s) }),
		},
		{
			Name:     "Propose the cuts anew",
			Keys:     []string{"C"},
			Help:     "forgets the cuts kept in the file",
			Disabled: keys.Unless(own, "they are proposed already"),
			Run: do(func() {
				_ = s.Do("Propose the cuts anew", func(st planner.Stone) (planner.Stone, error) {
					st.Cuts = nil
					return st, nil
				})
			}),
		},
		{
			Name:     "The first cut is done",
			Keys:     []string{"d"},
			Short:    v.firstName(s) + " done",
			Help:     "clips the outline to the piece with the stone; marks beyond it go",
			Disabled: cmp.Or(none, keys.Unless(s.Chosen != nil, "no stone is chosen, so there is no piece to keep")),
			Run:      func() tea.Cmd { return v.done(s) },
		},
		{
			Name:     "Seal the cracks of the cut",
			Keys:     []string{"g"},
			Short:    "seal",
			Help:     "those that the chosen cut runs into: filled with glue, which the diary and a buyer are told",
			Words:    "glue cyanoacrylate crack",
			Disabled: keys.Unless(len(v.open(s)) > 0, "the chosen cut runs into no open crack"),
			Run:      do(func() { v.seal(s) }),
		},
	}...)
}

// firstName is the name of the cut that is sawn first.
func (v *View) firstName(s *view.State) string {
	if all := v.kept(s); len(all) > 0 {
		return planner.Visible(all[0].ID)
	}
	return "first"
}

func (v *View) noStones(s *view.State, can bool, why string) string {
	if len(s.Stone().Cuts) > 0 {
		return "the cuts are kept as they are: C proposes them anew"
	}
	return keys.Unless(can, why)
}

// replane changes the chosen cut's plane.
func (v *View) replane(s *view.State, name string, change func(cuts.Plane) cuts.Plane) {
	v.change(s, name, func(k planner.Cut) planner.Cut {
		p := change(planeOf(k))
		k.Point, k.Normal = p.Point, p.Normal
		return k
	})
}

// move shifts the chosen cut by what of a step goes square to it.
func (v *View) move(s *view.State, by geometry.Vec2) {
	v.replane(s, "Move the cut", func(p cuts.Plane) cuts.Plane {
		return p.Moved(geometry.Vec3{X: by.X, Y: by.Y}.Dot(p.Normal))
	})
}

// add adds an upright cut through the cursor, square to the way from the chosen
// fit to it.
func (v *View) add(s *view.State) {
	p := s.Cursor
	n := geometry.Vec3{X: 1}
	z := 0.0
	if s.Chosen != nil {
		z = s.Chosen.Pose.Origin.Z
		if away := p.Sub(s.Chosen.Pose.Origin.XY()); away.Norm() > 0.01 {
			n = geometry.Vec3{X: away.X / away.Norm(), Y: away.Y / away.Norm()}
		}
	}
	saw, _ := s.Presets.Saw(s.Presets.Defaults.Saw)
	all := v.kept(s)
	proposed := len(s.Stone().Cuts) == 0
	k := planner.Cut{Point: geometry.Vec3{X: p.X, Y: p.Y, Z: z}, Normal: n, Kerf: saw.Kerf}
	err := s.Do("Add a cut", func(st planner.Stone) (planner.Stone, error) {
		if proposed {
			var err error
			if st, err = adopt(st, all); err != nil {
				return st, err
			}
		}
		return planner.AddCut(st, k)
	})
	if err == nil {
		v.at = len(s.Stone().Cuts) - 1
	}
}

func (v *View) keep(s *view.State) {
	all := v.kept(s)
	_ = s.Do("Keep the cuts", func(st planner.Stone) (planner.Stone, error) { return adopt(st, all) })
}

// delete takes the chosen cut away; of proposed ones the others are kept.
func (v *View) delete(s *view.State) {
	k, _, ok := v.chosen(s)
	if !ok {
		return
	}
	all := v.kept(s)
	proposed := len(s.Stone().Cuts) == 0
	_ = s.Do("Take the cut away", func(st planner.Stone) (planner.Stone, error) {
		if proposed {
			var err error
			if st, err = adopt(st, all); err != nil {
				return st, err
			}
		}
		return planner.DeleteCut(st, k.ID)
	})
}

// open returns the cracks that the chosen cut runs into before they are sealed.
func (v *View) open(s *view.State) []string {
	layout := v.layout(s)
	if _, at, ok := v.chosen(s); ok && layout != nil && at < len(layout.Steps) {
		return layout.Steps[at].SealFirst
	}
	return nil
}

// seal records that the cracks of the chosen cut are sealed: an entry of the diary,
// from which a buyer is told of the glue.
func (v *View) seal(s *view.State) {
	step := diary.Step{Date: v.Today().Format(time.DateOnly), Stage: "sealed", Sealed: v.open(s)}
	what := cuts.Names(step.Sealed)
	err := s.Do("Seal "+what, func(st planner.Stone) (planner.Stone, error) {
		st, _, err := diary.Add(st, step)
		return st, err
	})
	if err == nil {
		s.Say(style.Text, "Sealed %s, in the diary too: a buyer is told of the glue (%s). u takes it back.", what,
			diary.DisclosureSource)
	}
}

// ask asks for the chosen cut in figures.
func (v *View) ask(s *view.State) {
	k, _, ok := v.chosen(s)
	if !ok {
		return
	}
	p := planeOf(k)
	turned := math.Atan2(p.Normal.Y, p.Normal.X) * 180 / math.Pi
	leaning := math.Asin(max(-1, min(1, p.Normal.Z))) * 180 / math.Pi
	number := func(label string, kind widget.Kind, least, most, now float64) *widget.Field {
		f := &widget.Field{Label: label, Kind: kind, Min: least, Max: most}
		return f.With(fmt.Sprintf("%g", math.Round(now*1000)/1000))
	}
	s.Ask(&widget.Form{Title: "Cut " + planner.Visible(k.ID), Fields: []*widget.Field{
		edit.PlaceField("Runs through x, y", k.Point.X, k.Point.Y),
		number("Offcut lies toward", widget.Angle, -360, 360, turned),
		number("Leans outwards", widget.Angle, -90, 90, leaning),
		number("Kerf", widget.Length, 0.05, 5, k.Kerf),
	}, Done: func(f *widget.Form) error {
		at := f.Point(0)
		s1, c1 := math.Sincos(f.Number(1) * math.Pi / 180)
		up, flat := math.Sincos(f.Number(2) * math.Pi / 180)
		v.change(s, "Change the cut", func(k planner.Cut) planner.Cut {
			k.Point.X, k.Point.Y, k.Kerf = at[0], at[1], f.Number(3)
			k.Normal = geometry.Vec3{X: c1 * flat, Y: s1 * flat, Z: up}
			return k
		})
		return nil
	}})
}
