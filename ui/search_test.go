package ui

import (
	"context"
	"errors"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/require"

	"cabwright/planner"
	"cabwright/planner/search"
	"cabwright/ui/style"
)

// slow is a search that waits to be told what to find.
type slow struct {
	started chan context.Context
	find    chan search.Plan
}

func (s *slow) search(ctx context.Context, _ planner.Stone, _ search.Options, emit func(search.Plan)) (search.Plan,
	error) {
	s.started <- ctx
	for {
		select {
		case <-ctx.Done():
			return search.Plan{Stopped: search.Cancelled}, nil
		case p := <-s.find:
			emit(p)
		}
	}
}

// wait runs a command that the library would run, and returns its message.
func wait(t *testing.T, cmd tea.Cmd) tea.Msg {
	t.Helper()
	got := make(chan tea.Msg, 1)
	go func() { got <- cmd() }()
	select {
	case msg := <-got:
		return msg
	case <-time.After(patience):
		t.Fatal("the command does not end")
		return nil
	}
}

// A new edit stops the search under way; what the old one still sends is
// dropped, and the list stays until the new one has something to show.
func TestANewEditCancelsTheSearchAndKeepsTheListUntilThereIsAnother(t *testing.T) {
	m := settled(t, "nodule.stone", 80, 24)
	s := &slow{started: make(chan context.Context, 1), find: make(chan search.Plan)}
	m.cfg.Search = s.search
	begin := func() (context.Context, tea.Cmd) {
		next := m.take(startMsg{m.search.run})
		return <-s.started, next
	}
	old, next := begin()
	require.True(t, m.s.Searching)
	found := fakePlan(m.s.Stone())
	s.find <- found
	stale := wait(t, next)
	m.take(stale)
	require.Len(t, m.s.Plan.Fits, len(found.Fits))

	before := m.s.Plan
	press(t, m, "<tab>", "<right>")
	require.Error(t, old.Err(), "the old search goes on")
	require.False(t, m.s.Searching)
	now, next := begin()
	require.NoError(t, now.Err())
	fewer := found
	fewer.Fits = found.Fits[:1]
	old2 := stale.(planMsg)
	old2.plan = fewer
	require.Nil(t, m.take(old2))
	require.Equal(t, before.Fits, m.s.Plan.Fits, "an old search changed the list")
	s.find <- search.Plan{Progress: 0.1}
	m.take(wait(t, next))
	require.Equal(t, before.Fits, m.s.Plan.Fits, "the list was emptied before there was another")
	require.InDelta(t, 0.1, m.s.Progress, 1e-9)
	s.find <- fewer
	m.take(wait(t, m.search.receive()))
	require.Len(t, m.s.Plan.Fits, 1)
	m.search.stop()
}

// Keys held down start one search, not one each.
func TestSearchesAskedForInARowStartOnlyOnce(t *testing.T) {
	m := settled(t, "nodule.stone", 80, 24)
	starts := 0
	m.cfg.Search = func(context.Context, planner.Stone, search.Options, func(search.Plan)) (search.Plan, error) {
		starts++
		return search.Plan{}, nil
	}
	first := m.search.run
	press(t, m, "<tab>", "<right>", "<right>", "<right>")
	for run := first; run <= m.search.run; run++ {
		if cmd := m.take(startMsg{run}); cmd != nil {
			wait(t, cmd)
		}
	}
	require.Equal(t, 1, starts)
}

// The search never waits for the screen: its snapshots overtake each other and
// the latest counts.
func TestSnapshotsOvertakeEachOther(t *testing.T) {
	m := settled(t, "nodule.stone", 80, 24)
	m.cfg.Search = func(_ context.Context, stone planner.Stone, _ search.Options, emit func(search.Plan)) (search.Plan,
		error) {
		for i := range 1000 {
			emit(search.Plan{Progress: float64(i) / 1000})
		}
		return fakePlan(stone), nil
	}
	next := m.take(startMsg{m.search.run})
	for m.s.Searching {
		next = m.take(wait(t, next))
	}
	require.Nil(t, next)
	require.Equal(t, search.Complete, m.s.Plan.Stopped)
}

func TestAFailedSearchSaysSo(t *testing.T) {
	m := settled(t, "nodule.stone", 80, 24)
	m.cfg.Search = func(context.Context, planner.Stone, search.Options, func(search.Plan)) (search.Plan, error) {
		return search.Plan{}, errors.New("no room")
	}
	m.take(wait(t, m.take(startMsg{m.search.run})))
	require.False(t, m.s.Searching)
	require.Contains(t, m.s.Status().Text, "no room")
}

// A stone with a reading on the wrong side has no fits: the answer says which, the
// search for it ends, and neither says that anything ended early.
func TestAStoneWithAMistakeIsNotSearched(t *testing.T) {
	m := settled(t, "slab.stone", 80, 24)
	s := &slow{started: make(chan context.Context, 1), find: make(chan search.Plan)}
	m.cfg.Search = s.search
	m.s.Rough = nil // nothing is known yet that the form could refuse it by
	press(t, m, "=", "5, 5", "<enter>", "b", "0.5", "<enter>", "=", "-5, 5", "<enter>", "b", "12", "<enter>")
	next := m.take(startMsg{m.search.run})
	ctx := <-s.started
	m.Update(makeBody(nil, m.s.Stone(), m.s.Presets, m.s.Revision())())
	require.Error(t, ctx.Err(), "the search goes on")
	m.Update(wait(t, next))
	frame := frameOf(t, m)
	require.Contains(t, frame, "no fits until base reading 3 is put right  (u undo)")
	require.Contains(t, frame, "base reading 3: 12 mm lies at or above the top, which is at")
	require.Contains(t, frame, "!")
	press(t, m, "3")
	require.Contains(t, frameOf(t, m), "base reading 3: 12 mm lies at or above the top")
	press(t, m, "u", "u")
	settle(t, m)
	require.Contains(t, frameOf(t, m), "best")
	require.NotContains(t, frameOf(t, m), "base reading 3")

	// The search may be the first to find that there is no solid.
	m.cfg.Search = func(context.Context, planner.Stone, search.Options, func(search.Plan)) (search.Plan, error) {
		return search.Plan{}, planner.ErrNoSolid
	}
	m.s.Say(style.Text, "")
	m.take(wait(t, m.take(startMsg{m.search.run})))
	require.NotContains(t, m.s.Status().Text, "ended early")
}
