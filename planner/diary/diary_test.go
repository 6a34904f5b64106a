package diary

import (
	"encoding/json"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cabwright/geometry"
	"cabwright/geometry/outline"
	"cabwright/geometry/solid"
	"cabwright/planner"
	"cabwright/planner/search"
	"cabwright/planner/stonefile"
	"cabwright/presets"
)

func weighed(date string, ct float64, state string) planner.Entry {
	return planner.Entry{Date: date, Stage: "dry", Carat: ct, State: state}
}

// 16.19 ct dry and 18.10 ct wet is +11.8% (Hodgkinson 2007, the trade's check
// case).
func TestUptake(t *testing.T) {
	assert.InDelta(t, 11.8, Uptake(16.19, 18.10), 0.05)
	d := Dry(planner.Stone{Diary: []planner.Entry{weighed("2026-05-01", 16.19, "dry"),
		weighed("2026-05-01", 18.10, "soaked")}}, 0.01)
	assert.InDelta(t, 11.8, d.Uptake, 0.05)
	assert.False(t, d.Steady)
	assert.Equal(t, "it was last weighed wet", d.Why)
}

// Steady: two dry weights 24 h apart that differ by no more than the larger of 0.1%
// and one division of the scale.
func TestDry(t *testing.T) {
	for name, c := range map[string]struct {
		diary    []planner.Entry
		division float64
		steady   bool
	}{
		"nothing":    {nil, 0.01, false},
		"one weight": {[]planner.Entry{weighed("2026-05-01", 20, "dry")}, 0.01, false},
		"the same a day later": {[]planner.Entry{weighed("2026-05-01", 20, "dry"), weighed("2026-05-02", 20, "dry")}, 0.01,
			true},
		"0.1% less": {[]planner.Entry{weighed("2026-05-01", 20, "dry"), weighed("2026-05-02", 19.98, "dry")},
			0.01, true},
		"more than 0.1% less": {[]planner.Entry{weighed("2026-05-01", 20, "dry"), weighed("2026-05-02", 19.97, "dry")},
			0.01, false},
		"one division of a few": {[]planner.Entry{weighed("2026-05-01", 2, "dry"), weighed("2026-05-02", 1.95, "dry")}, 0.05,
			true},
		"two divisions": {[]planner.Entry{weighed("2026-05-01", 2, "dry"), weighed("2026-05-02", 1.90, "dry")}, 0.05,
			false},
		"heavier again": {[]planner.Entry{weighed("2026-05-01", 20, "dry"), weighed("2026-05-02", 20.05, "dry")},
			0.01, false},
		"the same day": {[]planner.Entry{weighed("2026-05-01", 20, "dry"), weighed("2026-05-01", 20, "dry")}, 0.01,
			false},
		"23 hours": {[]planner.Entry{weighed("2026-05-01T08:00:00Z", 20, "dry"),
			weighed("2026-05-02T07:00:00Z", 20, "dry")}, 0.01, false},
		"24 hours, two zones": {[]planner.Entry{weighed("2026-05-01T08:00:00Z", 20, "dry"),
			weighed("2026-05-02T10:00:00+02:00", 20, "dry")}, 0.01, true},
		"wet between": {[]planner.Entry{weighed("2026-05-01", 20, "dry"), weighed("2026-05-02", 22, "wet"),
			weighed("2026-05-03", 20, "dry")}, 0.01, false},
		"wet before": {[]planner.Entry{weighed("2026-05-01", 22, "Wet"), weighed("2026-05-02", 20, "dry"),
			weighed("2026-05-05", 20, "dry")}, 0.01, true},
		"no state": {[]planner.Entry{weighed("2026-05-01", 20, ""), weighed("2026-05-02", 20, "")}, 0.01,
			false},
		"no weight in between": {[]planner.Entry{weighed("2026-05-01", 20, "dry"), weighed("2026-05-02", 0, "wet"),
			weighed("2026-05-03", 20, "dry")}, 0.01, true},
		"the nearest a day back": {[]planner.Entry{weighed("2026-05-01", 21, "dry"), weighed("2026-05-04", 20, "dry"),
			weighed("2026-05-06", 20, "dry")}, 0.01, true},
		"a pair of the same day": {[]planner.Entry{weighed("2026-05-01", 20, "dry"), weighed("2026-05-03", 20, "dry"),
			weighed("2026-05-03", 19.9, "dry")}, 0.01, false},
	} {
		s := planner.Stone{Diary: c.diary}
		d := Dry(s, c.division)
		assert.Equal(t, c.steady, d.Steady, "%s: %s", name, d.Why)
		assert.NotEmpty(t, d.Why, name)
		assert.Empty(t, NotDry(s, false, c.division), "%s: takes up no water", name)
		assert.Equal(t, c.steady, NotDry(s, true, c.division) == "", name)
	}
	ground := planner.Stone{Diary: []planner.Entry{weighed("2026-05-01", 20, "dry"), weighed("2026-05-03", 20, "dry"),
		{Date: "2026-05-04", Stage: "first grind"}}}
	assert.False(t, Dry(ground, 0.01).Steady, "the work may have wetted it")
	ground.Diary = append(ground.Diary, weighed("2026-05-05", 18, "dry"), weighed("2026-05-07", 18, "dry"))
	assert.True(t, Dry(ground, 0.01).Steady, "earlier weights are of a larger stone")
	assert.Equal(t, "2026-05-03", Dry(planner.Stone{Diary: []planner.Entry{weighed("2026-05-01", 20, "dry"),
		weighed("2026-05-02", 22, "wet"), weighed("2026-05-03", 20, "dry"), weighed("2026-05-04", 19, "dry")}}, 0.01).Since)
}

