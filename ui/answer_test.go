package ui

import (
	"strings"
	"testing"
	"time"

	"github.com/charmbracelet/x/ansi"
	"github.com/stretchr/testify/require"

	"cabwright/planner"
	"cabwright/planner/search"
)

// answerOf is the answer line as it stands on the screen.
func answerOf(t *testing.T, m *Model) string {
	t.Helper()
	return strings.Split(frameOf(t, m), "\n")[1]
}

// plans hands the workbench a snapshot of its search, or what it came to.
func plans(m *Model, plan search.Plan, last bool) {
	m.s.Searching = !last
	m.Update(planMsg{run: m.search.run, plan: plan, last: last})
	m.s.SearchTime = 3 * time.Second
}

// withBest is the stand-in plan with fits no heavier than a best one.
func withBest(m *Model, carat float64) search.Plan {
	p := fakePlan(m.s.Stone())
	for i := range p.Fits {
		p.Fits[i].Carat = carat - 0.1*float64(i)
	}
	return p
}

// addPocket is an edit that a plan hangs on.
func addPocket(t *testing.T, m *Model) {
	t.Helper()
	require.NoError(t, m.s.Do("Add P9", func(s planner.Stone) (planner.Stone, error) {
		s.Pockets = append(s.Pockets[:len(s.Pockets):len(s.Pockets)],
			planner.Pocket{ID: "P9", Face: planner.Through, Outline: s.Outline[:3]})
		return s, nil
	}))
	m.follow()
}

// An edit is not credited with what the search had not found yet before it.
func TestAnUnfinishedSearchIsNotComparedWith(t *testing.T) {
	m := settled(t, "nodule.stone", 160, 50)
	m.outcomes.forget()
	p := withBest(m, 4.04)
	p.Settled, p.Stopped = false, ""
	plans(m, p, false)
	addPocket(t, m)
	plans(m, withBest(m, 4.86), true)
	require.Contains(t, answerOf(t, m), "best 4.86 ct")
	require.NotContains(t, answerOf(t, m), "4.04")
}

// The line says the best, what can still turn up and how far the search is; where
// there is less room it leaves out what matters less, and is never too wide.
func TestTheAnswerLineSaysWhatIsKnown(t *testing.T) {
	m := settled(t, "nodule.stone", 160, 50)
	p := withBest(m, 7.95)
	p.Stage, p.HeaviestOpen, p.Progress = "deciding what could be heavier", 8.4, 0.5
	plans(m, p, false)
	line := answerOf(t, m)
	for _, want := range []string{"best so far 7.95 ct", "14x9 oval", "up to 8.40 ct not ruled out",
		"deciding what could be heavier", " 50% 3s"} {
		require.Contains(t, line, want)
	}
	p.HeaviestOpen = 256.37 // the rough weighs 26.3 ct
	plans(m, p, false)
	require.Contains(t, answerOf(t, m), "heavier ones may still turn up")
	require.NotContains(t, answerOf(t, m), "256")
	p.Stage, p.HeaviestOpen = "proving the best", 7.2
	plans(m, p, false)
	require.Contains(t, answerOf(t, m), "heavier sizes ruled out")
	p.Stage, p.Settled = "deciding the rest", true
	plans(m, p, false)
	require.Contains(t, answerOf(t, m), "best 7.95 ct")
	require.Contains(t, answerOf(t, m), "no heavier size fits: proved")
	p.HeaviestOpen = 8.1 // its proof ran out of boxes
	plans(m, p, true)
	require.Contains(t, answerOf(t, m), "up to 8.10 ct not ruled out")
	require.NotContains(t, answerOf(t, m), "proved")
	p.HeaviestOpen = 7.2
	p.Fits[0].Clearance = 0.004
	plans(m, p, true)
	require.Contains(t, answerOf(t, m), "spare 0.00!")
	require.Contains(t, answerOf(t, m), "6 fits, all decided")
	for width := 30; width < 200; width += 7 {
		m.width = width
		require.True(t, strings.HasPrefix(answerOf(t, m), "best 7.95 ct"), "%d columns", width)
	}
	plans(m, search.Plan{Stopped: search.Complete}, true)
	require.True(t, strings.HasPrefix(answerOf(t, m), "nothing fits"))
	m.width = 160
	plans(m, search.Plan{Stopped: search.Budget, HeaviestOpen: 0.4}, true)
	require.True(t, strings.HasPrefix(answerOf(t, m), "nothing found that fits  up to 0.40 ct not ruled out"))
}

