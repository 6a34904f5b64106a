package marks

import (
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"cabwright/geometry"
	"cabwright/planner"
	"cabwright/presets"
	"cabwright/ui/canvas"
	"cabwright/ui/keys"
	"cabwright/ui/style"
	"cabwright/ui/view"
	"cabwright/ui/widget"
)

// bench is the view with a stone, without the root.
type bench struct {
	t require.TestingT
	v *View
	s *view.State
}

func bare() planner.Stone {
	return planner.Stone{
		Name: "Square", Material: "turquoise",
		Outline: []geometry.Vec2{{X: -10, Y: -10}, {X: 10, Y: -10}, {X: 10, Y: 10}, {X: -10, Y: 10}},
		Top:     []geometry.Vec3{{Z: 8}}, Base: []geometry.Vec3{{X: 1}},
	}
}

// marked is bare with one mark of each kind.
func marked() planner.Stone {
	s := bare()
	s.Cracks = []planner.Crack{{ID: "C1", Path: []geometry.Vec2{{X: -8, Y: -8}, {X: -4, Y: -4}}, Face: planner.Top,
		Depth: 3}}
	s.Pockets = []planner.Pocket{{ID: "P1", Outline: []geometry.Vec2{{X: 2, Y: 2}, {X: 6, Y: 2}, {X: 6, Y: 6}},
		Face: planner.Base, Depth: 2}}
	s.Colour = []planner.Zone{{ID: "Z1", Outline: []geometry.Vec2{{X: -5, Y: 0}, {X: 0, Y: 0}, {X: 0, Y: 5}},
		Face: planner.Top, Grade: 3}}
	return s
}

func newBench(t require.TestingT, stone planner.Stone) *bench {
	s := view.NewState(planner.NewHistory(stone), presets.Builtin(), style.New(style.NoColour, style.Unknown),
		canvas.Braille)
	b := &bench{t: t, v: New(), s: s}
	b.render()
	return b
}

func (b *bench) render() string { return strings.Join(b.v.Render(b.s, 100, 30), "\n") }

// keys presses keys; into an open form they type.
func (b *bench) keys(names ...string) *bench {
	kinds := map[string]tea.KeyType{"enter": tea.KeyEnter, "tab": tea.KeyTab, "esc": tea.KeyEsc, "right": tea.KeyRight,
		"ctrl+s": tea.KeyCtrlS, "ctrl+u": tea.KeyCtrlU}
	for _, k := range names {
		if f := b.s.Asking(); f != nil {
			msg := tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(k)}
			if kind, ok := kinds[k]; ok {
				msg = tea.KeyMsg{Type: kind}
			}
			if f.Key(msg) != widget.Open && b.s.Asking() == f {
				b.s.Ask(nil)
			}
			continue
		}
		a, ok := keys.Find(b.v.Actions(b.s), k)
		require.True(b.t, ok, "no action at %s", k)
		require.Empty(b.t, a.Disabled, a.Name)
		a.Run()
	}
	return b
}

// at returns the cell of the view that a place of a face is drawn in.
func (b *bench) at(face planner.Face, p geometry.Vec2) (col, row int) {
	c, r := b.s.PlaneOf(face, b.v.area.cols, b.v.area.rows).Cell(b.v.area.cols, b.v.area.rows, p)
	if face == planner.Base {
		c += float64(b.v.area.cols + 1)
	}
	return int(c), int(r) + 1
}

func (b *bench) mouse(kind view.MouseKind, col, row int) {
	b.v.Mouse(b.s, view.Mouse{Kind: kind, Col: col, Row: row, Width: 100, Height: 30})
}

func (b *bench) drag(face planner.Face, from, to geometry.Vec2) {
	c, r := b.at(face, from)
	b.mouse(view.Press, c, r)
	c, r = b.at(face, to)
	b.mouse(view.Drag, c, r)
	b.mouse(view.Release, c, r)
}

func (b *bench) near(want, got geometry.Vec2) {
	grain := b.s.Plane(b.v.area.cols, b.v.area.rows).Grain()
	require.InDelta(b.t, want.X, got.X, 2*grain.X+0.01)
	require.InDelta(b.t, want.Y, got.Y, 2*grain.Y+0.01)
}

