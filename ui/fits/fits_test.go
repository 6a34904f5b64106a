package fits

import (
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cabwright/geometry"
	"cabwright/geometry/outline"
	"cabwright/geometry/solid"
	"cabwright/planner"
	"cabwright/planner/search"
	"cabwright/planner/stonefile"
	"cabwright/presets"
	"cabwright/ui/canvas"
	"cabwright/ui/keys"
	"cabwright/ui/style"
	"cabwright/ui/view"
)

var update = flag.Bool("update", false, "write the golden frames anew")

// site is a stand-in for search.Site: the clearance falls by the distance from
// a best place, so that moving and settling can be checked by hand.
type site struct{ best geometry.Vec3 }

func (x site) Clearance(_ solid.Cabochon, p search.Pose) search.Reading {
	return search.Reading{Clearance: 0.5 - p.Origin.Sub(x.best).Norm(), LimitedBy: []string{"C1"}}
}

func (x site) Settle(c search.Candidate, p search.Pose, _ float64) (search.Pose, search.Reading) {
	p.Origin = x.best
	return p, x.Clearance(c.Solid, p)
}

// fit makes one fit of a list.
func fit(t require.TestingT, shape string, length, width float64, face planner.Face, sides int,
	proved bool) search.Fit {
	o, err := outline.New(shape, length, width)
	require.NoError(t, err)
	dome, back := 0.3*width, 0.0
	c := search.Candidate{Face: face, DomeStyle: "medium", BackStyle: "flat"}
	if sides == 2 {
		back, c.BackStyle = 0.15*width, "slight"
	}
	c.Solid = solid.Cabochon{Outline: o, Wall: 1.2, WallLeanDeg: 10, Dome: dome, Back: back, Sides: sides}
	pose := search.Pose{Origin: geometry.Vec3{X: 0.5, Y: -0.5, Z: 2.6}, Axes: geometry.RotZ(0.25).Mul(geometry.RotX(0.08))}
	if face == planner.Base {
		pose.Origin.Z = 6.2
		pose.Axes = geometry.RotX(3.1).Mul(pose.Axes)
	}
	v := c.Solid.Volume()
	return search.Fit{
		Candidate: c, Pose: pose, Clearance: 0.21, LimitedBy: []string{"C1", "skin"}, Volume: v,
		Carat: planner.Carat(v, 1.83), CaratLow: planner.Carat(v*0.95, 1.74), CaratHigh: planner.Carat(v*1.05, 1.93),
		Colour: 0.63, Proved: proved,
	}
}

// plan is a list of fits and refusals of some length.
func plan(t require.TestingT) search.Plan {
	p := search.Plan{TiltMaxDeg: 15, Tolerance: 0.05, Stopped: search.Complete, Progress: 1}
	for i, size := range [][2]float64{{16, 12}, {14, 12}, {14, 10}, {12, 10}, {11, 9}, {10, 8}, {9, 7}, {8, 6}, {7, 5}} {
		for _, shape := range []string{"oval", "cushion", "octagon"} {
			if shape == "cushion" && i > 4 {
				continue
			}
			p.Fits = append(p.Fits,
				fit(t, shape, size[0], size[1], planner.Top, 1, i%3 != 1),
				fit(t, shape, size[0], size[1], planner.Base, 2, true))
		}
	}
	search.SortFits(p.Fits, search.ByCarat)
	for _, size := range [][2]float64{{18, 13}, {20, 15}, {22, 16}} {
		f := fit(t, "oval", size[0], size[1], planner.Top, 1, false)
		p.RuledOut = append(p.RuledOut, search.RuledOut{Candidate: f.Candidate, Bound: -0.12,
			LimitedBy: []string{"P1", "skin"}, Verdict: search.CannotFit})
	}
	p.RuledOut[2].Verdict, p.RuledOut[2].Bound = search.Undecided, 0.01
	return p
}

// state is a workbench on the nodule of the demo stones, with a list found.
func state(t require.TestingT) *view.State {
	doc, err := stonefile.Read(filepath.Join("..", "..", "testdata", "stones", "nodule.stone"), presets.Builtin())
	require.NoError(t, err)
	return stateOf(doc.Stone, plan(t))
}

