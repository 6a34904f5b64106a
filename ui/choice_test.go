package ui

import (
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cabwright/ui/style"
	"cabwright/ui/view"
)

// statusOf is the line above the keys.
func statusOf(t *testing.T, m *Model) string {
	t.Helper()
	lines := strings.Split(strings.TrimSuffix(frameOf(t, m), "\n"), "\n")
	return lines[len(lines)-2]
}

// Whatever is pressed in a view of fits keeps the one that is drawn, and what is
// found since waits and says so; in the views that the stone is drawn in nothing is
// kept, as the best fit stands there.
func TestAKeyKeepsTheChoiceInEveryView(t *testing.T) {
	for name, c := range map[string]struct {
		view, key string
		keeps     bool
	}{
		"outline": {"1", "<right>", false}, "marks": {"2", "<right>", false},
		"fits": {"3", "<down>", true}, "section": {"4", "<right>", true}, "saw cuts": {"5", "f", true},
		"worth": {"6", "w", true}, "diary": {"7", "f", true}, "only opened": {"4", "3", false},
	} {
		m := settled(t, "nodule.stone", 80, 24)
		whole := withBest(m, 9)
		part := whole
		part.Fits = whole.Fits[2:]
		plans(m, part, false)
		press(t, m, c.view, c.key)
		before := *m.s.Chosen
		plans(m, whole, false)
		assert.Equal(t, c.keeps, view.SameCut(before.Candidate, m.s.Chosen.Candidate), name)
		if c.keeps {
			require.Contains(t, m.s.Waiting(), "9.00 ct", name)
			m.s.Say(style.Text, "")
			if c.view != "3" { // there the list says how many are new
				require.Contains(t, statusOf(t, m), "A heavier fit waits, 9.00 ct", name)
			}
		} else {
			require.Empty(t, m.s.Waiting(), name)
		}
	}
}

// A click in the section keeps it as well, and the status line says what waits.
func TestAClickKeepsTheChoice(t *testing.T) {
	m := settled(t, "nodule.stone", 80, 24)
	whole := withBest(m, 9)
	part := whole
	part.Fits = whole.Fits[2:]
	plans(m, part, false)
	press(t, m, "4")
	m.Update(tea.MouseMsg{X: 20, Y: 18, Button: tea.MouseButtonLeft, Action: tea.MouseActionPress})
	plans(m, whole, false)
	require.True(t, view.SameCut(part.Fits[0].Candidate, m.s.Chosen.Candidate))
	require.Contains(t, statusOf(t, m), "A heavier fit waits, 9.00 ct: home in Fits takes it")
	press(t, m, "3", "<home>")
	require.True(t, view.SameCut(whole.Fits[0].Candidate, m.s.Chosen.Candidate))
	require.Empty(t, m.s.Waiting())
}

// Every view that shows a fit or the stone says in its status line what is under
// the cursor, in whole clauses.
func TestTheStatusLineExplainsWhatIsUnderTheCursor(t *testing.T) {
	for _, size := range [][2]int{{60, 18}, {80, 24}, {160, 50}} {
		m := settled(t, "nodule.stone", size[0], size[1])
		plans(m, withBest(m, 9), true)
		for _, c := range [][2]string{{"2", "Z1 colour"}, {"3", "Held by the skin of the top"}, {"4", "Z1 colour"},
			{"1", "the best fit, 3.9 mm thick"}} {
			press(t, m, c[0])
			require.Contains(t, statusOf(t, m), c[1], "view %s at %v", c[0], size)
			require.NotContains(t, statusOf(t, m), "…")
		}
	}
	require.Equal(t, "one; two", leading("one; two; three", 12))
	require.Equal(t, "a long fi…", leading("a long first one; two", 10))
}
