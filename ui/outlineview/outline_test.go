package outlineview

import (
	"fmt"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/require"

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

func square() planner.Stone {
	return planner.Stone{
		Name: "Square", Material: "turquoise",
		Outline: []geometry.Vec2{{X: -10, Y: -10}, {X: 10, Y: -10}, {X: 10, Y: 10}, {X: -10, Y: 10}},
		Top:     []geometry.Vec3{{Z: 8}}, Base: []geometry.Vec3{{X: 1}},
	}
}

func newBench(t require.TestingT, stone planner.Stone) *bench {
	s := view.NewState(planner.NewHistory(stone), presets.Builtin(), style.New(style.NoColour, style.Unknown),
		canvas.Braille)
	b := &bench{t: t, v: New(), s: s}
	b.v.Render(s, 80, 21)
	return b
}

// keys presses keys; into an open form they type.
func (b *bench) keys(names ...string) *bench {
	kinds := map[string]tea.KeyType{"enter": tea.KeyEnter, "tab": tea.KeyTab, "esc": tea.KeyEsc}
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

// at returns the cell that a place is drawn in.
func (b *bench) at(p geometry.Vec2) (col, row int) {
	c, r := b.s.Plane(b.v.cols, b.v.rows).Cell(b.v.cols, b.v.rows, p)
	return int(c), int(r)
}

func (b *bench) mouse(kind view.MouseKind, col, row int) {
	b.v.Mouse(b.s, view.Mouse{Kind: kind, Col: col, Row: row, Width: 80, Height: 21})
}

func (b *bench) drag(from, to geometry.Vec2) {
	c, r := b.at(from)
	b.mouse(view.Press, c, r)
	c, r = b.at(to)
	b.mouse(view.Drag, c, r)
	b.mouse(view.Release, c, r)
}

// near checks that a place set by mouse is within a cell of where it was meant.
func (b *bench) near(want, got geometry.Vec2) {
	grain := b.s.Plane(b.v.cols, b.v.rows).Grain()
	require.InDelta(b.t, want.X, got.X, 2*grain.X+0.01)
	require.InDelta(b.t, want.Y, got.Y, 2*grain.Y+0.01)
}

func TestArrowsMoveWhatIsSelectedByTheStep(t *testing.T) {
	b := newBench(t, square()).keys("tab", "tab", "right", "up", "]", "left")
	require.Equal(t, geometry.Vec2{X: 9.5, Y: -9.5}, b.s.Stone().Outline[1])
	undo, _ := b.s.History().Next()
	require.Equal(t, "Move corner 2", undo)
	b.s.Undo()
	require.Equal(t, square().Outline, b.s.Stone().Outline, "a row of steps is undone at once")
}

func TestArrowsMoveOnTheScreenAlsoWithTheStoneTurnedOver(t *testing.T) {
	b := newBench(t, square()).keys("f", "tab", "right")
	require.Equal(t, -10.5, b.s.Stone().Outline[0].X, "to the right on the screen is to the left in the plan")
}

func TestCrossingEdgesAreRefusedNamedAndShown(t *testing.T) {
	b := newBench(t, square()).keys("tab", "=")
	b.keys("12, 5", "enter")
	require.NotNil(t, b.s.Asking(), "the text stays to be mended")
	status := b.s.Status()
	require.Contains(t, status.Text, "would cross")
	require.Len(t, status.Edges, 2)
	require.Contains(t, strings.Join(b.v.Render(b.s, 80, 21), "\n"), "!", "the two edges are marked")
	require.Equal(t, square().Outline, b.s.Stone().Outline)
	// By mouse: corner 1 dragged across the far side.
	b = newBench(t, square())
	b.drag(geometry.Vec2{X: -10, Y: -10}, geometry.Vec2{X: 12, Y: 5})
	require.Contains(t, b.s.Status().Text, "would cross")
	require.Equal(t, square().Outline, b.s.Stone().Outline)
}

func TestAddSplitAndDeleteCorners(t *testing.T) {
	b := newBench(t, square()).keys("=", "0, -12", "enter", "a")
	require.Equal(t, geometry.Vec2{X: 0, Y: -12}, b.s.Stone().Outline[1])
	b.keys("x")
	require.Equal(t, geometry.Vec2{X: 5, Y: -11}, b.s.Stone().Outline[2])
	b.keys("d", "d", "d")
	require.Len(t, b.s.Stone().Outline, 3)
	a, _ := keys.Find(b.v.Actions(b.s), "d")
	a.Run()
	require.Contains(t, b.s.Status().Text, "at least 3 corners")
}

func TestReadingsAreAddedMovedTypedAndDeleted(t *testing.T) {
	b := newBench(t, square()).keys("right", "t", "7,5", "enter")
	require.Equal(t, geometry.Vec3{X: 0.5, Z: 7.5}, b.s.Stone().Top[1])
	b.keys("b", "400um", "enter")
	require.Equal(t, geometry.Vec3{X: 0.5, Z: 0.4}, b.s.Stone().Base[1])
	require.Equal(t, planner.Base, b.s.Face)
	b.keys("f", "tab", "tab", "tab", "tab", "tab", "tab", "=", "3, 4, 9", "enter")
	require.Equal(t, geometry.Vec3{X: 3, Y: 4, Z: 9}, b.s.Stone().Top[1])
	b.keys("d")
	require.Len(t, b.s.Stone().Top, 1)
}

func TestThicknessAllRound(t *testing.T) {
	b := newBench(t, square()).keys("g", "4", "enter", "6", "enter", "enter")
	text, wrong := b.s.Asking().Fields[1].Remark()
	require.True(t, wrong)
	require.Contains(t, text, "no thicker than the greatest")
	b.keys("esc", "g", "9", "enter", "6", "enter", "a", "enter")
	stone := b.s.Stone()
	require.Len(t, stone.Top, 9)
	require.Equal(t, geometry.Vec3{Z: 9}, stone.Top[0])
	require.Equal(t, geometry.Vec3{X: -10, Y: -10, Z: 7.5}, stone.Top[1], "as round below as above")
	require.Equal(t, geometry.Vec3{X: -10, Y: -10, Z: 1.5}, stone.Base[1])
	require.Empty(t, planner.Validate(stone, presets.Builtin()))
	b.keys("e", "4", "enter", "enter")
	require.Equal(t, 5.5, b.s.Stone().Top[1].Z, "the rim alone; the top moves")
	require.Equal(t, 9.0, b.s.Stone().Top[0].Z)
}

func TestAThicknessAsksOnceWhichFaceItMoves(t *testing.T) {
	b := newBench(t, square()).keys("right", "h", "5.6", "enter", "t", "enter")
	require.Equal(t, geometry.Vec3{X: 0.5, Z: 2.4}, b.s.Stone().Base[1], "5.6 under the level top at 8")
	b.keys("right", "h", "5", "enter")
	require.Nil(t, b.s.Asking())
	require.Equal(t, geometry.Vec3{X: 1, Z: 3}, b.s.Stone().Base[0], "it took the place of the reading there")
	b.keys("v", "1", "enter", "right", "h", "5", "enter")
	require.Contains(t, b.s.Asking().Problem(), "base: ", "two readings make no surface to measure from")
}

func TestATableOfReadings(t *testing.T) {
	b := newBench(t, planner.Stone{Outline: square().Outline})
	b.keys("w", "0 0 8.5 0,5", "enter", "-5 5 7", "enter", "5 -5 =6", "enter", "5 5 - 1", "enter", "1 2", "enter")
	text, wrong := b.s.Asking().Fields[0].Remark()
	require.True(t, wrong)
	require.Contains(t, text, "type x, y and a height")
	b.keys("ctrl+u", "enter")
	require.Nil(t, b.s.Asking())
	require.Equal(t, []geometry.Vec3{{Z: 8.5}, {X: -5, Y: 5, Z: 7}}, b.s.Stone().Top[:2])
	require.Equal(t, []geometry.Vec3{{Z: 0.5}, {X: 5, Y: 5, Z: 1}}, b.s.Stone().Base)
	b.s.Undo()
	require.Empty(t, b.s.Stone().Top, "the table is undone at once")
	b.keys("w")
	paste := "x\ty\tthick\ttop\tnote\n0\t0\t\t8,5\tmiddle\n3\t0\t7,5\t8\t\n-3\t0\t7\t\t\n0\t3\t\t8,2\tlast\n"
	b.s.Asking().Key(tea.KeyMsg{Type: tea.KeyRunes, Paste: true, Runes: []rune(paste)})
	require.Empty(t, b.s.Asking().Problem())
	require.Equal(t, []geometry.Vec3{{Z: 8.5}, {X: 3, Z: 8}, {X: -3, Z: 7.5}, {Y: 3, Z: 8.2}}, b.s.Stone().Top)
	require.Equal(t, []geometry.Vec3{{X: 3, Z: 0.5}}, b.s.Stone().Base, "8 less 7.5")
	require.Equal(t, "Row 5: x, y, thickness, top, …", b.s.Asking().Fields[0].Label, "by its own heads")
	b.keys("esc", "w", "0 0 8 0 8", "enter")
}

func TestWholeOutline(t *testing.T) {
	b := newBench(t, square()).keys("k", "40", "enter", "30", "enter")
	e := planner.Extent(b.s.Stone().Outline)
	require.InDelta(t, 40, e.Length, 1e-6)
	require.InDelta(t, 30, e.Width, 1e-6)
	b.keys("r", "90", "enter", "n")
	lo, hi := geometry.Bounds(b.s.Stone().Outline)
	require.InDelta(t, 30*40, (hi.X-lo.X)*(hi.Y-lo.Y), 1e-3)
	require.Equal(t, 8.0, b.s.Stone().Top[0].Z, "the level base of 0 became the top at 8")
	b.keys("k", "20", "enter", "30", "enter")
	require.NotNil(t, b.s.Asking(), "the width is the shorter one")
}

func TestDrawingAnOutline(t *testing.T) {
	b := newBench(t, planner.Stone{Material: "turquoise"})
	b.keys("=")
	for _, p := range square().Outline {
		b.keys(fmt.Sprintf("%g, %g", p.X, p.Y), "enter")
	}
	b.keys("0, -15", "enter")
	require.Contains(t, b.s.Status().Text, "would cross edge 1-2")
	text, wrong := b.s.Asking().Fields[0].Remark()
	require.True(t, wrong)
	require.Contains(t, text, "would cross edge 1-2")
	require.Len(t, b.v.draft, 4)
	b.keys("esc", "backspace")
	require.Len(t, b.v.draft, 3, "backspace takes the last one back")
	b.keys("c")
	require.Equal(t, square().Outline[:3], b.s.Stone().Outline)
	b = newBench(t, planner.Stone{Material: "turquoise"})
	for _, p := range square().Outline {
		c, r := b.at(p)
		b.mouse(view.Press, c, r)
		b.mouse(view.Release, c, r)
	}
	c, r := b.at(square().Outline[0])
	b.mouse(view.Press, c, r)
	require.Len(t, b.s.Stone().Outline, 4, "a click on the first corner closes")
	require.Len(t, b.s.Doubtful, 4)
	require.Contains(t, strings.Join(b.v.Render(b.s, 80, 21), "\n"), "○", "points set by mouse show their doubt")
}

func TestAnOutlineDrawnAnewWaits(t *testing.T) {
	b := newBench(t, square()).keys("o", "enter", "right", "enter", "esc")
	require.Equal(t, square().Outline, b.s.Stone().Outline)
	b.keys("o")
	require.Len(t, b.v.draft, 2, "esc never discards")
}

func TestTheMouseDragsCornersReadingsAndEdges(t *testing.T) {
	b := newBench(t, square())
	want := geometry.Vec2{X: 12, Y: 11}
	b.drag(geometry.Vec2{X: 10, Y: 10}, want)
	b.near(want, b.s.Stone().Outline[2])
	moved := b.s.Stone().Outline[2]
	require.Contains(t, b.s.Doubtful, moved)
	require.Contains(t, strings.Join(b.v.Render(b.s, 80, 21), "\n"), "±")
	b.keys("up")
	require.NotContains(t, b.s.Doubtful, b.s.Stone().Outline[2], "a nudge takes the doubt away")

	b.drag(geometry.Vec2{}, geometry.Vec2{X: 4, Y: 4})
	b.near(geometry.Vec2{X: 4, Y: 4}, b.s.Stone().Top[0].XY())
	require.Equal(t, 8.0, b.s.Stone().Top[0].Z)

	b.drag(geometry.Vec2{X: 0, Y: -10}, geometry.Vec2{X: 0, Y: -13})
	require.Len(t, b.s.Stone().Outline, 5)
	b.near(geometry.Vec2{X: 0, Y: -13}, b.s.Stone().Outline[1])
}

func TestDraggingTheGroundMovesTheWindowAndTheWheelZooms(t *testing.T) {
	b := newBench(t, square())
	plane := b.s.Plane(b.v.cols, b.v.rows)
	b.drag(geometry.Vec2{X: 5, Y: 5}, geometry.Vec2{X: -2, Y: 1})
	require.NotEqual(t, plane.Centre, b.s.Plane(b.v.cols, b.v.rows).Centre)
	require.Equal(t, square(), b.s.Stone())
	p := b.s.Plane(b.v.cols, b.v.rows).At(b.v.cols, b.v.rows, 40, 5)
	b.mouse(view.WheelUp, 40, 5)
	zoomed := b.s.Plane(b.v.cols, b.v.rows)
	require.Less(t, zoomed.MMPerCell, plane.MMPerCell)
	q := zoomed.At(b.v.cols, b.v.rows, 40, 5)
	require.InDelta(t, 0, p.Sub(q).Norm(), 1e-9, "the point under the pointer stays")
}

func TestAThingIsPickedFromTheList(t *testing.T) {
	b := newBench(t, square())
	lines := b.v.Render(b.s, 160, 47)
	row := 0
	for i, l := range lines {
		if strings.Contains(l, "corner 3 ") {
			row = i
		}
	}
	b.v.Mouse(b.s, view.Mouse{Kind: view.Press, Col: 120, Row: row, Width: 160, Height: 47})
	require.Equal(t, view.Selection{Kind: view.Corner, Index: 2, Point: -1}, b.s.Selected)
	require.Contains(t, strings.Join(b.v.Render(b.s, 160, 47), "\n"), "▸ corner 3        10.00,  10.00")
}

func TestACancelledDragChangesNothing(t *testing.T) {
	b := newBench(t, square())
	c, r := b.at(geometry.Vec2{X: 10, Y: 10})
	b.mouse(view.Press, c, r)
	b.mouse(view.Drag, c+3, r)
	require.NotEqual(t, square().Outline, b.v.shown(b.s).Outline, "the drawing shows where it would go")
	b.mouse(view.Cancel, c+3, r)
	b.mouse(view.Release, c+3, r)
	require.Equal(t, square(), b.s.Stone())
}
