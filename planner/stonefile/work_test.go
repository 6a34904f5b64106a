package stonefile

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"cabwright/geometry"
	"cabwright/planner"
	"cabwright/planner/money"
	"cabwright/presets"

	"github.com/stretchr/testify/require"
)

// worked is the sample with everything that may be said of the work: unsure
// marks, cuts, cost and diary.
var worked = func() string {
	text := sample
	for _, put := range [][2]string{
		{`"seen_on": "day 3"`, `"depth_range": [4, null], "run_on_range": [0.5, 2.5], "chance": 0.9, "seen_on": "day 3"`},
		{`"fill": {"clay": true}`, `"depth_range": [1, 6.5], "fill": {"clay": true}`},
		{`{"id": "P1"`, `{"id": "P2", "outline": [[1, 1], [2, 1], [2, 2]], "face": "inside", "between": [3, 4], "top_range": [3.5, 5], "bottom_range": [2, 3], "chance": 0.25},
    {"id": "P1"`},
		{`  "notebook"`, `  "cuts": [{"id": "K1", "point": [1, 2, 3], "normal": [0.6, 0, 0.8], "kerf": 0.35, "blade": 7}, {"point": [0, 0, 1], "normal": [1, 0, 0]}],
  "cost": {"currency": "EUR", "paid": 70.00, "extra": 12.10, "lot": {"name": "Kettle Creek", "carat": 135, "paid": 84.000, "bag": 2}, "receipt": "A 7"},
  "diary": [
    {"date": "2026-05-02", "stage": "first grind", "carat": 22.4, "state": "dry", "note": "clay went deeper", "photo": "p/1.jpg", "treatments": ["soaked", "oven"],
     "found": {"P1.depth": 3.2, "C1.run_on": 0.5}, "planned": {"shape": "oval", "length_mm": 14, "origin_mm": [1, 2, 3], "proved": true},
     "stone": { "format": "cabwright-stone", "version": 1, "cracks": [{"id": "C1", "path": [[0, 0], [1, 1]]}], "mood": 3 }, "weather": "rain"},
    {"date": "2026-05-03T09:30:00Z", "stage": "dome"}
  ],
  "notebook"`},
	} {
		text = strings.Replace(text, put[0], put[1], 1)
	}
	return text
}()

func TestWhatIsKnownOfTheWorkIsRead(t *testing.T) {
	d, err := parse("x", []byte(worked), presets.Builtin())
	require.NoError(t, err)
	s := d.Stone
	require.Equal(t, planner.Range{Least: 4, Open: true}, *s.Cracks[0].DepthRange)
	require.Equal(t, planner.Range{Least: 0.5, Most: 2.5}, *s.Cracks[0].RunOnRange)
	require.Equal(t, 0.9, *s.Cracks[0].Chance)
	inside, fromTop := s.Pockets[0], s.Pockets[1]
	require.Equal(t, planner.Range{Least: 3.5, Most: 5}, *inside.TopRange)
	require.Equal(t, planner.Range{Least: 2, Most: 3}, *inside.BottomRange)
	require.Equal(t, 0.25, *inside.Chance)
	require.Nil(t, inside.DepthRange)
	require.Equal(t, planner.Range{Least: 1, Most: 6.5}, *fromTop.DepthRange)
	require.Nil(t, fromTop.Chance)

	require.Equal(t, "K1", s.Cuts[0].ID)
	require.Equal(t, geometry.Vec3{X: 1, Y: 2, Z: 3}, s.Cuts[0].Point)
	require.Equal(t, geometry.Vec3{X: 0.6, Z: 0.8}, s.Cuts[0].Normal)
	require.Equal(t, 0.35, s.Cuts[0].Kerf)
	require.Equal(t, "K2", s.Cuts[1].ID, "one without an id is given the first free one")
	require.Equal(t, 0.3, s.Cuts[1].Kerf, "left out: the default saw's")

	require.Equal(t, "70.00", s.Cost.Paid.Figures())
	require.Zero(t, s.Cost.Extra.Compare(money.Of(12.1)))
	require.Equal(t, "Kettle Creek", s.Cost.Lot.Name)
	require.Equal(t, 135.0, s.Cost.Lot.Carat)
	require.Zero(t, s.Cost.Lot.Paid.Compare(money.Of(84)))

	require.Len(t, s.Diary, 2)
	e := s.Diary[0]
	require.Equal(t, []any{"2026-05-02", "first grind", 22.4, "dry", "clay went deeper", "p/1.jpg"},
		[]any{e.Date, e.Stage, e.Carat, e.State, e.Note, e.Photo})
	require.Equal(t, []string{"soaked", "oven"}, e.Treatments)
	require.Equal(t, []planner.Finding{{What: "P1.depth", Value: 3.2}, {What: "C1.run_on", Value: 0.5}}, e.Found)
	require.True(t, json.Valid(e.Planned) && json.Valid(e.Stone))

	var places []string
	for _, w := range d.Warnings {
		places = append(places, w.Place)
	}
	require.Equal(t, []string{"cracks[0].seen_on", "pockets[1].fill", "colour[0].hue", "allowances.saw", "cuts[0].blade",
		"cost.lot.bag", "cost.receipt", "diary[0].weather", "notebook", "cuts[1].id"}, places)
}