func TestStages(t *testing.T) {
	for text, want := range map[string]string{"Bought": "bought", " first  Grind ": "first grind",
		"POLISHED": "polished"} {
		got, err := ParseStage(text)
		require.NoError(t, err)
		assert.Equal(t, want, got)
	}
	for _, text := range []string{"", "grind", "first-grind"} {
		_, err := ParseStage(text)
		assert.Error(t, err, text)
	}
	s := planner.Stone{}
	stage, since := Now(s)
	assert.Empty(t, stage+since)
	_, done := Finished(s)
	assert.False(t, done)
	s.Diary = []planner.Entry{{Stage: "dry", Date: "1"}, {Stage: "sawn", Date: "2"}, {Stage: "dry", Date: "3"},
		{Stage: "dry", Date: "4"}}
	stage, since = Now(s)
	assert.Equal(t, "dry 3", stage+" "+since)
	s.Diary = append(s.Diary, planner.Entry{Stage: "polished", Carat: 2.3}, planner.Entry{Stage: "sold"})
	e, done := Finished(s)
	assert.True(t, done)
	assert.Equal(t, 2.3, e.Carat, "a sale without a weight takes none away")
}

func unsure() planner.Stone {
	square := []geometry.Vec2{{X: -2, Y: -2}, {X: 2, Y: -2}, {X: 2, Y: 2}, {X: -2, Y: 2}}
	half := 0.5
	return planner.Stone{
		Name: "A", Material: "opal", ScaleCt: 12,
		Outline: []geometry.Vec2{{X: -10, Y: -10}, {X: 10, Y: -10}, {X: 10, Y: 10}, {X: -10, Y: 10}},
		Top:     []geometry.Vec3{{Z: 8}}, Base: []geometry.Vec3{{}},
		Cracks: []planner.Crack{
			{ID: "C1", Path: square[:2], Face: planner.Top, Depth: 3, RunOn: 1,
				RunOnRange: &planner.Range{Least: 0.5, Open: true}, Chance: &half},
			{ID: "C2", Path: square[2:], Face: planner.Base, Through: true},
		},
		Pockets: []planner.Pocket{
			{ID: "P1", Outline: square, Face: planner.Top, Depth: 4, DepthRange: &planner.Range{Least: 2, Most: 5},
				Chance: &half},
			{ID: "P2", Outline: square, Face: planner.Inside, Low: 2, High: 4, TopRange: &planner.Range{Least: 3, Most: 5}},
			{ID: "P.3", Outline: square, Face: planner.Through},
		},
	}
}

