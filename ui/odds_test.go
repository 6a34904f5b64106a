package ui

import (
	"slices"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/require"

	"cabwright/planner"
	"cabwright/planner/odds"
	"cabwright/ui/view"
)

// An edit of a range shows the odds and what to look at first of the places known, before
// the plan is made anew; an edit of what is sure drops them.
func TestPlacesKnownOutlastAnEditOfRanges(t *testing.T) {
	m := settled(t, "unsure/two-faces.stone", 80, 24)
	s := m.s
	stone := s.Stone()
	judge, err := odds.NewJudge(stone)
	require.NoError(t, err)
	var old []odds.Place
	for _, f := range fakePlan(stone).Fits {
		old = append(old, odds.Place{Fit: f})
	}
	old = judge.Rejudge(old)
	s.Bets = view.Bets{Of: s.Revision(), Wanted: true, Known: true, Judged: old, Answer: judge.AnswerOf(old)}
	m.weighing.judge, m.weighing.judgeOf = judge, s.Revision()

	id, depth := odds.Of(stone, 9)[0].ID, odds.Of(stone, 9)[0].Range.Least+0.5
	look := func(st planner.Stone) (planner.Stone, error) { return planner.LookedTo(st, id, depth) }
	require.NoError(t, s.Do("look", look))
	again := m.weigh()
	require.Empty(t, s.Bets.Judged)
	require.Nil(t, m.weigh(), "it is asked for once")
	require.Nil(t, m.take(wait(t, again)))
	require.Len(t, s.Bets.Judged, len(old))
	require.False(t, s.Bets.Known, "better places are still looked for")
	fresh, err := odds.NewJudge(s.Stone())
	require.NoError(t, err)
	want := fresh.AnswerOf(fresh.Rejudge(old))
	require.Len(t, want.Places, len(old))
	require.Equal(t, want.Places, s.Bets.Answer.Places)
	require.Equal(t, depth, s.Bets.Answer.Unsure[0].Range.Least)

	require.NoError(t, s.Do("skin", func(st planner.Stone) (planner.Stone, error) {
		st.Allowances.Skin += 0.1
		return st, nil
	}))
	require.Nil(t, m.take(wait(t, m.weigh())))
	require.Empty(t, s.Bets.Judged)
	require.Empty(t, s.Bets.Answer.Places)
	require.Nil(t, m.carry(), "what was known does not hold any more")
}

// An edit that no odds hang on, such as a new name, keeps them all. One of how sure a mark
// is keeps the plan, and what marks cost, which hang on its likely size. One of the search's
// options drops what was found with the old ones.
func TestOddsLastAsLongAsTheyHold(t *testing.T) {
	m := settled(t, "unsure/two-faces.stone", 80, 24)
	s := m.s
	m.weigh()
	places := []odds.Place{{Fit: s.Plan.Fits[0], Odds: 0.5}}
	known := view.Bets{
		Of: s.Revision(), Wanted: true, Known: true, Judged: places, Answer: odds.Answer{Places: places},
		Costs: []odds.Cost{{ID: "P1"}}, CostsWanted: true, CostsKnown: true,
	}
	edit := func(name string, do func(*planner.Stone)) tea.Cmd {
		known.Of = s.Revision()
		s.Bets, m.weighing.judgeOf = known, s.Revision()
		require.NoError(t, s.Do(name, func(st planner.Stone) (planner.Stone, error) { do(&st); return st, nil }))
		m.follow()
		require.Equal(t, s.Revision(), s.PlanOf, "the list stands")
		return m.outdated()
	}
	require.Nil(t, edit("name", func(st *planner.Stone) { st.Name = "Another" }))
	known.Of = s.Revision()
	require.Equal(t, known, s.Bets)
	require.Equal(t, s.Revision(), m.weighing.judgeOf)

	edit("range", func(st *planner.Stone) {
		st.Pockets = slices.Clone(st.Pockets)
		st.Pockets[0].DepthRange = &planner.Range{Least: 1, Most: 4}
	})
	require.Empty(t, s.Bets.Answer.Places)
	require.Equal(t, known.Costs, s.Bets.Costs)
	require.True(t, s.Bets.CostsKnown)
	require.Equal(t, s.Stone().Pockets, m.plan().Stone.Pockets, "it is weighed as it is now")

	s.Bets.Answer.Places = places
	s.SetOptions(s.Options())
	require.Nil(t, m.outdated())
	require.Empty(t, s.Bets.Answer.Places)
	require.Empty(t, s.Bets.Costs)

	judge, err := odds.NewJudge(s.Stone())
	require.NoError(t, err)
	late := carriedMsg{revision: s.Revision(), searches: s.Searches() - 1, judge: judge, judged: places}
	late.answer.Places = places
	m.carried(late)
	require.Empty(t, s.Bets.Judged, "it was asked for with other options")
	require.Empty(t, s.Bets.Answer.Places)
}

// Better places are looked for as soon as the best fits are known for good, and never from
// a list that was found with other options.
func TestBetterPlacesAreSoughtFromAPlanThatStands(t *testing.T) {
	m := settled(t, "unsure/two-faces.stone", 80, 24)
	s, plan := m.s, m.s.Plan
	s.SetOptions(s.Options())
	s.Bets.Wanted = true
	m.weigh()
	require.Equal(t, idle, m.weighing.at, "the list is that of the options before")
	s.Bets.Wanted, s.Searching = true, true
	plan.Settled = false
	s.Take(plan, s.Revision())
	m.weigh()
	require.Equal(t, idle, m.weighing.at, "the best may still change")
	plan.Settled = true
	s.Take(plan, s.Revision())
	m.weigh()
	require.Equal(t, seeking, m.weighing.at)
	m.weighing.stop()
}