func TestWhatIsKnownOfTheWorkIsWrittenBack(t *testing.T) {
	d, err := parse("x", []byte(worked), presets.Builtin())
	require.NoError(t, err)
	text := string(format(d.Stone))
	again, err := parse("again", []byte(text), presets.Builtin())
	require.NoError(t, err)
	require.True(t, d.Stone.Equal(again.Stone))
	require.Equal(t, text, string(format(again.Stone)))
	for _, kept := range []string{`"depth_range": [4, null]`, `"chance": 0.9`, `"blade": 7`, `"paid": 70.00`,
		`"paid": 84.000`, `"bag": 2`,
		`"weather": "rain"`, `"proved": true`, `{ "format": "cabwright-stone"`, `"mood": 3`,
		`"found": {"P1.depth": 3.2, "C1.run_on": 0.5}`} {
		require.Contains(t, text, kept)
	}
}

// Each difference in what the new keys say makes another stone, and none is
// lost on the way through a file.
func TestEachOfTheWorksKeysCounts(t *testing.T) {
	d, err := parse("x", []byte(worked), presets.Builtin())
	require.NoError(t, err)
	for _, c := range [][2]string{
		{`[4, null]`, `[4, 9]`}, {`[4, null]`, `[3, null]`}, {`[0.5, 2.5]`, `[0.5, 3]`}, {`"chance": 0.9`, `"chance": 0.8`},
		{`"chance": 0.9, `, ``}, {`"run_on_range": [0.5, 2.5], `, ``}, {`[1, 6.5]`, `[1, 7]`}, {`[3.5, 5]`,
			`[3.6, 5]`}, {`[2, 3]`, `[1, 3]`},
		{`"chance": 0.25`, `"chance": 0.5`}, {`[0.6, 0, 0.8]`, `[0.6, 0, -0.8]`}, {`"point": [1, 2, 3]`,
			`"point": [1, 2, 4]`},
		{`"id": "K1"`, `"id": "K7"`}, {`"kerf": 0.35`, `"kerf": 0.4`}, {`"blade": 7`, `"blade": 8`}, {`"EUR"`,
			`"JPY"`}, {`70.00`, `70.01`},
		{`12.10`, `12.1`}, {`"Kettle Creek"`, `"Kettle"`}, {`135`, `136`}, {`84.000`, `85`}, {`"bag": 2`,
			`"bag": 3`}, {`"A 7"`, `"A 8"`},
		{`2026-05-02`, `2026-05-04`}, {`first grind`, `second grind`}, {`22.4`, `22.5`}, {`"state": "dry"`, `"state": "wet"`},
		{`clay went`, `clay goes`}, {`p/1.jpg`, `p/2.jpg`}, {`"oven"`, `"sun"`}, {`"P1.depth": 3.2`, `"P1.depth": 3.3`},
		{`"proved": true`, `"proved": false`}, {`"mood": 3`, `"mood": 4`}, {`"rain"`, `"sun"`},
	} {
		require.Equal(t, 1, strings.Count(worked, c[0]), c[0])
		other, err := parse("x", []byte(strings.Replace(worked, c[0], c[1], 1)), presets.Builtin())
		require.NoError(t, err, c[0])
		require.False(t, other.Stone.Equal(d.Stone), c[0])
		require.NotEmpty(t, planner.Differences(d.Stone, other.Stone), c[0])
		again, err := parse("again", format(other.Stone), presets.Builtin())
		require.NoError(t, err)
		require.True(t, again.Stone.Equal(other.Stone), c[0])
	}
}