func TestACrackFromItsPointsToItsDepth(t *testing.T) {
	b := newBench(t, bare()).keys("c", "=", "4, -8", "enter", "5.5 -4", "enter", "enter")
	b.keys("6", "enter", "20", "enter", "180", "enter", "1,5", "enter", "y", "enter", "right", "enter")
	require.Nil(t, b.s.Asking())
	require.Equal(t, []planner.Crack{{ID: "C1", Path: []geometry.Vec2{{X: 4, Y: -8}, {X: 5.5, Y: -4}}, Face: planner.Base,
		Depth: 6, Lean: 20, Toward: 180, RunOn: 1.5, Sealed: true}}, b.s.Stone().Cracks)
	require.Contains(t, b.render(), "▸ C1  sealed crack, base, 6.0 mm deep, leans 20° toward 180°, may run on 1.5 mm")
	b.keys("e", "ctrl+u", "ctrl+s")
	require.True(t, b.s.Stone().Cracks[0].Through, "an empty depth is right through")
	b.keys("e", "0", "ctrl+s")
	require.NotNil(t, b.s.Asking(), "no depth at all is refused")
}

func TestAPocketAndItsPlaces(t *testing.T) {
	b := newBench(t, bare()).keys("p", "enter", "=", "3, 0", "enter", "3, 3", "ctrl+s", "2,5", "ctrl+s")
	require.Equal(t, planner.Pocket{ID: "P1", Outline: []geometry.Vec2{{}, {X: 3}, {X: 3, Y: 3}}, Face: planner.Top,
		Depth: 2.5}, b.s.Stone().Pockets[0])
	b.keys("enter", "enter", "4", "ctrl+s")
	require.NotNil(t, b.s.Asking(), "inside needs its heights")
	b.keys("tab", "tab", "1", "enter", "3", "ctrl+s")
	require.Equal(t, planner.Pocket{ID: "P1", Outline: b.s.Stone().Pockets[0].Outline, Face: planner.Inside, Low: 1,
		High: 3}, b.s.Stone().Pockets[0])
	b.keys("enter", "r", "ctrl+s")
	require.Equal(t, planner.Through, b.s.Stone().Pockets[0].Face)
	require.Contains(t, b.render(), "P1  pocket, right through")
}

func TestARoundPocket(t *testing.T) {
	b := newBench(t, bare()).keys("o", "1, 2", "enter", "4", "enter", "3", "ctrl+s")
	p := b.s.Stone().Pockets[0]
	require.Equal(t, 3.0, p.Depth)
	for _, q := range p.Outline {
		r := q.Sub(geometry.Vec2{X: 1, Y: 2}).Norm()
		require.GreaterOrEqual(t, r, 2.0, "no part of the hollow is left out")
		require.Less(t, r, 2.1)
	}
}

func TestAColourZone(t *testing.T) {
	b := newBench(t, bare()).keys("f", "z", "enter", "=", "3, 0", "enter", "3, 3", "enter", "esc", "c", "4", "enter",
		"1.5", "enter", "broad flash", "enter", "enter")
	require.Equal(t, planner.Zone{ID: "Z1", Outline: []geometry.Vec2{{}, {X: 3}, {X: 3, Y: 3}}, Face: planner.Base,
		Grade: 4, Pattern: "broad flash", Depth: 1.5}, b.s.Stone().Colour[0])
}

func TestADrawingLeftForNowWaits(t *testing.T) {
	b := newBench(t, bare()).keys("c", "enter", "=", "3, 3", "enter", "enter", "esc", "esc", "c")
	require.Len(t, b.v.draft, 2, "neither esc of the form nor of the drawing discards")
	b.keys("esc", "p")
	require.Empty(t, b.v.draft, "another kind of mark starts afresh")
}

func TestMovingMarksAndPoints(t *testing.T) {
	b := newBench(t, marked()).keys("tab", "right")
	require.Equal(t, []geometry.Vec2{{X: -7.5, Y: -8}, {X: -3.5, Y: -4}}, b.s.Stone().Cracks[0].Path)
	b.keys(".", ".", "up")
	require.Equal(t, []geometry.Vec2{{X: -7.5, Y: -8}, {X: -3.5, Y: -3.5}}, b.s.Stone().Cracks[0].Path)
	b.keys("=", "0, 0", "enter", "esc", "=", "-7, -8", "enter")
	require.Equal(t, []geometry.Vec2{{X: -7, Y: -8}, {}}, b.s.Stone().Cracks[0].Path)
	b.keys("tab", "a")
	require.Len(t, b.s.Stone().Pockets[0].Outline, 4)
	b.keys("d")
	require.Len(t, b.s.Stone().Pockets[0].Outline, 3)
	a, _ := keys.Find(b.v.Actions(b.s), "d")
	a.Run()
	require.Contains(t, b.s.Status().Text, "keeps at least 3 points")
	b.keys("esc", "d")
	require.Empty(t, b.s.Stone().Pockets)
}