// After an edit the old list is said to be checked again; then the line says what
// the edit took, and after an undo the old answer is there at once.
func TestTheAnswerLineSaysWhatAnEditTook(t *testing.T) {
	m := settled(t, "nodule.stone", 80, 24)
	plans(m, withBest(m, 8.7), true)
	first := m.s.Plan
	addPocket(t, m)
	require.Contains(t, answerOf(t, m), "checking again  best was 8.70 ct before P9")
	require.Len(t, m.s.Plan.Fits, len(first.Fits), "the old list stays on the screen")
	plans(m, withBest(m, 7.2), false)
	require.Contains(t, answerOf(t, m), "best so far 7.20 ct, was 8.70 before P9 (u undo)")
	plans(m, withBest(m, 7.95), true)
	require.Contains(t, answerOf(t, m), "best now 7.95 ct, was 8.70: P9 took 0.75 (u undo)")

	m.s.Undo()
	m.follow()
	require.False(t, m.s.Searching, "nothing is searched for that is known")
	require.Equal(t, m.s.Revision(), m.s.PlanOf)
	require.Contains(t, answerOf(t, m), "best now 8.70 ct, was 7.95: undoing P9 gave 0.75 (U redo)")
	m.s.Redo()
	m.follow()
	require.Contains(t, answerOf(t, m), "best now 7.95 ct, was 8.70: P9 took 0.75 (u undo)")
	require.LessOrEqual(t, ansi.StringWidth(answerOf(t, m)), 80)
}

// An edit that no fit hangs on leaves list, answer and search alone.
func TestANameChangesNoAnswer(t *testing.T) {
	m := settled(t, "nodule.stone", 80, 24)
	plans(m, withBest(m, 8.7), false)
	run := m.search.run
	require.NoError(t, m.s.Do("Name", func(s planner.Stone) (planner.Stone, error) { s.Name = "Other"; return s, nil }))
	m.follow()
	require.True(t, m.s.Searching)
	require.Equal(t, run, m.search.run)
	require.Contains(t, answerOf(t, m), "best so far 8.70 ct")
	require.NotContains(t, answerOf(t, m), "undo")
	plans(m, withBest(m, 8.8), true)
	require.Contains(t, answerOf(t, m), "best 8.80 ct")
}

// What is remembered is the latest of a few stones, and what a finished search
// found is not given up for a snapshot.
func TestOutcomes(t *testing.T) {
	var o outcomes
	_, ok := o.of(planner.Stone{})
	require.False(t, ok)
	stone := func(n int) planner.Stone { return planner.Stone{SG: float64(n + 1)} }
	for i := range outcomesKept + 3 {
		o.note(stone(i), search.Plan{Sizes: i, Stopped: search.Complete})
	}
	require.Len(t, o.list, outcomesKept)
	_, ok = o.of(stone(0))
	require.False(t, ok)
	o.note(stone(5), search.Plan{Sizes: 99})
	p, ok := o.of(stone(5))
	require.True(t, ok)
	require.Equal(t, 5, p.Sizes)
	o.note(stone(5), search.Plan{Sizes: 100, Stopped: search.Budget})
	p, _ = o.of(stone(5))
	require.Equal(t, 100, p.Sizes)
	o.forget()
	_, ok = o.of(stone(5))
	require.False(t, ok)
}

// A search that has nothing new to show still shows that it goes on.
func TestAQuietSearchShowsThatItGoesOn(t *testing.T) {
	m := settled(t, "nodule.stone", 80, 24)
	plans(m, withBest(m, 8.7), false)
	m.search.begun = time.Now().Add(-42 * time.Second)
	require.NotNil(t, m.take(searchingMsg{m.search.run}))
	require.Contains(t, answerOf(t, m), "42s")
	require.Nil(t, m.take(searchingMsg{m.search.run - 1}), "an older search has nothing to say")
}
