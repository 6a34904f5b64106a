package ui

import (
	"testing"

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
