package sawview

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cabwright/planner/cuts"
	"cabwright/planner/money"
	"cabwright/planner/search"
	"cabwright/planner/worth"
	"cabwright/ui/keys"
	"cabwright/ui/view"
)

// several is the bench with up to two stones worked out, each carat at 10 to 30.
func several(t *testing.T) (*View, *view.State) {
	t.Helper()
	v, s := bench(t)
	s.Plan, s.PlanOf = search.Plan{Fits: []search.Fit{*s.Chosen}, TiltMaxDeg: 0, Tolerance: 0.05}, s.Revision()
	s.Typed = &worth.Span{Low: money.Of(10), High: money.Of(30)}
	press(t, v, s, "+")
	require.NotNil(t, v.layout(s))
	require.Greater(t, len(v.answer.layouts), 1)
	return v, s
}

// Of several layouts the one with the most stones is shown first, with what its
// stones may bring together; the others are a key away.
func TestLayoutsAreListedWithTheirWorth(t *testing.T) {
	v, s := several(t)
	require.Len(t, v.layout(s).Fits, 2)
	first := v.layout(s).Carat()
	said := screen(v, s)
	for _, want := range []string{"2 stones, ", "worth, XXX", "likely", "Layouts, most stones first", "▸ 2 stones"} {
		assert.Contains(t, said, want)
	}
	// The band of the two together, at 10 and at 30 a carat.
	low, high := 0.0, 0.0
	for _, f := range v.layout(s).Fits {
		low, high = low+10*f.CaratLow, high+30*f.CaratHigh
	}
	w := v.priced(s)[0].Value
	assert.InDelta(t, low, w.Low.Float(), 0.002)
	assert.InDelta(t, high, w.High.Float(), 0.007)

	press(t, v, s, "l")
	assert.NotEqual(t, first, v.layout(s).Carat())
	for range len(v.answer.layouts) - 1 {
		press(t, v, s, "l")
	}
	assert.Equal(t, first, v.layout(s).Carat(), "round and round")
}

// By worth the dearest comes first, however many stones it has.
func TestLayoutsAreSortedByWorth(t *testing.T) {
	v, s := several(t)
	// Of the answer's layouts let the last be the dearest.
	priced := v.priced(s)
	for i := range priced {
		priced[i].Value = &worth.Value{Likely: money.Of(float64(i))}
	}
	press(t, v, s, "w")
	assert.Equal(t, len(priced)-1, v.order(s)[0])
	assert.Equal(t, v.answer.layouts[len(priced)-1].Carat(), v.layout(s).Carat())
	assert.Contains(t, screen(v, s), "Layouts, dearest first")
	press(t, v, s, "w")
	assert.Equal(t, 0, v.order(s)[0])
}

// Without a price there is no worth, and the key says why.
func TestLayoutsWithoutAPrice(t *testing.T) {
	v, s := several(t)
	s.Typed = nil
	settle(t, v, s)
	assert.Nil(t, v.priced(s))
	assert.NotContains(t, screen(v, s), "worth, ")
	i := slices.IndexFunc(v.layoutActions(s), func(a keys.Action) bool { return a.Keys[0] == "w" })
	assert.Contains(t, v.layoutActions(s)[i].Disabled, "there are no prices")
}

func TestMostStonesFirst(t *testing.T) {
	stones := func(n int) cuts.Layout { return cuts.Layout{Fits: make([]cuts.Placed, n)} }
	list := []cuts.Layout{stones(1), stones(3), stones(2), stones(3)}
	list[1].Pieces = make([]cuts.Piece, 1)
	mostStonesFirst(list)
	assert.Len(t, list[0].Fits, 3)
	assert.Len(t, list[0].Pieces, 1, "equal ones stay in their order")
	assert.Len(t, list[3].Fits, 1)
}

// What is found first is shown while the search for better goes on.
func TestLayoutsAreShownAsTheyAreFound(t *testing.T) {
	v, s := bench(t)
	s.Plan, s.PlanOf = search.Plan{Fits: []search.Fit{*s.Chosen}, TiltMaxDeg: 0, Tolerance: 0.05}, s.Revision()
	v.stones = 2
	cmd := v.Follow(s)
	parts := 0
	for ; cmd != nil; parts++ {
		if parts > 0 {
			require.NotNil(t, v.layout(s))
			assert.Contains(t, screen(v, s), "so far")
		}
		cmd = v.Update(s, cmd())
	}
	assert.Greater(t, parts, 1)
	assert.False(t, v.busy)
	assert.NotContains(t, screen(v, s), "so far")
}

// Several stones wait until the best fits stand, not until the list is filled; a fit more
// while it is being filled is no new question, the finished list is.
func TestSeveralStonesStartWhenTheBestFitsStand(t *testing.T) {
	v, s := bench(t)
	fit := *s.Chosen
	s.Plan, s.PlanOf, s.Searching = search.Plan{Fits: []search.Fit{fit}, Tolerance: 0.05}, s.Revision(), true
	press(t, v, s, "+")
	assert.Nil(t, v.layout(s))
	assert.Contains(t, screen(v, s), "being looked for")

	s.Plan.Settled = true
	settle(t, v, s)
	require.NotNil(t, v.layout(s))

	s.Plan.Fits = append(s.Plan.Fits, fit)
	require.NotNil(t, v.layout(s), "what is shown stays")
	assert.Nil(t, v.Follow(s))

	s.Searching = false
	assert.Nil(t, v.layout(s))
	assert.NotNil(t, v.followCuts(s))
}