func stateOf(stone planner.Stone, p search.Plan) *view.State {
	s := view.NewState(planner.NewHistory(stone), presets.Builtin(), style.New(style.NoColour, style.Unknown),
		canvas.Braille)
	s.Rough, s.RoughErr = planner.NewRough(stone)
	s.RoughOf = s.Revision()
	s.Site = site{geometry.Vec3{X: 1, Y: 1, Z: 3}}
	s.Take(p, s.Revision())
	return s
}

// newView is a view that asks at once.
func newView() *View {
	v := New()
	v.askAfter = 0
	return v
}

// press does what a key does, and what its command answers.
func press(t require.TestingT, v *View, s *view.State, names ...string) {
	for _, name := range names {
		a, ok := keys.Find(v.Actions(s), name)
		require.True(t, ok, "no action on %s", name)
		require.Empty(t, a.Disabled, "%s: %s", name, a.Disabled)
		if cmd := a.Run(); cmd != nil {
			v.Update(s, cmd())
		}
	}
}

// frame checks what Render promises and returns the lines.
func frame(t require.TestingT, v *View, s *view.State, width, height int) []string {
	lines := v.Render(s, width, height)
	require.LessOrEqual(t, len(lines), max(0, height))
	for _, l := range lines {
		require.LessOrEqual(t, ansi.StringWidth(l), max(0, width), "%q", l)
	}
	return lines
}

func golden(t *testing.T, name string, lines []string) {
	t.Helper()
	path := filepath.Join("testdata", name+".txt")
	got := strings.Join(lines, "\n") + "\n"
	if *update {
		require.NoError(t, os.MkdirAll("testdata", 0o755))
		require.NoError(t, os.WriteFile(path, []byte(got), 0o644))
	}
	want, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, string(want), got)
}

// bodies are the rows a view gets of the two designed screens: all but the
// title, the status and the keys.
var bodies = map[string][2]int{"80x24": {80, 20}, "160x50": {160, 46}, "60x18": {60, 14}, "120x36": {120, 32}}

func TestFrames(t *testing.T) {
	for size, wh := range bodies {
		for what, set := range map[string]func(*View, *view.State){
			"alone":    func(*View, *view.State) {},
			"base":     func(v *View, s *view.State) { press(t, v, s, "down") },
			"reasons":  func(v *View, s *view.State) { press(t, v, s, "r", "down") },
			"beside":   func(v *View, s *view.State) { press(t, v, s, "p", "down", "p", "down", "down", "p", "up", "b") },
			"faces":    func(v *View, s *view.State) { press(t, v, s, "F") },
			"byhand":   func(v *View, s *view.State) { press(t, v, s, "n", "left", "left", ".", "l", "pgup") },
			"only-one": func(v *View, s *view.State) { press(t, v, s, "C") },
		} {
			t.Run(what+"-"+size, func(t *testing.T) {
				v, s := newView(), state(t)
				set(v, s)
				golden(t, what+"-"+size, frame(t, v, s, wh[0], wh[1]))
			})
		}
	}
}

func TestTiny(t *testing.T) {
	for _, m := range []mode{alone, beside, reasons} {
		for _, wh := range [][2]int{{0, 0}, {-3, 5}, {1, 1}, {5, 1}, {1, 9}, {27, 15}, {59, 15}, {60, 15}, {60, 4}, {79, 3},
			{300, 90}} {
			v, s := newView(), state(t)
			v.mode = m
			frame(t, v, s, wh[0], wh[1])
			s.Plan = search.Plan{}
			s.Chosen = nil
			frame(t, v, s, wh[0], wh[1])
		}
	}
}

// No row of the list is cut, whatever the outline and the weight, at any width that
// the workbench gives it.
func TestNoRowOfTheListIsCut(t *testing.T) {
	v, s := newView(), state(t)
	p := plan(t)
	for i, shape := range []string{"rectangle", "marquise", "triangle", "octagon", "cushion", "round", "heart", "square"} {
		p.Fits[i].Solid.Outline.Shape = shape
		p.Fits[i].Carat = 12.34 * float64(1+13*i)
	}
	s.Take(p, s.Revision())
	for width := 60; width <= 200; width++ {
		_, figures := view.Columns(width)
		for _, line := range v.list(s, figures, 40)[1:] {
			require.NotContains(t, line, "…", "%d columns", width)
		}
	}
}
