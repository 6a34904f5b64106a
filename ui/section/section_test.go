package section

import (
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

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

// stateOf is a workbench on a stone, with one fit chosen where fitted.
func stateOf(t require.TestingT, stone planner.Stone, fitted bool) *view.State {
	s := view.NewState(planner.NewHistory(stone), presets.Builtin(), style.New(style.NoColour, style.Unknown),
		canvas.Braille)
	s.Rough, s.RoughErr = planner.NewRough(stone)
	s.RoughOf = s.Revision()
	if fitted {
		o, err := outline.New("oval", 14, 12)
		require.NoError(t, err)
		s.Choose(search.Fit{
			Candidate: search.Candidate{Face: planner.Top, Solid: solid.Cabochon{Outline: o, Wall: 1.2, WallLeanDeg: 10,
				Dome: 3.6, Back: 1.5, Sides: 2}},
			Pose: search.Pose{Origin: geometry.Vec3{X: 0.5, Y: -0.5, Z: 2.8},
				Axes: geometry.RotZ(0.25).Mul(geometry.RotX(0.08))},
			LimitedBy: []string{"C1"},
		})
	}
	return s
}

func nodule(t require.TestingT) planner.Stone {
	doc, err := stonefile.Read(filepath.Join("..", "..", "testdata", "stones", "nodule.stone"), presets.Builtin())
	require.NoError(t, err)
	return doc.Stone
}

func press(t require.TestingT, v *View, s *view.State, names ...string) {
	for _, name := range names {
		a, ok := keys.Find(v.Actions(s), name)
		require.True(t, ok, "no action on %s", name)
		require.Empty(t, a.Disabled, "%s: %s", name, a.Disabled)
		a.Run()
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

func TestFrames(t *testing.T) {
	for size, wh := range map[string][2]int{"80x24": {80, 21}, "160x50": {160, 47}} {
		t.Run("along-"+size, func(t *testing.T) {
			golden(t, "along-"+size, frame(t, New(), stateOf(t, nodule(t), true), wh[0], wh[1]))
		})
		t.Run("across-"+size, func(t *testing.T) {
			v, s := New(), stateOf(t, nodule(t), true)
			press(t, v, s, "w", "up", "up", "]", "right", "right", ",")
			golden(t, "across-"+size, frame(t, v, s, wh[0], wh[1]))
		})
		t.Run("nofit-"+size, func(t *testing.T) {
			golden(t, "nofit-"+size, frame(t, New(), stateOf(t, nodule(t), false), wh[0], wh[1]))
		})
	}
}

func TestWithoutAStone(t *testing.T) {
	v, s := New(), stateOf(t, planner.Stone{}, false)
	require.Nil(t, rough(s))
	for _, wh := range [][2]int{{0, 0}, {-1, 4}, {1, 1}, {59, 15}, {60, 15}, {80, 21}, {60, 1}, {300, 80}} {
		frame(t, v, s, wh[0], wh[1])
		for kind := view.Press; kind <= view.WheelDown; kind++ {
			v.Mouse(s, view.Mouse{Kind: kind, Col: wh[0] / 3, Row: wh[1] - 1, Width: wh[0], Height: wh[1]})
		}
	}
	for _, a := range v.Actions(s) {
		if a.Disabled == "" {
			a.Run()
		}
	}
	frame(t, v, s, 80, 21)
}

// TestSlicesStayInTheStone: stepping never leaves the stone, and a step there
// and back is no step.
func TestSlicesStayInTheStone(t *testing.T) {
	v, s := New(), stateOf(t, nodule(t), true)
	press(t, v, s, "up", "down")
	a, b := v.line(s), New().line(s)
	assert.InDelta(t, 0, a.A.Sub(b.A).Norm(), 1e-9)
	for range 100 {
		press(t, v, s, "up")
		require.True(t, v.line(s).Inside(s.Stone().Outline))
	}
	assert.Contains(t, s.Status().Text, "miss the stone")
}

// TestDrawnByMouse: a drag in the plan puts the cut along it.
func TestDrawnByMouse(t *testing.T) {
	v, s := New(), stateOf(t, nodule(t), true)
	rows := planRows(s, 52, 21)
	at := func(col, row int) geometry.Vec2 { return plane(s, 52, rows).At(52, rows, col, row) }
	m := view.Mouse{Kind: view.Press, Col: 20, Row: 2, Width: 80, Height: 21}
	v.Mouse(s, m)
	m.Kind, m.Col, m.Row = view.Drag, 30, rows-2
	v.Mouse(s, m)
	m.Kind = view.Release
	v.Mouse(s, m)
	k := v.line(s)
	for _, p := range []geometry.Vec2{at(20, 2), at(30, rows-2)} {
		_, off := k.Of(p)
		assert.InDelta(t, 0, off, 1e-9)
	}
	// A click in the section looks at that place.
	m = view.Mouse{Kind: view.Press, Col: 26, Row: 18, Width: 80, Height: 21}
	v.Mouse(s, m)
	x := window(s, k, 52, 21-rows).At(52, 21-rows, 26, 18-rows).X
	assert.InDelta(t, x, v.look*length(k), 1e-9)
}

// TestThicknessOfASlab: between level faces 5 mm apart every place is 5 mm thick.
func TestThicknessOfASlab(t *testing.T) {
	stone := planner.Stone{
		Outline: []geometry.Vec2{{X: -9, Y: -6}, {X: 9, Y: -6}, {X: 9, Y: 6}, {X: -9, Y: 6}},
		Top:     []geometry.Vec3{{Z: 6}}, Base: []geometry.Vec3{{Z: 1}},
	}
	s := stateOf(t, stone, false)
	require.NoError(t, s.RoughErr)
	least, most := thickness(s.Rough, New().line(s))
	assert.InDelta(t, 5, least, 1e-9)
	assert.InDelta(t, 5, most, 1e-9)
	text := strings.Join(frame(t, New(), s, 80, 21), "\n")
	assert.Contains(t, text, "thick 5.0 to 5.0 mm")
	assert.Contains(t, text, "rough 5.00 mm thick")
	assert.Contains(t, text, "Section of 18.0 mm")
}

// TestAnyKeysAnySize: whatever is pressed and clicked, the frame holds.
func TestAnyKeysAnySize(t *testing.T) {
	stone := nodule(t)
	stone.Cracks[0].ID = "\x1b[31m中文👨‍👩‍👧"
	rapid.Check(t, func(t *rapid.T) {
		v, s := New(), stateOf(t, stone, rapid.Bool().Draw(t, "fitted"))
		s.Glyphs = canvas.Mode(rapid.IntRange(0, 2).Draw(t, "glyphs"))
		w, h := rapid.IntRange(0, 200).Draw(t, "w"), rapid.IntRange(0, 60).Draw(t, "h")
		for range rapid.IntRange(0, 8).Draw(t, "n") {
			actions := v.Actions(s)
			if a := actions[rapid.IntRange(0, len(actions)-1).Draw(t, "action")]; a.Disabled == "" {
				a.Run()
			}
			v.Mouse(s, view.Mouse{
				Kind: view.MouseKind(rapid.IntRange(0, 5).Draw(t, "kind")),
				Col:  rapid.IntRange(0, max(1, w)).Draw(t, "col"), Row: rapid.IntRange(0, max(1, h)).Draw(t,
					"row"), Width: w, Height: h,
			})
		}
		for _, l := range frame(t, v, s, w, h) {
			if strings.Contains(l, "\x1b") {
				t.Fatalf("an escape from the file reached the screen: %q", l)
			}
		}
	})
}