func TestFoundAgainstThought(t *testing.T) {
	find := func(what string, v float64) []planner.Finding { return []planner.Finding{{What: what, Value: v}} }
	for _, c := range []struct {
		found []planner.Finding
		says  string
		held  bool
	}{
		{find("P1.depth", 3.2), "P1 depth: found 3.2 mm, within 2 to 5 (thought 4)", true},
		{find("P1.depth", 5), "P1 depth: found 5 mm, within 2 to 5 (thought 4)", true},
		{find("P1.depth", 5.01), "P1 depth: found 5.01 mm, outside 2 to 5 (thought 4)", false},
		{find("C1.depth", 5), "C1 depth: found 5 mm, thought 3", false},
		{find("C1.run_on", 7.9), "C1 run_on: found 7.9 mm, within 0.5 to 8 (thought 1)", true},
		{find("P2.top", 2.9), "P2 top: found 2.9 mm, outside 3 to 5 (thought 4)", false},
		{find("P2.bottom", 2.9), "P2 bottom: found 2.9 mm, thought 2", false},
		{find("C2.depth", 2), "C2 depth: found 2 mm, not thought of", false},
		{find("P9.depth", 2), "P9 depth: found 2 mm, not thought of", false},
	} {
		checks := Against(unsure(), c.found, 8)
		require.Len(t, checks, 1)
		assert.Equal(t, c.says, checks[0].String())
		assert.Equal(t, c.held, checks[0].Held())
	}
}

// What was found is sure from then on; what makes no sense is refused and leaves
// the stone alone.
func TestApplyFound(t *testing.T) {
	s, err := ApplyFound(unsure(), []planner.Finding{{What: "P1.depth", Value: 3.2}, {What: "C1.run_on", Value: 2},
		{What: "P2.top", Value: 4.5}, {What: "C2.depth", Value: 2}})
	require.NoError(t, err)
	assert.Equal(t, 3.2, s.Pockets[0].Depth)
	assert.Nil(t, s.Pockets[0].DepthRange)
	assert.Nil(t, s.Pockets[0].Chance)
	assert.Equal(t, 2.0, s.Cracks[0].RunOn)
	assert.Nil(t, s.Cracks[0].RunOnRange)
	assert.Equal(t, 4.5, s.Pockets[1].High)
	assert.False(t, s.Cracks[1].Through)
	for _, what := range []string{"P1", "P1.", ".depth", "P1.width", "P9.depth", "P1.top", "P2.depth", "C1.top",
		"P.3.depth", ""} {
		_, err := ApplyFound(unsure(), []planner.Finding{{What: what, Value: 1}})
		assert.Error(t, err, what)
	}
	_, err = ApplyFound(unsure(), []planner.Finding{{What: "P1.depth", Value: -1}})
	assert.Error(t, err)
	_, err = ApplyFound(unsure(), []planner.Finding{{What: "P2.top", Value: 1}})
	assert.Error(t, err, "below the bottom")
}

