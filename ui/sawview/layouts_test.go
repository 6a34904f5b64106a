package sawview

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cabwright/geometry"
	"cabwright/planner"
	"cabwright/planner/cuts"
	"cabwright/planner/money"
	"cabwright/planner/search"
	"cabwright/planner/worth"
	"cabwright/presets"
	"cabwright/ui/keys"
	"cabwright/ui/view"
	"cabwright/ui/viewtest"
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

// Several stones may be asked for before there is anything to lay.
func TestSeveralStonesAreAskedForBeforeTheFirstFit(t *testing.T) {
	_, ready := bench(t)
	fit := *ready.Chosen
	s := viewtest.State(t, block(), presets.Builtin())
	v := New()
	s.RoughOf = s.Revision()
	press(t, v, s, "+")
	s.Plan, s.PlanOf = search.Plan{Fits: []search.Fit{fit}, Tolerance: 0.05}, s.Revision()
	s.Chosen = &fit
	for cmd := v.Follow(s); cmd != nil; cmd = v.Update(s, cmd()) {
		screen(v, s) // of what is found so far too
	}
	assert.Contains(t, screen(v, s), "2 stones")
}

// What was picked of the layouts so far stays picked while better ones come.
func TestAPickedLayoutStaysPicked(t *testing.T) {
	v, s := several(t)
	v.pick = 1
	picked := v.shown(s).Carat()
	more := *v.answer
	more.layouts = append([]cuts.Layout{v.answer.layouts[0]}, v.answer.layouts...)
	v.take(s, &more)
	assert.Equal(t, 2, v.pick)
	assert.Equal(t, picked, v.shown(s).Carat())
	other := more
	other.layouts = more.layouts[:1]
	v.take(s, &other)
	assert.Zero(t, v.pick, "it is gone")
}

// An answer about the stone as it was before an edit is worked on no longer, and not shown.
func TestAnAnswerAboutAnOlderStoneIsDropped(t *testing.T) {
	v, s := bench(t)
	s.Plan, s.PlanOf = search.Plan{Fits: []search.Fit{*s.Chosen}, Tolerance: 0.05}, s.Revision()
	v.stones = 2
	cmd := v.Follow(s)
	require.NotNil(t, cmd)
	before := v.answer
	s.Searching = true // as after an edit: there is no plan to lay several stones from
	assert.Nil(t, v.Follow(s))
	for cmd != nil {
		cmd = v.Update(s, cmd())
	}
	assert.Same(t, before, v.answer)
	assert.False(t, v.busy)
	s.Searching = false
	assert.NotNil(t, v.Follow(s), "it is asked again")
}

// When stones are parted each piece goes on with its own.
func TestEachPieceGetsItsOwnCutsAndStones(t *testing.T) {
	v, s := several(t)
	require.Len(t, v.layout(s).Fits, 2)
	press(t, v, s, "k")
	for _, other := range []float64{1, 39} { // one cut on each side of all
		require.NoError(t, s.Do("A cut", func(st planner.Stone) (planner.Stone, error) {
			return planner.AddCut(st, planner.Cut{Point: geometry.Vec3{X: other, Y: 10}, Normal: geometry.Vec3{X: 1}, Kerf: 0.3})
		}))
	}
	fits := v.fits(s)
	require.NoError(t, s.Do("The parting cut first", func(st planner.Stone) (planner.Stone, error) {
		list := slices.Clone(st.Cuts)
		parts := func(k planner.Cut) bool {
			p := planeOf(k)
			return p.Height(fits[0].Pose.Origin)*p.Height(fits[1].Pose.Origin) < 0
		}
		i := slices.IndexFunc(list, parts)
		require.GreaterOrEqual(t, i, 0)
		list[0], list[i] = list[i], list[0]
		st.Cuts = list
		return st, nil
	}))
	settle(t, v, s)
	all := s.Stone().Cuts
	require.Len(t, v.fits(s), 2)
	s.Choose(fits[0])
	first := planeOf(all[0])
	side := first.Height(fits[0].Pose.Origin) < 0
	a, _ := keys.Find(v.Actions(s), "d")
	require.Empty(t, a.Disabled)
	msg, ok := a.Run()().(view.NewStoneMsg)
	require.True(t, ok)
	require.Len(t, s.Stone().Cuts, len(all)-1-len(msg.Stone.Cuts), "each cut on one of the two")
	at := func(list []planner.Cut, x float64) bool {
		return slices.ContainsFunc(list, func(k planner.Cut) bool { return k.Point.X == x && k.Normal.X == 1 })
	}
	left := fits[0].Pose.Origin.X < fits[1].Pose.Origin.X
	assert.Equal(t, left, at(s.Stone().Cuts, 1))
	assert.Equal(t, left, at(msg.Stone.Cuts, 39))
	assert.Equal(t, !left, at(msg.Stone.Cuts, 1))
	settle(t, v, s)
	for _, f := range v.fits(s) {
		assert.Equal(t, side, first.Height(f.Pose.Origin) < 0)
	}
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
