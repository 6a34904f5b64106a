package worth

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cabwright/planner"
	"cabwright/planner/cuts"
	"cabwright/planner/money"
	"cabwright/presets"
)

// Two stones of 7.95 ct (7.5 to 8) and one of 2 ct (1 to 3) at 8, 19 and 30 are
// 2 x 60 + 8, 2 x 151.05 + 38 and 2 x 240 + 90. A cost of 89.50 comes back at
// 89.50 / 17.90 = 5.00 a carat and leaves 100 (1 - 89.50 / 340.10) = 73.7%.
func TestALayoutIsWorthItsStones(t *testing.T) {
	small := fit(t)
	small.Carat, small.CaratLow, small.CaratHigh = 2, 1, 3
	l := cuts.Layout{Fits: []cuts.Placed{{Fit: fit(t)}, {Fit: fit(t)}, {Fit: small}}}
	row := presets.Price{Name: "all", PerCarat: presets.Range{Low: 8, Typical: 19, High: 30}}
	prices := Prices{Currency: euro, Finished: []presets.Price{row}}
	w := WeighLayout(planner.Stone{}, l, plain, paid(89.50), prices)
	require.NotNil(t, w.Value)
	assert.Equal(t, []string{"128.00", "340.10", "570.00"},
		[]string{w.Value.Low.Text(euro), w.Value.Likely.Text(euro), w.Value.High.Text(euro)})
	assert.Equal(t, "38.00", w.Values[2].Likely.Text(euro))
	assert.Equal(t, "5.00", w.BreakEven.Text(euro))
	assert.Equal(t, "73.7", w.Margin.Decimal(1))
	assert.Zero(t, w.Unpriced())

	// A price for the heavy ones alone: the light one counts nothing, and is told of.
	row.Carat = presets.Span{Low: 5, High: 9}
	w = WeighLayout(planner.Stone{}, l, plain, nil, Prices{Currency: euro, Finished: []presets.Price{row}})
	assert.Equal(t, "302.10", w.Value.Likely.Text(euro))
	assert.Equal(t, 1, w.Unpriced())
	assert.Nil(t, w.Values[2])
	assert.Nil(t, w.BreakEven)
	assert.Nil(t, w.Margin)

	none := WeighLayout(planner.Stone{}, l, plain, paid(10), Prices{Currency: euro})
	assert.Nil(t, none.Value)
	assert.Equal(t, 3, none.Unpriced())
	assert.NotNil(t, none.BreakEven, "it hangs on the carats alone")
	empty := WeighLayout(planner.Stone{}, cuts.Layout{}, plain, paid(10), prices)
	assert.Nil(t, empty.Value)
	assert.Zero(t, empty.BreakEven.Sign(), "nothing is finished")
}

func TestSortLayouts(t *testing.T) {
	at := func(x float64) *Value { return &Value{Likely: money.Of(x)} }
	list := []Layout{{}, {Value: at(5)}, {Value: at(9)}, {Value: at(5), Margin: paid(1)}}
	SortLayouts(list)
	assert.Equal(t, "9", list[0].Value.Likely.Decimal(0))
	assert.Nil(t, list[1].Margin, "equal ones stay in their order")
	assert.NotNil(t, list[2].Margin)
	assert.Nil(t, list[3].Value)
}

func TestDearest(t *testing.T) {
	at := func(x float64) *Value { return &Value{Likely: money.Of(x)} }
	one, two := cuts.Layout{Fits: make([]cuts.Placed, 1)}, cuts.Layout{Fits: make([]cuts.Placed, 2)}
	best, several := Stone{}.Dearest()
	assert.Nil(t, best)
	assert.False(t, several)
	s := Stone{Fits: []Fit{{}, {Value: at(5)}, {Value: at(7)}},
		Layouts: []Layout{{Layout: one, Value: at(90)}, {Layout: two}}}
	best, several = s.Dearest()
	assert.Equal(t, "7", best.Likely.Decimal(0), "one stone alone is no layout to speak of")
	assert.False(t, several)
	s.Layouts = append(s.Layouts, Layout{Layout: two, Value: at(8)})
	best, several = s.Dearest()
	assert.Equal(t, "8", best.Likely.Decimal(0))
	assert.True(t, several)
}