// One step grinds, seals, weighs and finds; the entry keeps the stone ground and
// sealed, with what was thought.
func TestAdd(t *testing.T) {
	set := presets.Builtin()
	before := unsure()
	s, done, err := Add(before, Step{
		Date: "2026-05-02", Stage: "first grind", Carat: 11, State: "dry", Sealed: []string{"C1"},
		Treatments: []string{"oil"},
		Ground:     &planner.Grinding{Face: planner.Top, MM: 0.5}, Found: []planner.Finding{{What: "P1.depth", Value: 3}},
		Planned: json.RawMessage(`{"shape": "oval"}`),
	})
	require.NoError(t, err)
	assert.True(t, before.Equal(unsure()), "the stone before is left alone")
	assert.Equal(t, 11.0, s.ScaleCt)
	assert.Equal(t, 7.5, s.Top[0].Z)
	assert.Equal(t, 3.0, s.Pockets[0].Depth)
	assert.True(t, s.Cracks[0].Sealed)
	require.Len(t, done.Checks, 1)
	assert.Equal(t, "P1 depth: found 3 mm, within 1.5 to 4.5 (thought 3.5)", done.Checks[0].String())

	e := s.Diary[0]
	assert.Equal(t, []string{"oil", "cyanoacrylate glue in C1"}, e.Treatments)
	then, err := stonefile.ReadPast(e.Stone, set)
	require.NoError(t, err)
	assert.Equal(t, 3.5, then.Pockets[0].Depth)
	assert.Equal(t, planner.Range{Least: 1.5, Most: 4.5}, *then.Pockets[0].DepthRange)
	assert.Equal(t, done.Checks, Checks(e, set), "the entry alone tells it again")

	wet, _, err := Add(before, Step{Date: "2026-05-02", Stage: "dry", Carat: 14, State: "wet"})
	require.NoError(t, err)
	assert.Equal(t, 12.0, wet.ScaleCt, "a wet weight is not the stone's")

	done1, _, err := Add(before, Step{Date: "2026-05-02", Stage: "polished", Carat: 2, State: "dry"})
	require.NoError(t, err)
	assert.Equal(t, 12.0, done1.ScaleCt, "what is drawn is the rough, not the finished stone")
	done1, _, err = Add(done1, Step{Date: "2026-05-04", Stage: "dried", Carat: 1.99, State: "dry"})
	require.NoError(t, err)
	assert.Equal(t, 12.0, done1.ScaleCt)

	for name, step := range map[string]Step{
		"no date":        {Stage: "dry"},
		"no stage":       {Date: "2026-05-02"},
		"no such day":    {Date: "2026-02-30", Stage: "dry"},
		"no such crack":  {Date: "2026-05-02", Stage: "sealed", Sealed: []string{"P1"}},
		"all ground off": {Date: "2026-05-02", Stage: "first grind", Ground: &planner.Grinding{Face: planner.Top, MM: 9}},
		"no such mark":   {Date: "2026-05-02", Stage: "first grind", Found: []planner.Finding{{What: "P8.depth", Value: 1}}},
		"bad weight":     {Date: "2026-05-02", Stage: "dry", Carat: -3},
	} {
		out, _, err := Add(before, step)
		if name == "bad weight" {
			assert.Error(t, err, name)
			continue
		}
		assert.Error(t, err, name)
		assert.True(t, out.Equal(before), name)
	}
}

// The diary outlives the program: an entry that was recorded and not saved is found
// at the next opening, undone ones leave the file as it was byte for byte, and a
// file of before diaries reads as one without.
func TestDiaryThroughKillsUndoAndOldFiles(t *testing.T) {
	set := presets.Builtin()
	old, err := os.ReadFile("../../testdata/stones/nodule.stone")
	require.NoError(t, err)
	path := filepath.Join(t.TempDir(), "a.stone")
	require.NoError(t, os.WriteFile(path, old, 0o600))
	opt := stonefile.Options{Set: set, StateFolder: t.TempDir()}

	session, err := stonefile.Open(path, opt)
	require.NoError(t, err)
	assert.Empty(t, session.Stone().Diary)
	history := planner.NewHistory(session.Stone())
	enter := func(stage string) {
		t.Helper()
		require.NoError(t, history.Do("Diary: "+stage, func(s planner.Stone) (planner.Stone, error) {
			s, _, err := Add(s, Step{Date: "2026-05-02", Stage: stage, Carat: 20, State: "dry"})
			return s, err
		}))
	}
	enter("bought")
	enter("first grind")
	_, err = history.Undo()
	require.NoError(t, err)
	_, err = history.Undo()
	require.NoError(t, err)
	doc, err := stonefile.Read(path, set)
	require.NoError(t, err)
	assert.Equal(t, string(old), string(doc.Bytes(history.Stone())))

	enter("bought")
	enter("sealed")
	require.NoError(t, session.Record(history.Changes(), "Diary: sealed", history.Stone()))
	require.NoError(t, session.Close()) // as a kill leaves it: the journal stays

	again, err := stonefile.Open(path, opt)
	require.NoError(t, err)
	defer again.Close()
	require.NotNil(t, again.Found())
	recovered, err := again.Recover()
	require.NoError(t, err)
	require.Len(t, recovered.Diary, 2)
	assert.Equal(t, "sealed", recovered.Diary[1].Stage)
	require.NoError(t, again.Save(1, recovered))
	doc, err = stonefile.Read(path, set)
	require.NoError(t, err)
	assert.True(t, doc.Stone.Equal(recovered))
	assert.Empty(t, doc.Warnings)
}