func TestABadFileOfWorkGetsItsPlaceAndWhatIsWrong(t *testing.T) {
	for _, c := range []struct{ old, put, place, what string }{
		// unsure marks
		{`[4, null]`, `[6.5, null]`, "cracks[0].depth_range", "begins at 6.5 mm and so does not hold the likely depth, 6 mm"},
		{`[4, null]`, `[4, 5]`, "cracks[0].depth_range", "ends at 5 mm and so does not hold the likely depth, 6 mm"},
		{`[4, null]`, `[7, 4]`, "cracks[0].depth_range", "the wrong way round: the least, 7 mm, is more than the most, 4 mm"},
		{`[4, null]`, `[4]`, "cracks[0].depth_range", "should be [least, most], has 1 of 2 numbers"},
		{`[4, null]`, `[4, 6, 8]`, "cracks[0].depth_range", "should be [least, most], has more than 2 numbers"},
		{`[4, null]`, `[null, 8]`, "cracks[0].depth_range[0]", "should be a number, is null"},
		{`[4, null]`, `[-4, 8]`, "cracks[0].depth_range[0]", "-4 mm is negative"},
		{`[4, null]`, `[4, 1e6]`, "cracks[0].depth_range[1]", "beyond 1 m"},
		{`[4, null]`, `7`, "cracks[0].depth_range", "should be a list, is a number"},
		{`"depth": 6, `, `"depth": 9.5, `, "cracks[0].depth_range",
			"ends at the rough's greatest thickness, no more than 8.8 mm"},
		{`[0.5, 2.5]`, `[1.5, 2.5]`, "cracks[0].run_on_range",
			"begins at 1.5 mm and so does not hold the likely run-on, 1 mm"},
		{`[0.5, 2.5]`, `[0.5, 0.9]`, "cracks[0].run_on_range", "ends at 0.9 mm and so does not hold the likely run-on, 1 mm"},
		{`"chance": 0.9`, `"chance": 1.01`, "cracks[0].chance", "1.01 lies outside 0 to 1"},
		{`"chance": 0.9`, `"chance": -0.1`, "cracks[0].chance", "-0.1 lies outside 0 to 1"},
		{`"chance": 0.25`, `"chance": 25`, "pockets[0].chance", "25 lies outside 0 to 1"},
		{`[1, 6.5]`, `[1, 5]`, "pockets[1].depth_range", "ends at 5 mm and so does not hold the likely depth, 5.5 mm"},
		{`[1, 6.5]`, `[1, 6.5], "top_range": [1, 6]`, "pockets[1].top_range", "only a pocket inside has one"},
		{`[3.5, 5]`, `[4.1, 5]`, "pockets[0].top_range", "begins at 4.1 mm and so does not hold the likely top, 4 mm"},
		{`[3.5, 5]`, `[3.5, null]`, "pockets[0].top_range[1]", "missing: give the greatest height"},
		{`[2, 3]`, `[2, 2.9]`, "pockets[0].bottom_range", "ends at 2.9 mm and so does not hold the likely bottom, 3 mm"},
		{`[2, 3]`, `[2, 3], "depth_range": [0, 1]`, "pockets[0].depth_range",
			"only a pocket from the top or the base has one"},
		// cuts
		{`[0.6, 0, 0.8]`, `[0, 0, 0]`, "cuts[0].normal", "gives no direction"},
		{`[0.6, 0, 0.8]`, `[0, 1e-300, 0]`, "cuts[0].normal", "gives no direction"},
		{`[0.6, 0, 0.8]`, `[0, 1e300, 0]`, "cuts[0].normal", "too large for a direction"},
		{`, "normal": [1, 0, 0]`, ``, "cuts[1].normal", "missing"},
		{`"point": [0, 0, 1], `, ``, "cuts[1].point", "missing"},
		{`"point": [1, 2, 3]`, `"point": [1, 2]`, "cuts[0].point", "should be [x, y, z], has 2 of 3 numbers"},
		{`"point": [1, 2, 3]`, `"point": [1, 2000, 3]`, "cuts[0].point", "2000 mm lies beyond 1 m"},
		{`"kerf": 0.35`, `"kerf": -0.35`, "cuts[0].kerf", "-0.35 mm is negative"},
		{`"id": "K1"`, `"id": "C1"`, "cuts[0].id", `"C1" is already the id of cracks[0]`},
		// cost
		{`"currency": "EUR", `, ``, "cost.currency", "missing"},
		{`"EUR"`, `"Euro"`, "cost.currency", `"Euro" is not a currency code of ISO 4217, such as EUR`},
		{`"EUR"`, `"eur"`, "cost.currency", "not a currency code"},
		{`"EUR"`, `"ZZZ"`, "cost.currency", "not a currency code"},
		{`"EUR"`, `"\u001b[2J"`, "cost.currency", `"^[[2J" is not a currency code`},
		{`70.00`, `-70`, "cost.paid", "-70: write the amount in plain figures, 0 or more"},
		{`70.00`, `7e1`, "cost.paid", "write the amount in plain figures"},
		{`70.00`, `1e999999999`, "cost.paid", "write the amount in plain figures"},
		{`70.00`, `"70.00"`, "cost.paid", "should be a number, is a text"},
		{`12.10`, `1000000000000000`, "cost.extra", "write the amount in plain figures"},
		{`84.000`, `-0`, "cost.lot.paid", "write the amount in plain figures"},
		{`135`, `-135`, "cost.lot.carat", "-135 is no weight"},
		// diary
		{`"date": "2026-05-02", `, ``, "diary[0].date", "missing"},
		{`2026-05-02`, `2026-02-30`, "diary[0].date", `"2026-02-30" is not a date: write it as 2026-05-02`},
		{`2026-05-02`, `2 May`, "diary[0].date", "is not a date"},
		{`, "stage": "dome"`, ``, "diary[1].stage", "missing"},
		{`22.4`, `-22.4`, "diary[0].carat", "is no weight"},
		{`["soaked", "oven"]`, `"soaked"`, "diary[0].treatments", "should be a list, is a text"},
		{`"P1.depth": 3.2`, `"P1.depth": "deep"`, `diary[0].found."P1.depth"`, "should be a number, is a text"},
		{`"C1.run_on": 0.5`, `"P1.depth": 0.5`, `diary[0].found."P1.depth"`, "key given twice"},
		{`"shape": "oval", `, ``, "diary[0].planned.shape", "missing"},
		{`"length_mm": 14`, `"length_mm": "14"`, "diary[0].planned.length_mm", "should be a number, is a text"},
		{`"origin_mm": [1, 2, 3]`, `"origin_mm": [1, 2]`, "diary[0].planned.origin_mm", "should be [x, y, z]"},
		{`"path": [[0, 0], [1, 1]]`, `"path": [[0, 0], [1]]`, "diary[0].stone.cracks[0].path[1]",
			"should be [x, y], has 1 of 2 numbers"},
		{`"mood": 3`, `"diary": [{"date": "2026-05-02", "stage": "found"}]`, "diary[0].stone.diary", "no diary of its own"},
	} {
		t.Run(c.old+" as "+c.put, func(t *testing.T) {
			require.Equal(t, 1, strings.Count(worked, c.old))
			_, err := parse("bad.stone", []byte(strings.Replace(worked, c.old, c.put, 1)), presets.Builtin())
			var bad *Error
			require.ErrorAs(t, err, &bad)
			require.Equal(t, c.place, bad.Place)
			require.Contains(t, bad.What, c.what)
			require.NotContains(t, err.Error(), "\x1b")
		})
	}
}

func TestTooManyCutsAreRefused(t *testing.T) {
	var cuts []string
	for i := range planner.MaxCuts {
		cuts = append(cuts, fmt.Sprintf(`{"id": "Y%d", "point": [0, 0, 1], "normal": [1, 0, 0]}`, i))
	}
	_, err := parse("x", []byte(strings.Replace(worked, `"cuts": [`, `"cuts": [`+strings.Join(cuts, ",")+",", 1)),
		presets.Builtin())
	require.ErrorContains(t, err, "cuts[1000]: more than 1000 cuts")
}
