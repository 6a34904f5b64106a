package odds

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"cabwright/planner/search"
)

var (
	always = reach{all: true}
	never  = reach{none: true}
)

func upTo(mm float64) reach { return reach{upTo: mm} }

func asked(t Triangular, chance float64) question {
	return question{Unsure{"P1", Depth, t, chance}, []slice{{1, math.NaN()}}}
}

// reachOf finds a reach of one that is asked by value.
func reachOf(u Unsure, keeps func(value float64) bool) reach {
	return u.reachTo(u.find(u.unknown(), func(rung int) bool { return keeps(u.value(rung)) }))
}

// bet is a place of a weight with what is left if it fails and its reach for each
// question.
func bet(carat, left float64, qs []question, reaches ...reach) Place {
	p := Place{Fit: search.Fit{Carat: carat}}
	if left > 0 {
		p.IfNot = &search.Fit{Carat: left}
	}
	for i, r := range reaches {
		p.Limits = append(p.Limits, qs[i].limit([]reach{r}))
	}
	p.settle()
	return p
}

func expected(places ...Place) []Place {
	for i := range places {
		places[i].expect(BestSure(places))
	}
	return places
}

func TestLookingWithNothingToDecide(t *testing.T) {
	one := []question{asked(Triangular{1, 2, 4}, 1)}
	require.Zero(t, look(nil, one, 0, 1).Gain)
	require.Zero(t, knowingAll(nil, one))
	alone := expected(bet(7, 0, one, upTo(2.5)))
	l := look(alone, one, 0, 1)
	require.Zero(t, l.Gain, "there is nothing else to cut")
	require.True(t, math.IsNaN(l.To))
	require.Len(t, l.Rule, 1)
	point := []question{asked(Triangular{2, 2, 2}, 1)}
	require.Zero(
		t, look(expected(bet(7, 3, point, always), bet(5, 0, point, always)), point, 0, 1).Gain,
		"what is sure needs no looking",
	)
	hopeless := expected(bet(7, 3, one, never), bet(5, 0, one, always))
	require.Zero(t, look(hopeless, one, 0, 1).Gain)
	require.Equal(t, 0.0, hopeless[0].Odds)
}

// The case worked out by hand in the issue: a stone of 7 ct, 3 left if it fails,
// that a pocket of (1, 2, 4) up to 2.5 mm allows, against a sure one of 5. Odds
// 5/8; expected 5/8 7 + 3/8 3 = 5.5; knowing, 5/8 7 + 3/8 5 = 6.25; looking to 2
// shows 1 in 3, and of the rest (5/8 - 1/3)/(2/3) = 7/16 holds, which is worth
// 4.75, so that the sure 5 is cut: 7/3 + 10/3 - 5.5 = 1/6.
func TestSevenCaratsAgainstASureFive(t *testing.T) {
	qs := []question{asked(Triangular{1, 2, 4}, 1)}
	places := expected(bet(7, 3, qs, upTo(2.5)), bet(5, 0, qs, always))
	require.InDelta(t, 0.625, places[0].Odds, 1e-12)
	require.InDelta(t, 5.5, places[0].Expected, 1e-12)
	require.InDelta(t, 0.5, places[0].PaysAbove, 1e-12)
	require.InDelta(t, 5, BestSure(places), 0)
	l := look(places, qs, 0, 1)
	require.InDelta(t, 0.75, l.Gain, 1e-12)
	require.InDelta(t, 2.5, l.To, 1e-12)
	require.InDelta(t, 1./6, l.GainTo(2), 1e-12)
	require.InDelta(t, 0.75, l.GainTo(2.5), 1e-12)
	require.InDelta(t, 0.75, l.GainTo(3.9), 1e-12, "look to 2.5, no further")
	require.Zero(t, l.GainTo(1))
	require.Equal(t, &places[0], l.IfLess)
	require.Equal(t, &places[1], l.IfMore)
	require.Len(t, l.Rule, 2)
	require.InDelta(t, 0.75, knowingAll(places, qs), 1e-12)
}

