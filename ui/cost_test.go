//go:build unix

package ui

import (
	"context"
	"fmt"
	"sync/atomic"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cabwright/planner"
	"cabwright/planner/search"
	"cabwright/ui/view"
)

// held is an arrow key held down: what so many presses ask to be done away from the
// event loop is begun but does not end before they are over.
func held(t *testing.T, m *Model, key string, times int) (begun []tea.Cmd) {
	t.Helper()
	kinds := map[string]tea.KeyType{"<left>": tea.KeyLeft, "<right>": tea.KeyRight}
	for range times {
		_, cmd := m.Update(tea.KeyMsg{Type: kinds[key]})
		begun = append(begun, cmd)
	}
	require.Nil(t, m.fault)
	return begun
}

// Moving a corner while a search runs costs no more than moving the cursor: in
// memory taken by the key and its frame hardly more, of surfaces laid and searches
// begun one for a whole row of presses. Counted, not timed.
func TestMovingACornerCostsNoMoreThanMovingTheCursor(t *testing.T) {
	m := inColour(t, "nodule.stone", 160, 50)
	var searches, bodies atomic.Int32
	m.cfg.Search = func(ctx context.Context, _ planner.Stone, _ search.Options, _ func(search.Plan)) (search.Plan, error) {
		searches.Add(1)
		<-ctx.Done()
		return search.Plan{}, ctx.Err()
	}
	m.cfg.Open = func(planner.Stone) (view.Site, error) {
		bodies.Add(1)
		return nil, fmt.Errorf("not now")
	}
	m.s.Searching = true
	there := func() {
		held(t, m, "<right>", 1)
		m.View()
		held(t, m, "<left>", 1)
		m.View()
	}
	cursor := testing.AllocsPerRun(10, there)
	press(t, m, "<tab>")
	require.Equal(t, view.Corner, m.s.Selected.Kind)
	corner := testing.AllocsPerRun(10, there)
	t.Logf("a press and its frame: %.0f allocations for the cursor, %.0f for a corner", cursor/2, corner/2)
	assert.LessOrEqual(t, corner, 1.1*cursor)

	// Everything begun before is over.
	m.Update(bodyMsg{revision: m.s.Revision()})
	before := m.s.Stone().Outline[0]
	all := held(t, m, "<right>", 30)
	require.NotEqual(t, before, m.s.Stone().Outline[0])
	run(t, m, all)
	assert.EqualValues(t, 2, bodies.Load(), "the surfaces of the first stone of the row, and of the last")
	require.Eventually(t, func() bool { return searches.Load() > 0 }, time.Minute, time.Millisecond)
	assert.EqualValues(t, 1, searches.Load(), "one search, once the stone has stayed as it is")
	assert.Equal(t, m.s.Revision(), m.s.RoughOf)
	m.search.stop()
}

// run carries out commands and all that they lead to, but for the waiting on a
// search that has begun.
func run(t *testing.T, m *Model, cmds []tea.Cmd) {
	t.Helper()
	for len(cmds) > 0 {
		cmd := cmds[0]
		cmds = cmds[1:]
		if cmd == nil {
			continue
		}
		switch msg := cmd().(type) {
		case tea.BatchMsg:
			cmds = append(cmds, msg...)
		case startMsg, bodyMsg:
			_, next := m.Update(msg)
			if _, begins := msg.(startMsg); !begins {
				cmds = append(cmds, next)
			}
		}
	}
}
