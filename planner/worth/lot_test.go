package worth

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"cabwright/planner/money"
)

func texts(costs []*money.Amount, c money.Currency) []string {
	var out []string
	for _, a := range costs {
		if a == nil {
			out = append(out, "none")
		} else {
			out = append(out, a.Text(c))
		}
	}
	return out
}

func paid(x float64) *money.Amount { a := of(x); return &a }

func TestCosts(t *testing.T) {
	lot := &Lot{Name: "Ashby", Carat: 60, Paid: of(100)}
	costs, remarks := Costs(nil)
	assert.Empty(t, costs)
	assert.Empty(t, remarks)

	for name, c := range map[string]struct {
		stones []Purchase
		want   []string
		remark string
	}{
		"nothing said":   {[]Purchase{{Currency: euro, Carat: 5}}, []string{"none"}, ""},
		"paid and extra": {[]Purchase{{Currency: euro, Carat: 5, Paid: paid(70), Extra: of(12)}}, []string{"82.00"}, ""},
		"extra alone":    {[]Purchase{{Currency: euro, Carat: 5, Extra: of(12)}}, []string{"12.00"}, ""},
		"given away":     {[]Purchase{{Currency: euro, Carat: 5, Paid: paid(0)}}, []string{"0.00"}, ""},
		"a third each": {[]Purchase{{Currency: euro, Carat: 20, Lot: lot}, {Currency: euro, Carat: 20, Lot: lot},
			{Currency: euro, Carat: 20, Lot: lot}}, []string{"33.34", "33.33", "33.33"}, ""},
		"one of the lot": {[]Purchase{{Currency: euro, Carat: 15, Lot: lot, Extra: of(0.5)}}, []string{"25.50"}, ""},
		"dried a little": {[]Purchase{{Currency: euro, Carat: 29.5, Lot: lot}, {Currency: euro, Carat: 29.5, Lot: lot}},
			[]string{"50.00", "50.00"}, ""},
		"heavier": {[]Purchase{{Currency: euro, Carat: 40, Lot: lot}, {Currency: euro, Carat: 40, Lot: lot}},
			[]string{"50.00", "50.00"}, "80.00 ct together, the lot 60.00"},
		"no weight": {[]Purchase{{Currency: euro, Carat: 10, Lot: &Lot{Paid: of(9)}},
			{Currency: euro, Carat: 20, Lot: &Lot{Paid: of(9)}}}, []string{"3.00", "6.00"}, ""},
		"one has a price": {[]Purchase{{Currency: euro, Carat: 20, Lot: lot, Paid: paid(70)},
			{Currency: euro, Carat: 40, Lot: lot}}, []string{"70.00", "30.00"}, ""},
		"a price too high": {[]Purchase{{Currency: euro, Carat: 20, Lot: lot, Paid: paid(170)},
			{Currency: euro, Carat: 40, Lot: lot}}, []string{"170.00", "0.00"}, "170.00, more than the 100.00"},
		"in yen": {[]Purchase{{Currency: money.Currency{Code: "JPY"}, Carat: 1,
			Lot: &Lot{Carat: 3, Paid: of(1000)}}}, []string{"333"}, ""},
		"two lots one name": {[]Purchase{{Currency: euro, Carat: 60, Lot: lot},
			{Currency: euro, Carat: 60, Lot: &Lot{Name: "Ashby", Carat: 60, Paid: of(90)}}}, []string{"100.00", "90.00"}, ""},
		"same in two moneys": {[]Purchase{{Currency: euro, Carat: 60, Lot: lot},
			{Currency: money.Currency{Code: "JPY"}, Carat: 60, Lot: lot}}, []string{"100.00", "100"}, ""},
	} {
		t.Run(name, func(t *testing.T) {
			costs, remarks := Costs(c.stones)
			var got []string
			for i := range costs {
				got = append(got, texts(costs[i:i+1], c.stones[i].Currency)...)
			}
			assert.Equal(t, c.want, got)
			if c.remark == "" {
				assert.Empty(t, remarks)
			} else {
				assert.Len(t, remarks, 1)
				assert.Contains(t, fmt.Sprint(remarks), c.remark)
			}
		})
	}
}

// What all stones of a lot cost adds up to what was paid for it and their extras,
// to the unit, whatever the weights.
func TestALotAddsUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := money.Currency{Code: "XXX", Digits: rapid.IntRange(0, 3).Draw(t, "digits")}
		weights := rapid.SliceOfN(rapid.Float64Range(0.01, 300), 1, 20).Draw(t, "weights")
		lot := &Lot{Paid: of(float64(rapid.IntRange(0, 1_000_000).Draw(t, "paid")))}
		var stones []Purchase
		want := lot.Paid
		for _, w := range weights {
			extra := of(float64(rapid.IntRange(0, 90).Draw(t, "extra")))
			stones = append(stones, Purchase{Currency: c, Carat: w, Lot: lot, Extra: extra})
			lot.Carat += w
			want = want.Plus(extra)
		}
		costs, remarks := Costs(stones)
		sum := money.Amount{}
		for _, cost := range costs {
			sum = sum.Plus(*cost)
		}
		if sum.Compare(want) != 0 || len(remarks) > 0 {
			t.Fatalf("%s, not %s; %v", sum.Text(c), want.Text(c), remarks)
		}
	})
}

func TestOneLot(t *testing.T) {
	lot := func(name string, carat, paid float64) *Lot { return &Lot{Name: name, Carat: carat, Paid: of(paid)} }
	a := Purchase{Currency: euro, Lot: lot("A", 60, 100)}
	assert.True(t, OneLot(a, Purchase{Currency: euro, Lot: lot("A", 60, 100)}))
	for _, b := range []Purchase{
		{Currency: euro}, {Currency: euro, Lot: lot("B", 60, 100)}, {Currency: euro, Lot: lot("A", 61, 100)},
		{Currency: euro, Lot: lot("A", 60, 101)}, {Currency: money.Currency{Code: "USD", Digits: 2}, Lot: lot("A", 60, 100)},
	} {
		assert.False(t, OneLot(a, b), "%+v", b)
		assert.False(t, OneLot(b, a), "%+v", b)
	}
}

func TestPaysBack(t *testing.T) {
	v := Value{Low: of(80), Likely: of(100), High: of(120)}
	assert.Equal(t, PaysAtLow, PaysBack(v, of(80)))
	assert.Equal(t, PaysAtHigh, PaysBack(v, of(80.01)))
	assert.Equal(t, PaysNever, PaysBack(v, of(120.01)))
}