func TestTwoMarksAlike(t *testing.T) {
	qs := []question{asked(Triangular{1, 2, 4}, 1), asked(Triangular{1, 2, 4}, 1)}
	qs[1].ID = "P2"
	p := bet(7, 0, qs, upTo(2.5), upTo(2.5))
	require.InDelta(t, 0.390625, p.Odds, 1e-12)
	require.InDelta(t, 0.625, p.Linked, 1e-12)
}

// A mark that is there with a chance: 40% that it is spoils the 7 ct; knowing is
// worth .6 7 + .4 5 - max(.6 7 + .4 3, 5) = 6.2 - 5.4.
func TestAMarkThatMayNotBeThere(t *testing.T) {
	qs := []question{{Unsure{ID: "C1", What: There, Chance: 0.4}, []slice{{1, math.NaN()}}}}
	places := expected(bet(7, 3, qs, never), bet(5, 0, qs, always))
	require.InDelta(t, 0.6, places[0].Odds, 1e-12)
	l := look(places, qs, 0, 1)
	require.InDelta(t, 0.8, l.Gain, 1e-12)
	require.True(t, math.IsNaN(l.To), "there is no depth to look to")
	require.Equal(t, &places[0], l.IfLess)
	require.Equal(t, &places[1], l.IfMore)
}

// With a bottom that grows downwards, from heights: (1, 3, 4) mirrored is (1, 2, 4)
// grown down from 4 + 1, so a bottom that may come down to 2.5 has the odds .625.
func TestABottomGrowsDownwards(t *testing.T) {
	q := question{Unsure{"P1", Bottom, Triangular{1, 3, 4}, 1}, []slice{{1, math.NaN()}}}
	r := reachOf(q.Unsure, func(v float64) bool { return v >= 2.493 })
	require.InDelta(t, 2.5, r.upTo, 1e-9)
	require.InDelta(t, 0.625, q.limit([]reach{r}).Factor, 1e-12)
	require.True(t, reachOf(q.Unsure, func(float64) bool { return true }).all)
	none := reachOf(q.Unsure, func(float64) bool { return false })
	require.True(t, none.none)
	require.InDelta(t, 4.02, none.upTo, 1e-9)
	places := expected(bet(7, 3, []question{q}, r), bet(5, 0, []question{q}, always))
	l := look(places, []question{q}, 0, 1)
	require.InDelta(t, 0.75, l.Gain, 1e-12)
	require.InDelta(t, 2.5, l.To, 1e-9)
	require.InDelta(t, 1./6, l.GainTo(3), 1e-12)
}

// An exact twin: every combination of the cells' own values is gone through, and
// in each the best is taken with and without knowing.
func TestGainsAgainstEveryCombination(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 3).Draw(t, "marks")
		var qs []question
		for k := range n {
			q := asked(Triangular{1, 2, 4}, rapid.SampledFrom([]float64{1, 0.5}).Draw(t, "chance"))
			q.ID = fmt.Sprint("P", k)
			qs = append(qs, q)
		}
		var places []Place
		for range rapid.IntRange(1, 5).Draw(t, "places") {
			var reaches []reach
			for range n {
				reaches = append(
					reaches, rapid.SampledFrom([]reach{always, never, upTo(1.5), upTo(2), upTo(2.5), upTo(3)}).Draw(t, "reach"),
				)
			}
			carat := rapid.Float64Range(1, 9).Draw(t, "carat")
			places = append(places, bet(carat, rapid.Float64Range(0, carat).Draw(t, "left"), qs, reaches...))
		}
		places = expected(places...)
		blind, sure := 0.0, 0.0
		for _, p := range places {
			blind, sure = max(blind, p.Expected), max(sure, p.left())
		}

		all, first := 0.0, map[float64][]float64{}
		firstChance := map[float64]float64{}
		eachState(qs, func(values []float64, chance float64) {
			best := sure
			key := values[0]
			if first[key] == nil {
				first[key] = make([]float64, len(places))
			}
			firstChance[key] += chance
			for i, p := range places {
				worth := p.left()
				if succeeds(p, values) {
					worth = p.Carat
				}
				best = max(best, worth)
				first[key][i] += chance * worth
			}
			all += chance * best
		})
		require.InDelta(t, max(0, all-blind), knowingAll(places, qs), 1e-9)
		knowing := 0.0
		for _, sums := range first {
			best := 0.0
			for _, s := range sums {
				best = max(best, s)
			}
			knowing += best
		}
		l := look(places, qs, 0, 1)
		require.InDelta(t, max(0, knowing-blind), l.Gain, 1e-9)
		if !math.IsNaN(l.To) {
			require.InDelta(t, l.Gain, l.GainTo(l.To), 1e-9)
		}
		require.LessOrEqual(t, l.GainTo(2), l.Gain+1e-9)
	})
}

