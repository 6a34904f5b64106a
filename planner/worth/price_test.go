package worth

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cabwright/geometry"
	"cabwright/geometry/outline"
	"cabwright/geometry/solid"
	"cabwright/planner"
	"cabwright/planner/search"
	"cabwright/presets"
)

// fit is a flat-backed oval of 8 ct, 7.5 to 8, out of the top, level at the height
// 2 in the middle.
func fit(t *testing.T) search.Fit {
	o, err := outline.New("oval", 10, 8)
	require.NoError(t, err)
	return search.Fit{
		Candidate: search.Candidate{Solid: solid.Cabochon{Outline: o, Wall: 1, Dome: 3, Sides: 1}, Face: planner.Top},
		Pose:      search.Pose{Origin: geometry.Vec3{Z: 2}, Axes: geometry.Identity3()},
		Carat:     7.95, CaratLow: 7.5, CaratHigh: 8, Colour: 0.6,
	}
}

func plain(search.Fit) Colour { return Colour{} }

func square(half float64) []geometry.Vec2 {
	return []geometry.Vec2{{X: -half, Y: -half}, {X: half, Y: -half}, {X: half, Y: half}, {X: -half, Y: half}}
}

// Low weight at the low price, high at the high one: 7.5 x 8 and 8 x 30. The cost
// of 24.40 comes back at 24.40 / 7.95 = 3.07 a carat.
func TestWeigh(t *testing.T) {
	s := planner.Stone{Name: "A", ScaleCt: 26.3}
	prices := Prices{Currency: euro, Finished: []presets.Price{{Name: "all",
		PerCarat: presets.Range{Low: 8, Typical: 19, High: 30}}},
		Rough: []presets.RoughPrice{{PerCarat: presets.Range{Low: 1, Typical: 2, High: 3}}}}
	w := Weigh(s, []search.Fit{fit(t)}, plain, paid(24.40), 99, prices)
	assert.Equal(t, "0.93", w.PerCarat.Text(euro))
	assert.Equal(t, 26.3, w.RoughCarat)
	f := w.Fits[0]
	assert.Equal(t, []string{"60.00", "151.05", "240.00"},
		[]string{f.Value.Low.Text(euro), f.Value.Likely.Text(euro), f.Value.High.Text(euro)})
	assert.Equal(t, "3.07", f.BreakEven.Text(euro))
	assert.Equal(t, "83.8", f.Margin.Decimal(1), "100 (1 - 24.40 / 151.05)")
	assert.Equal(t, []string{"26.30", "78.90"}, []string{w.Uncut.Low.Text(euro), w.Uncut.High.Text(euro)})

	nothing := Weigh(planner.Stone{}, []search.Fit{fit(t)}, plain, nil, 12, Prices{Currency: euro})
	assert.Nil(t, nothing.PerCarat)
	assert.Nil(t, nothing.Uncut)
	assert.Nil(t, nothing.Fits[0].Value)
	assert.Nil(t, nothing.Fits[0].BreakEven)
	assert.Equal(t, 12.0, nothing.RoughCarat, "as drawn")
	assert.Empty(t, Weigh(planner.Stone{}, nil, plain, paid(0), 0, prices).Fits)
}

// The weight that was paid for is the one as bought, however much has been ground
// off since.
func TestRoughCarat(t *testing.T) {
	s := planner.Stone{ScaleCt: 20, Diary: []planner.Entry{{Stage: "first grind", Carat: 21},
		{Stage: "Bought ", Carat: 26.3}, {Stage: "bought", Carat: 30}}}
	assert.Equal(t, 26.3, RoughCarat(s, 9))
	s.Diary = s.Diary[:1]
	assert.Equal(t, 20.0, RoughCarat(s, 9))
	s.ScaleCt = 0
	assert.Equal(t, 9.0, RoughCarat(s, 9))
}

// The first row that a stone satisfies is its price; each thing a row says can rule
// it out, and what it leaves out cannot.
func TestFirstRowThatIsSatisfied(t *testing.T) {
	s := planner.Stone{Material: "opal"}
	colour := Colour{Grade: 3.5, Pattern: "honeycomb"}
	span := func(low, high float64) presets.Span { return presets.Span{Low: low, High: high} }
	for name, c := range map[string]struct {
		row  presets.Price
		fits bool
	}{
		"nothing said":   {presets.Price{}, true},
		"material":       {presets.Price{Material: "opal"}, true},
		"other material": {presets.Price{Material: "agate"}, false},
		"weight at end":  {presets.Price{Carat: span(1, 7.95)}, true},
		"too heavy":      {presets.Price{Carat: span(1, 7.94)}, false},
		"too light":      {presets.Price{Carat: span(8, 9)}, false},
		"grade":          {presets.Price{Grade: span(3.5, 5)}, true},
		"too dull":       {presets.Price{Grade: span(4, 5)}, false},
		"share":          {presets.Price{Colour: span(0.5, 1)}, true},
		"too little":     {presets.Price{Colour: span(0.7, 1)}, false},
		"pattern":        {presets.Price{Pattern: "Honeycomb"}, true},
		"other pattern":  {presets.Price{Pattern: "pinfire"}, false},
		"one side":       {presets.Price{Sides: 1}, true},
		"two sides":      {presets.Price{Sides: 2}, false},
		"top":            {presets.Price{Face: "top"}, true},
		"base":           {presets.Price{Face: "base"}, false},
		"all but one fit": {presets.Price{Material: "opal", Carat: span(1, 9), Grade: span(0, 5), Sides: 1, Face: "base"},
			false},
	} {
		c.row.Name, c.row.PerCarat = "first", presets.Range{Low: 1, Typical: 1, High: 1}
		p := Prices{Currency: euro, Finished: []presets.Price{c.row, {Name: "rest"}}}
		v, ok := p.Fit(s, colour, fit(t))
		require.True(t, ok)
		assert.Equal(t, map[bool]string{true: "first", false: "rest"}[c.fits], v.By, name)
	}
	_, ok := Prices{Currency: euro}.Fit(s, colour, fit(t))
	assert.False(t, ok)
}

