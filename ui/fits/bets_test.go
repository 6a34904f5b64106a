package fits

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"cabwright/planner"
	"cabwright/planner/diary"
	"cabwright/planner/learn"
	"cabwright/planner/odds"
	"cabwright/planner/stonefile"
	"cabwright/presets"
	"cabwright/ui/keys"
	"cabwright/ui/view"
)

// The plan as a bet: its keys are refused while every mark is sure; then the places are
// listed, going through them lays the stone at each, and the pages for what to look at
// and what marks cost say what is known.
func TestThePlanAsABet(t *testing.T) {
	doc, err := stonefile.Read("../../testdata/stones/nodule.stone", presets.Builtin())
	require.NoError(t, err)
	v, s := newView(), stateOf(doc.Stone, plan(t))
	a, ok := keys.Find(v.Actions(s), "w")
	require.True(t, ok)
	require.NotEmpty(t, a.Disabled, "every mark is sure")
	require.Len(t, figures(s, s.Plan.Fits[0], s.Plan.Fits[0], true, false), mostFigures-1)

	stone := doc.Stone
	stone.Pockets[0].DepthRange = &planner.Range{Least: 3, Most: 7}
	s = stateOf(stone, plan(t))
	limit := []odds.Limit{{ID: "P1", What: odds.Depth, UpTo: 4.5, Factor: 0.375}}
	risky := odds.Place{Fit: s.Plan.Fits[0], Limits: limit, Odds: 0.375, Linked: 0.375, Expected: 3.21, PaysAbove: 0.4}
	sure := odds.Place{Fit: s.Plan.Fits[1], Odds: 1, Linked: 1, Expected: 2.5}
	s.Bets = view.Bets{Of: s.Revision(), Known: true, Answer: odds.Answer{
		Places: []odds.Place{risky, sure}, BestSure: 2.5, KnowingAll: 0.7,
		LookFirst: []odds.Look{{ID: "P1", What: odds.Depth, Gain: 0.7, To: 4.5, IfLess: &risky, IfMore: &sure}},
	}}
	shown := func(width int) string { return strings.Join(frame(t, v, s, width, 50), "\n") }
	require.Contains(t, shown(160), "odds 38%: P1 38%")
	require.Regexp(t, ` spare +odds`, shown(160), "a column of the list, where it has room")
	require.Regexp(t, `0\.\d\d!? +38% `, shown(160))
	require.NotRegexp(t, ` spare +odds`, shown(80))

	// Until better places are known the plan's own are there to go through.
	known := s.Bets
	s.Bets = view.Bets{Of: s.Revision(), Judged: []odds.Place{risky, sure}}
	s.Searching = true
	press(t, v, s, "w", "home")
	require.Contains(t, shown(160), "better places when the best fit is known…")
	require.Regexp(t, `▸ +38% +\S+ +-  `, shown(160))
	press(t, v, s, "down")
	require.Regexp(t, `▸ +100% +\S+ +-  `, shown(160))
	s.Bets, s.Searching = known, false

	press(t, v, s, "home", "down")
	require.Contains(t, shown(160), "sure, however the marks turn out")
	require.True(t, view.SameFit(sure.Fit, *s.Chosen))
	press(t, v, s, "up")
	require.True(t, view.SameFit(risky.Fit, *s.Chosen))
	for _, width := range []int{80, 160} {
		require.Contains(t, shown(width), "38%")
	}
	require.Contains(t, shown(160), "Pays from odds of 40%, against a sure 2.50 ct.")
	require.Equal(t, 4.5, s.Ticks(s.Chosen)[0].UpTo)

	// How the cutter's own ranges did, one of two (Jeffreys: 6 to 94%).
	require.NotContains(t, shown(160), "Your ranges held")
	held := diary.Check{Known: true, Ranged: true, Least: 2, Most: 4, Found: 3}
	missed := held
	missed.Found = 5
	s.Folder.Record = learn.Record{Ranges: []diary.Check{held, missed}}
	require.Contains(t, shown(160), "Your ranges held 1 of 2, 6 to 94%.")

	press(t, v, s, "d")
	require.Contains(t, shown(160), "Look to 4.50 mm, no deeper")
	require.Contains(t, shown(160), "A window at P1 deeper than 4.50 mm spoils")
	s.Bets.Answer.KnowingAll = 0
	require.Contains(t, shown(160), "Knowing more changes nothing: cut.")

	press(t, v, s, "c")
	require.Contains(t, shown(160), "c finds them again", "after an edit they are not sought unasked")
	press(t, v, s, "c")
	require.Equal(t, costsPage, v.page, "c asks for them, it does not leave the page")
	s.Bets.CostsWanted = true
	require.NotContains(t, shown(160), "c finds them again")
	s.Bets.Costs = []odds.Cost{{ID: "P1", What: "without P1", AtLeast: 0.4},
		{ID: "C1", What: "C1 sealed", AtLeast: 0.2, Decided: true}}
	require.Contains(t, shown(160), "0.4+ without P1")
	require.Contains(t, shown(160), "0.2 C1 sealed")
	s.Bets.CostsKnown = true
	require.Contains(t, shown(80), "Costs do not add up.")
	press(t, v, s, "esc")
	require.Equal(t, alone, v.mode)
}
