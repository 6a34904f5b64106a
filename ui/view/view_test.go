package view

import (
	"testing"

	"github.com/charmbracelet/x/ansi"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"cabwright/geometry"
	"cabwright/planner"
	"cabwright/presets"
	"cabwright/ui/canvas"
	"cabwright/ui/style"
)

func threeCorners() *State {
	stone := planner.Stone{Outline: []geometry.Vec2{{X: -10, Y: -5}, {X: 10, Y: -5}, {X: 0, Y: 5}}}
	return NewState(planner.NewHistory(stone), presets.Builtin(), style.New(style.NoColour, style.Unknown), canvas.Braille)
}

func TestFitHoldsEveryLineToItsWidth(t *testing.T) {
	require.Equal(t, "ab  ", Fit("ab", 4))
	require.Equal(t, "abc…", Fit("abcdef", 4))
	require.Equal(t, "", Fit("abc", 0))
	require.Equal(t, "石… ", Fit("石石石", 4), "a wide sign is not cut in two")
	rapid.Check(t, func(t *rapid.T) {
		line := style.New(style.TrueColour, style.Dark).Paint(style.Key,
			rapid.StringMatching(`[a-zé石 ⠿]{0,30}`).Draw(t, "line"))
		width := rapid.IntRange(0, 40).Draw(t, "width")
		if n := ansi.StringWidth(Fit(line, width)); n != width {
			t.Fatalf("%q in %d cells takes %d", line, width, n)
		}
	})
}

func TestColumnsShareTheWidthOut(t *testing.T) {
	drawing, figures := Columns(80)
	require.Equal(t, [2]int{52, 27}, [2]int{drawing, figures})
	for width := range 400 {
		drawing, figures := Columns(width)
		if width < 60 {
			require.Equal(t, [2]int{0, width}, [2]int{drawing, figures})
		} else {
			require.Equal(t, width, drawing+1+figures)
			require.GreaterOrEqual(t, drawing, 32)
		}
	}
}

func TestBesideKeepsBothColumns(t *testing.T) {
	require.Equal(t, []string{"a   x", "    y"}, Beside([]string{"a"}, 3, []string{"x", "y"}))
	require.Equal(t, []string{"a   "}, Beside([]string{"a"}, 3, nil))
}

func TestTheCursorIsKeptInSight(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := threeCorners()
		if rapid.Bool().Draw(t, "zoomed") {
			s.Zoom(rapid.Float64Range(0.5, 20).Draw(t, "factor"), geometry.Vec2{}, 50, 20)
		}
		if rapid.Bool().Draw(t, "over") {
			s.TurnFace()
		}
		p := geometry.Vec2{X: rapid.Float64Range(-50, 50).Draw(t, "x"), Y: rapid.Float64Range(-50, 50).Draw(t, "y")}
		s.KeepInSight(p, 50, 20)
		col, row := s.Plane(50, 20).Cell(50, 20, p)
		if col < 1-1e-6 || col > 49+1e-6 || row < 1-1e-6 || row > 19+1e-6 {
			t.Fatalf("%v is drawn at %v, %v", p, col, row)
		}
	})
}

func TestStepsGoThroughTheirList(t *testing.T) {
	s := threeCorners()
	require.Equal(t, 0.5, s.Step)
	for range 20 {
		s.NextStep(-1)
	}
	require.Equal(t, 0.05, s.Step)
	s.NextStep(1)
	require.Equal(t, 0.1, s.Step)
	for range 20 {
		s.NextStep(1)
	}
	require.Equal(t, 5.0, s.Step)
}

func TestEditsAreNamedUndoneAndRefused(t *testing.T) {
	s := threeCorners()
	move := func(x float64) Edit {
		return func(st planner.Stone) (planner.Stone, error) {
			return planner.MoveCorner(st, 0, geometry.Vec2{X: x, Y: -5})
		}
	}
	require.NoError(t, s.Do("Move corner 1", move(-11)))
	require.Equal(t, "Moved corner 1, u undoes it.", s.Status().Text)
	require.Equal(t, 1, s.Revision())
	require.NoError(t, s.Continue("Move corner 1", move(-12)))
	require.Error(t, s.Do("Move corner 1", func(st planner.Stone) (planner.Stone, error) {
		return planner.MoveCorner(st, 7, geometry.Vec2{})
	}))
	require.Equal(t, style.Bad, s.Status().Role)
	s.Undo()
	require.Equal(t, "Undone: Move corner 1.", s.Status().Text)
	require.Equal(t, -10.0, s.Stone().Outline[0].X)
	s.Redo()
	require.Equal(t, -12.0, s.Stone().Outline[0].X)
	s.Undo()
	s.Undo()
	require.Equal(t, style.Bad, s.Status().Role, "there is nothing more to undo")
}

func TestTheWindowIsTheSameForBothFaces(t *testing.T) {
	s := threeCorners()
	s.Zoom(2, geometry.Vec2{X: 3, Y: 1}, 50, 20)
	top, base := s.PlaneOf(planner.Top, 50, 20), s.PlaneOf(planner.Base, 50, 20)
	require.False(t, top.Mirror)
	require.True(t, base.Mirror)
	base.Mirror = false
	require.Equal(t, top, base)
	s.FitWindow()
	require.Equal(t, geometry.Vec2{}, s.Plane(50, 20).Centre)
}

func TestTheFiguresKeepTheirWidth(t *testing.T) {
	figures := NewFigureList(style.New(style.NoColour, style.Unknown), 20)
	figures.Head("A heading that is far too long")
	figures.Row("Name", "a value that is far too long")
	figures.Row("A name that takes the whole width", "x")
	figures.Item(style.Text, true, "chosen \x1b[31m")
	figures.Words(style.Warn, "words that need more than one line\nand a line end of their own")
	figures.Gap()
	for _, l := range figures.Lines() {
		require.LessOrEqual(t, ansi.StringWidth(l), 20, l)
		require.NotContains(t, l, "\x1b")
	}
	require.Equal(t, "▸ chosen ^[[31m", figures.Lines()[3])
}

// Words are broken between words, a word too long for a line wherever it must, and
// never a date: no line is wider than there is room.
func TestWordsOfAFigureListKeepTheirWidth(t *testing.T) {
	for text, want := range map[string][]string{
		"":                               {""},
		"Waits: drying since 2026-05-03": {"Waits: drying since", "2026-05-03"},
		"a wordthatislongerthanalineis.": {"a", "wordthatislongerthan", "alineis."},
	} {
		l := NewFigureList(style.New(style.NoColour, style.Unknown), 20)
		l.Words(style.Text, text)
		require.Equal(t, want, l.Lines())
	}
	narrow := NewFigureList(style.New(style.NoColour, style.Unknown), 3)
	narrow.Words(style.Text, "2026-05-03")
	for _, line := range narrow.Lines() {
		require.LessOrEqual(t, Width(line), 3)
	}
	narrow.Line(style.Text, "abcdef")
	require.Equal(t, "ab…", narrow.Lines()[len(narrow.Lines())-1])
	require.Equal(t, 3, narrow.Width())
}