func TestNothingIsConverted(t *testing.T) {
	set := &presets.Set{Prices: []presets.Price{{Name: "e", Currency: "EUR"}, {Name: "u", Currency: "USD"}},
		RoughPrices: []presets.RoughPrice{{Currency: "USD"}}}
	p := PricesIn(set, euro)
	assert.Len(t, p.Finished, 1)
	assert.Empty(t, p.Rough)
	assert.Equal(t, "USD", CurrencyFor(planner.Stone{Cost: &planner.Cost{Currency: "USD"}}, set).Code)
	assert.Equal(t, "EUR", CurrencyFor(planner.Stone{}, set).Code)
	assert.Equal(t, "XXX", CurrencyFor(planner.Stone{}, &presets.Set{}).Code)
}

// Zones under a level dome: the best one counts where they overlap, and one that
// does not go as deep as the dome lies does not count there.
func TestColourUnder(t *testing.T) {
	s := planner.Stone{Outline: square(10), Top: []geometry.Vec3{{Z: 7}}, Base: []geometry.Vec3{{Z: 0}}}
	rough, err := planner.NewRough(s)
	require.NoError(t, err)
	f := fit(t)
	assert.Equal(t, Colour{}, ColourUnder(s, rough, f))

	zone := func(grade float64, pattern string, half, depth float64, face planner.Face) planner.Zone {
		return planner.Zone{Face: face, Outline: square(half), Grade: grade, Pattern: pattern, Depth: depth}
	}
	s.Colour = []planner.Zone{zone(4, "b", 9, 0, planner.Base)}
	assert.Equal(t, Colour{}, ColourUnder(s, rough, f), "of the other face")
	s.Colour = []planner.Zone{zone(2, "a", 9, 0, planner.Top)}
	assert.InDelta(t, 2, ColourUnder(s, rough, f).Grade, 1e-9)
	s.Colour = append(s.Colour, zone(5, "bright", 1, 0, planner.Top))
	mixed := ColourUnder(s, rough, f)
	assert.Equal(t, "a", mixed.Pattern, "that most of the face has")
	assert.True(t, mixed.Grade > 2 && mixed.Grade < 3, "%v", mixed.Grade)
	// The dome's top lies at 2 + 1 + 3 = 6, a millimetre under the face, its rim 5.
	s.Colour = []planner.Zone{zone(3, "", 9, 0.9, planner.Top)}
	assert.Equal(t, Colour{}, ColourUnder(s, rough, f), "all of the face lies deeper")
	s.Colour = []planner.Zone{zone(3, "", 9, 5.1, planner.Top)}
	assert.InDelta(t, 3, ColourUnder(s, rough, f).Grade, 1e-9)
}

func TestSortByWorth(t *testing.T) {
	at := func(x float64) *Value { return &Value{Likely: of(x)} }
	s := Stone{Fits: []Fit{{}, {Value: at(5)}, {Value: at(9)}, {Value: at(5), Margin: paid(1)}, {BreakEven: paid(1)}}}
	s.Sort()
	assert.Equal(t, "9", s.Fits[0].Value.Likely.Decimal(0))
	assert.Nil(t, s.Fits[1].Margin, "equal ones stay in their order")
	assert.NotNil(t, s.Fits[2].Margin)
	assert.Nil(t, s.Fits[3].BreakEven)
	assert.NotNil(t, s.Fits[4].BreakEven)
}

// What is planned stays as it is; beside it stands what a cutter's own stones make
// of it, 9 tenths here: 7.155 ct of 6.36 to 7.95, at 8, 19 and 30.
func TestByOwn(t *testing.T) {
	row := presets.Price{Name: "all", PerCarat: presets.Range{Low: 8, Typical: 19, High: 30}}
	prices := Prices{Currency: euro, Finished: []presets.Price{row}}
	w := Weigh(planner.Stone{}, []search.Fit{fit(t)}, plain, paid(14.31), 99, prices)
	band := func(ct float64) planner.Band { return planner.Band{Low: 0.8 * ct, Likely: 0.9 * ct, High: ct} }
	w.ByOwn(band, plain, prices)
	f := w.Fits[0]
	assert.Equal(t, 7.95, f.Carat)
	assert.Equal(t, "151.05", f.Value.Likely.Text(euro))
	assert.InDelta(t, 7.155, f.Own.Carat.Likely, 1e-9)
	own := []string{f.Own.Value.Low.Text(euro), f.Own.Value.Likely.Text(euro), f.Own.Value.High.Text(euro)}
	assert.Equal(t, []string{"50.88", "135.94", "238.50"}, own, "half to even: 135.945")
	assert.Equal(t, "2.00", f.Own.BreakEven.Text(euro))
	// A price for heavier stones is not meant for what it becomes.
	row.Carat = presets.Span{Low: 7.5, High: 9}
	prices.Finished[0] = row
	w.ByOwn(band, plain, prices)
	assert.Nil(t, w.Fits[0].Own.Value)
}
