package ui

import (
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"cabwright/planner"
	"cabwright/presets"
)

// Whatever is typed and clicked, nothing breaks, every frame keeps its measure,
// the outline stays a simple polygon, and undoing all gives the stone back.
func TestRandomEventsBreakNothing(t *testing.T) {
	names := []string{"nodule.stone", "nugget.stone", "seam.stone", "slab.stone", "two-faces.stone", "one-crack.stone"}
	typed := strings.Split("1234abcdefghijklnoprtuUvwxyzsSYyDBFTC[]=+-0.,/:;?HJKL 9 5", "")
	special := []tea.KeyType{tea.KeyEnter, tea.KeyEsc, tea.KeyTab, tea.KeyShiftTab, tea.KeyUp, tea.KeyDown, tea.KeyLeft,
		tea.KeyRight,
		tea.KeyBackspace, tea.KeyDelete, tea.KeyPgUp, tea.KeyPgDown, tea.KeyHome, tea.KeyEnd, tea.KeyCtrlU, tea.KeyCtrlS,
		tea.KeySpace}
	rapid.Check(t, func(rt *rapid.T) {
		m := settled(t, rapid.SampledFrom(names).Draw(rt, "stone"), 80, 24)
		first := m.s.Stone()
		buttons := []tea.MouseButton{tea.MouseButtonLeft, tea.MouseButtonLeft, tea.MouseButtonRight, tea.MouseButtonWheelUp,
			tea.MouseButtonWheelDown}
		actions := []tea.MouseAction{tea.MouseActionPress, tea.MouseActionMotion, tea.MouseActionRelease}
		for i := range events {
			switch rapid.IntRange(0, 9).Draw(rt, "kind") {
			case 0, 1, 2, 3:
				m.Update(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(rapid.SampledFrom(typed).Draw(rt, "key"))})
			case 4, 5, 6:
				m.Update(tea.KeyMsg{Type: rapid.SampledFrom(special).Draw(rt, "special")})
			case 7, 8:
				m.Update(tea.MouseMsg{X: rapid.IntRange(0, m.width).Draw(rt, "x"), Y: rapid.IntRange(0, m.height).Draw(rt, "y"),
					Button: rapid.SampledFrom(buttons).Draw(rt, "button"), Action: rapid.SampledFrom(actions).Draw(rt, "action")})
			default:
				if i%50 == 0 {
					m.Update(tea.WindowSizeMsg{Width: rapid.IntRange(1, 200).Draw(rt, "cols"),
						Height: rapid.IntRange(1, 60).Draw(rt, "rows")})
				}
			}
			if m.fault != nil {
				rt.Fatalf("event %d: %v\n%s", i, *m.fault, m.fault.stack)
			}
			if i%20 == 0 {
				settle(t, m)
				m.frame.skip = false
				frameOf(rt, m)
				checkInvariants(rt, m)
			}
		}
		m.s.Ask(nil)
		m.finder = nil
		for undo, _ := m.s.History().Next(); undo != ""; undo, _ = m.s.History().Next() {
			m.s.Undo()
		}
		if !m.s.Stone().Equal(first) {
			rt.Fatalf("undoing all does not give the stone back: %v", planner.Differences(first, m.s.Stone()))
		}
	})
}

// checkInvariants fails when the stone could not be saved for another reason than
// that it is not finished yet.
func checkInvariants(t require.TestingT, m *Model) {
	stone := m.s.Stone()
	if len(stone.Outline) == 0 {
		return
	}
	for _, p := range planner.Validate(stone, presets.Builtin()) {
		require.False(t, p.Edges != nil || strings.HasPrefix(p.Place, "outline") || strings.HasPrefix(p.Place, "cracks") ||
			strings.HasPrefix(p.Place, "pockets") || strings.HasPrefix(p.Place, "colour"), "%v", p)
	}
}