func TestTheMousePicksAndMovesOnBothFaces(t *testing.T) {
	b := newBench(t, marked())
	b.drag(planner.Top, geometry.Vec2{X: -6, Y: -6}, geometry.Vec2{X: -6, Y: -2})
	b.near(geometry.Vec2{X: -8, Y: -4}, b.s.Stone().Cracks[0].Path[0])
	require.Equal(t, 4.0, b.s.Stone().Cracks[0].Path[1].X-b.s.Stone().Cracks[0].Path[0].X, "the whole crack moved")
	from := b.s.Stone().Cracks[0].Path[1]
	b.drag(planner.Top, from, geometry.Vec2{X: -2, Y: 3})
	b.near(geometry.Vec2{X: -2, Y: 3}, b.s.Stone().Cracks[0].Path[1])
	require.Contains(t, b.s.Doubtful, b.s.Stone().Cracks[0].Path[1])
	b.drag(planner.Base, geometry.Vec2{X: 4, Y: 2}, geometry.Vec2{X: 1, Y: -2})
	require.Equal(t, planner.Base, b.s.Face)
	b.near(geometry.Vec2{X: -1, Y: -2}, b.s.Stone().Pockets[0].Outline[0])
	// The third line of the list is the colour zone.
	b.mouse(view.Press, 5, b.v.area.listRow+3)
	require.Equal(t, view.Zone, b.s.Selected.Kind)
}

func TestTheMouseDrawsAMark(t *testing.T) {
	b := newBench(t, bare()).keys("p")
	for _, p := range []geometry.Vec2{{X: -4, Y: -4}, {X: 4, Y: -4}, {X: 4, Y: 4}, {X: -4, Y: -4}} {
		c, r := b.at(planner.Base, p)
		b.mouse(view.Press, c, r)
		b.mouse(view.Release, c, r)
	}
	require.NotNil(t, b.s.Asking(), "a click on the first point is done")
	b.keys("ctrl+s")
	require.Equal(t, planner.Base, b.s.Stone().Pockets[0].Face)
	b.near(geometry.Vec2{X: 4, Y: 4}, b.s.Stone().Pockets[0].Outline[2])
}

func TestACrackThatLeavesTheStoneIsToldAndClipped(t *testing.T) {
	stone := marked()
	stone.Cracks[0].Path = []geometry.Vec2{{X: 0, Y: 0}, {X: 5, Y: 5}, {X: 15, Y: 5}}
	b := newBench(t, stone).keys("tab", "right")
	require.Contains(t, b.s.Status().Text, "Crack C1 leaves the outline at 10.00, 5.00 mm: x clips it")
	b.keys("x")
	require.Equal(t, []geometry.Vec2{{X: 0.5, Y: 0}, {X: 5.5, Y: 5}, {X: 10, Y: 5}}, b.s.Stone().Cracks[0].Path)
	stone.Cracks[0].Path = []geometry.Vec2{{X: 20, Y: 0}, {X: 25, Y: 5}}
	b = newBench(t, stone).keys("tab", "x")
	require.Contains(t, b.s.Status().Text, "All of crack C1 lies outside")
}

// What is kept of a path lies inside, and is all of it when nothing leaves.
func TestInsideKeepsWhatLiesInside(t *testing.T) {
	outline := bare().Outline
	rapid.Check(t, func(t *rapid.T) {
		path := make([]geometry.Vec2, rapid.IntRange(2, 6).Draw(t, "n"))
		for i := range path {
			path[i] = geometry.Vec2{X: rapid.Float64Range(-20, 20).Draw(t, "x"), Y: rapid.Float64Range(-20, 20).Draw(t, "y")}
		}
		kept := inside(path, outline)
		for i := 1; i < len(kept); i++ {
			m := kept[i-1].Add(kept[i]).Scale(0.5)
			if max(m.X, -m.X, m.Y, -m.Y) > 10+1e-9 {
				t.Fatalf("%v of %v is outside", m, path)
			}
		}
		if _, out := leaves(path, outline); !out && len(kept) != len(path) {
			t.Fatalf("%v stays inside but %v is kept", path, kept)
		}
	})
}

func TestFramesKeepTheirMeasure(t *testing.T) {
	for _, size := range [][2]int{{1, 1}, {30, 5}, {59, 15}, {60, 15}, {80, 21}, {160, 47}, {300, 3}} {
		b := newBench(t, marked()).keys("tab")
		lines := b.v.Render(b.s, size[0], size[1])
		require.LessOrEqual(t, len(lines), size[1])
	}
}