// eachState gives a value between every two limits of the twin's marks, NaN for a
// mark that is not there, with its chance.
func eachState(qs []question, do func(values []float64, chance float64)) {
	edges := []float64{1, 1.5, 2, 2.5, 3, 4}
	values := make([]float64, len(qs))
	var next func(k int, chance float64)
	next = func(k int, chance float64) {
		if k == len(qs) {
			do(values, chance)
			return
		}
		if p := qs[k].Chance; p < 1 {
			values[k] = -1
			next(k+1, chance*(1-p))
		}
		for i := 0; i+1 < len(edges); i++ {
			values[k] = (edges[i] + edges[i+1]) / 2
			next(k+1, chance*qs[k].Chance*(qs[k].Range.Below(edges[i+1])-qs[k].Range.Below(edges[i])))
		}
	}
	next(0, 1)
}

func succeeds(p Place, values []float64) bool {
	for k, v := range values {
		r := p.Limits[k].reaches[0]
		if v >= 0 && !r.all && (r.none || v > r.upTo) {
			return false
		}
	}
	return true
}

func TestReachesOnTheGrid(t *testing.T) {
	u := Unsure{"P1", Depth, Triangular{1, 2, 4}, 1}
	asks := 0
	r := reachOf(u, func(v float64) bool { asks++; return v <= 2.513 })
	require.InDelta(t, 2.5, r.upTo, 1e-9)
	require.LessOrEqual(t, asks, 10)
	require.InDelta(t, 0.98, reachOf(u, func(float64) bool { return false }).upTo, 1e-9)
	require.InDelta(t, 1, reachOf(u, func(v float64) bool { return v <= 1 }).upTo, 1e-9, "the least itself")
	narrow := Unsure{"P1", Depth, Triangular{1, 1.005, 1.01}, 1}
	require.InDelta(t, 1, reachOf(narrow, func(v float64) bool { return v < 1.008 }).upTo, 1e-9)
	there := Unsure{ID: "P1", What: There, Chance: 0.5}
	require.True(t, reachOf(there, func(v float64) bool { return true }).all)
}

// A crack's run-on of (0, 1, 2) in eight slices of 0.25: the chances of the slices
// are those of the two triangles' strips, 1/32 (2k - 1) up to the peak.
func TestRunOnInSlices(t *testing.T) {
	var chances []float64
	for _, s := range sliced(Triangular{0, 1, 2}) {
		chances = append(chances, s.weight)
	}
	require.InDeltaSlice(
		t, []float64{1. / 32, 3. / 32, 5. / 32, 7. / 32, 7. / 32, 5. / 32, 3. / 32, 1. / 32}, chances, 1e-12,
	)
	require.Equal(t, []slice{{1, 2}}, sliced(Triangular{2, 2, 2})[:1])
	qs := questions([]Unsure{
		{"C1", Depth, Triangular{1, 2, 4}, 1}, {"C1", RunOn, Triangular{0, 1, 2}, 1},
		{"C2", RunOn, Triangular{0, 1, 2}, 1},
	})
	require.Len(t, qs, 2, "one entry for the two")
	reaches := []reach{always, always, always, always, upTo(2.5), upTo(2.5), upTo(2), never}
	l := qs[0].limit(reaches)
	require.InDelta(t, 0.5+12./32*0.625+3./32/3, l.Factor, 1e-12)
	require.InDelta(t, 0, l.UpTo, 0, "the depth however far it runs on")
}

