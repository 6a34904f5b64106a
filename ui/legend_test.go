package ui

import (
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"
	"github.com/stretchr/testify/require"

	"cabwright/geometry"
	"cabwright/ui/canvas"
	"cabwright/ui/view"
)

// Without colours and in plain ASCII every sign of the drawing looks like no other.
func TestSignsDifferWithoutColour(t *testing.T) {
	m := settled(t, "nodule.stone", 160, 50)
	for _, mode := range []canvas.Mode{canvas.Braille, canvas.ASCII} {
		m.s.Glyphs = mode
		seen := map[string]string{}
		for _, e := range entries(false) {
			sample := m.sample(e)
			require.NotContains(t, sample, "\x1b")
			require.NotContains(t, seen, sample, "%s and %s, mode %d", e.words, seen[sample], mode)
			seen[sample] = e.words
		}
	}
}

func TestTheLegendComesAndGoes(t *testing.T) {
	for _, size := range [][2]int{{60, 18}, {80, 24}, {160, 50}} {
		m := settled(t, "nodule.stone", size[0], size[1])
		before := frameOf(t, m)
		press(t, m, "E")
		require.Contains(t, frameOf(t, m), "edge of the rough")
		press(t, m, "E")
		require.Equal(t, before, frameOf(t, m))
	}
	m := settled(t, "nodule.stone", 80, 24)
	press(t, m, "E")
	for _, e := range entries(false) {
		require.Contains(t, frameOf(t, m), e.words, "all of it at 80x24")
	}
}

// The line above the keys says what lies under the cursor.
func TestTheStatusLineExplainsTheCursor(t *testing.T) {
	m := settled(t, "nodule.stone", 80, 24)
	status := func() string {
		lines := strings.Split(ansi.Strip(m.View()), "\n")
		return lines[len(lines)-2]
	}
	// From the stone's file: C1 is an open crack of the top, 5.0 mm deep, that
	// passes 9, -6.5; P2 a pocket right through; Z1 a zone of grade 4.
	stone := m.s.Stone()
	for at, want := range map[geometry.Vec2]string{
		stone.Cracks[0].Path[0]: "C1 crack, top, 5.0 mm deep",
		{X: 0, Y: 0}:            "Z1 colour, grade 4",
	} {
		m.s.Cursor = at
		require.Contains(t, status(), want)
	}
	m.s.Cursor = geometry.Vec2{X: 0, Y: 0}
	require.Contains(t, status(), "rough 8.7 mm thick", "8.9 and 0.2 mm are the readings nearest to it")
	m.s.Cursor = geometry.Vec2{X: 90, Y: 90}
	require.Empty(t, strings.TrimSpace(status()))
}

// The signs of lists are explained as well, and where the legend is longer than the
// screen page down brings the rest.
func TestTheWholeLegendCanBeRead(t *testing.T) {
	for _, size := range [][2]int{{60, 18}, {80, 24}, {160, 50}} {
		for _, mode := range []canvas.Mode{canvas.Braille, canvas.ASCII} {
			m := settled(t, "nodule.stone", size[0], size[1])
			m.s.Glyphs = mode
			press(t, m, "E")
			text := frameOf(t, m)
			for range 3 {
				press(t, m, "<pgdown>")
				text += frameOf(t, m)
			}
			for _, e := range entries(false) {
				require.Contains(t, text, e.words, "%v", size)
			}
			for _, sign := range []string{"! hardly any spare", "~ not proved", "* pinned", "chosen"} {
				require.Contains(t, strings.Join(strings.Fields(text), " "), sign, "%v", size)
			}
			proved := map[canvas.Mode]string{canvas.Braille: "✓ proved", canvas.ASCII: "= proved"}[mode]
			require.Contains(t, text, proved)
		}
	}
}

// Neither the first hint nor, where there is room, the legend hides the stone: the
// drawing above them is the whole one, only smaller, and a click goes where it is.
func TestHintsDoNotHideTheStone(t *testing.T) {
	for _, size := range [][2]int{{60, 18}, {80, 24}, {160, 50}} {
		for name, open := range map[string]func(m *Model){
			"hint":   func(m *Model) { m.hint = true },
			"legend": func(m *Model) { m.legend = true },
		} {
			m := settled(t, "nodule.stone", size[0], size[1])
			open(m)
			lines := strings.Split(frameOf(t, m), "\n")
			rows := m.viewRows()
			if name == "legend" && size[1] < 50 {
				continue // there it lies over the drawing, as it needs the room
			}
			require.Less(t, rows, m.bodyRows(), name)
			whole := screen(m.views[m.at].Render(m.s, m.width, rows), m.width, rows)
			for i, l := range whole {
				require.Equal(t, strings.TrimRight(l, " "), lines[headRows+i], "%s at %v", name, size)
			}
			corner := m.s.Stone().Outline[3]
			cols, _ := view.Columns(m.width)
			c := canvas.New(cols, rows, canvas.Braille)
			c.SetView(m.s.Plane(cols, rows))
			col, row, ok := c.CellOf(corner)
			require.True(t, ok)
			m.Update(tea.MouseMsg{X: col, Y: row + headRows, Button: tea.MouseButtonLeft, Action: tea.MouseActionPress})
			require.Equal(t, view.Selection{Kind: view.Corner, Index: 3, Point: -1}, m.s.Selected, "%s at %v", name, size)
		}
	}
}