func TestDisclosures(t *testing.T) {
	opal, _ := presets.Builtin().Material("opal")
	hydrophane, _ := presets.Builtin().Material("opal-hydrophane")
	treated := func(words ...string) planner.Stone {
		return planner.Stone{Diary: []planner.Entry{{Treatments: words}}}
	}
	assert.Empty(t, Disclosures(planner.Stone{}, opal))
	assert.Empty(t, Disclosures(treated("none", "untreated", " "), opal))
	sealed := planner.Stone{Cracks: []planner.Crack{{Sealed: true}, {Sealed: true}}}
	require.Len(t, Disclosures(sealed, opal), 1, "one sentence, however many cracks")
	assert.Contains(t, Disclosures(sealed, opal)[0], "filled with glue")
	sealed.Diary = []planner.Entry{{Treatments: []string{"thin cyanoacrylate in C1"}}}
	assert.Len(t, Disclosures(sealed, opal), 1)
	for word, want := range map[string]string{
		"epoxy": "glue", "resin": "filled with resin", "Dyed blue": "dyed", "smoke": "smoke", "sugar": "smoke or sugar",
		"baby oil": "oiled",
		"heated":   "heat", "doublet": "assembled", "magic": "This stone has been treated: magic.",
	} {
		all := Disclosures(treated(word), opal)
		require.Len(t, all, 1, word)
		assert.Contains(t, all[0], want, word)
		assert.NotRegexp(t, `(?i)\bsafe`, all[0])
	}
	assert.Len(t, Disclosures(treated("foil", "spoiled", "wheat"), opal), 3, "words are whole words")
	care := Disclosures(planner.Stone{}, hydrophane)
	require.Len(t, care, 1)
	assert.Contains(t, care[0], "Care: hydrophane opal takes up water")
}

// A fit that the stone still holds is in nobody's way; one that a deeper pocket
// reaches is in that pocket's.
func TestCompare(t *testing.T) {
	o, err := outline.New("oval", 10, 8)
	require.NoError(t, err)
	body := search.Candidate{Solid: solid.Cabochon{Outline: o, Wall: 1, Dome: 2, Sides: 1}, Face: planner.Top}
	before := &search.Fit{Candidate: body, Pose: search.Pose{Origin: geometry.Vec3{Z: 1}, Axes: geometry.Identity3()},
		Carat: 2}
	after := &search.Fit{Candidate: body, Carat: 1.25}
	s := unsure()
	s.Cracks, s.Pockets = nil, s.Pockets[:1]
	s.Pockets[0].Depth = 2
	s.Allowances = planner.Allowances{Skin: 0.5, Pocket: 0.5}
	name := func(search.Fit) string { return "oval" }
	at := func(depth float64) *search.Site {
		s.Pockets[0].Depth = depth
		site, err := search.Open(s)
		require.NoError(t, err)
		return site
	}
	assert.Empty(t, Compare(before, after, at(2)).By)
	c := Compare(before, after, at(5))
	assert.Equal(t, []string{"P1"}, c.By)
	assert.Equal(t, "Best now 1.25 ct, oval; was 2.00, oval: 0.75 ct lost, taken by P1.", c.Text(name))
	assert.Equal(t, "Best now 1.25 ct, oval.", Compare(nil, after, nil).Text(name))
	assert.Equal(t, "Nothing fits any more; the best was 2.00 ct, oval: 2.00 ct lost.",
		Compare(before, nil, nil).Text(name))
	assert.Equal(t, "Nothing fits.", Compare(nil, nil, nil).Text(name))
	assert.Equal(t, "Best now 2.00 ct, oval; was 1.25, oval: 0.75 ct gained.", Compare(after, before, nil).Text(name))
	assert.Equal(t, "Best now 2.00 ct, oval; was 2.00, oval.", Compare(before, before, nil).Text(name))
}