func TestWords(t *testing.T) {
	for _, c := range []struct {
		want string
		u    Unsure
	}{
		{"3 mm", Unsure{"P1", Depth, Triangular{3, 3, 3}, 1}},
		{"2 to 5 mm, likely 3: 1 in 3 deeper than 3.6", Unsure{"P1", Depth, Triangular{2, 3, 5}, 1}},
		{"0 to 2 mm, likely 1: 1 in 3 further than 1.2", Unsure{"C1", RunOn, Triangular{0, 1, 2}, 1}},
		{"3 to 6 mm, likely 5: 1 in 3 lower than 4.4", Unsure{"P1", Bottom, Triangular{3, 5, 6}, 1}},
		{"60% that it is there", Unsure{ID: "P1", What: There, Chance: 0.6}},
		{"2 to 5 mm, likely 3: 1 in 3 deeper than 3.6; 60% that it is there", Unsure{"P1", Depth, Triangular{2, 3, 5}, 0.6}},
	} {
		require.Equal(t, c.want, c.u.Words())
	}
	require.Equal(
		t, []string{"0%", "under 1%", "63%", "over 99%", "100%"},
		[]string{Percent(0), Percent(0.004), Percent(0.625), Percent(0.996), Percent(1)},
	)
}

// What is read of looking: how deep, and what is cut then; where two numbers of a mark are
// not sure, what they decide between; what changes nothing shares a sentence.
func TestLookWords(t *testing.T) {
	large, small := &Place{Odds: 0.4}, &Place{Odds: 1}
	name := func(p *Place) string { return map[*Place]string{large: "the large", small: "the small"}[p] }
	none := math.NaN()
	depth := Look{ID: "P1", What: Depth, Gain: 0.75, To: 2.5, IfLess: large, IfMore: small}
	both := Look{ID: "C1", What: Depth, Gain: 0.2, To: 3.54, IfLess: large, IfMore: large, Between: []*Place{large, small}}
	inside := Look{ID: "P2", What: Top, Gain: 0.3, To: none, Between: []*Place{large, small}}
	there := Look{ID: "C2", What: There, Gain: 0.1, To: none, IfLess: large, IfMore: small}
	idle := func(id string) Look { return Look{ID: id, What: Depth, To: none} }
	for _, c := range []struct {
		want  []string
		looks []Look
	}{
		{nil, nil},
		{[]string{"P1 changes nothing."}, []Look{idle("P1")}},
		{[]string{"P1, C1 and C2 change nothing."}, []Look{idle("P1"), idle("C1"), idle("C2")}},
		{[]string{
			"P1, worth 0.8 ct on average. Look to 2.50 mm, no deeper: if it ends before, cut the large; " +
				"if it goes on, the small.",
			"C9 changes nothing.",
		}, []Look{depth, idle("C9")}},
		{[]string{"C1, worth 0.2 ct on average. Look to 3.54 mm, no deeper. How deep it goes and how far it runs on " +
			"decide between the large and the small."}, []Look{both}},
		{[]string{"P2, worth 0.3 ct on average. How high and how low it reaches decide between the large and " +
			"the small."}, []Look{inside}},
		{[]string{"C2, worth 0.1 ct on average. If it is not there, cut the large; if it is, the small."}, []Look{there}},
	} {
		require.Equal(t, c.want, LookWords(c.looks, name))
	}
}
