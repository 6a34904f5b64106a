package worth

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"cabwright/planner/money"
	"cabwright/presets"
)

var (
	euro = money.Currency{Code: "EUR", Digits: 2}
	of   = money.Of
)

// The example that the plan's JSON is described with: 135 ct, 10 of it potch, 8 to
// 40 a finished carat, 12 of extras, 30% margin, at a yield of 20%.
func TestMostToPay(t *testing.T) {
	b := MostToPay(Rough{Carat: of(135), Potch: of(10)}, of(20),
		Terms{Price: Span{of(8), of(40)}, Extra: of(12), Margin: of(30)})
	assert.Equal(t, "25", b.Finished.Decimal(6))
	assert.Equal(t, "128.00", b.Most.Low.Text(euro))
	assert.Equal(t, "688.00", b.Most.High.Text(euro))
	assert.Equal(t, "0.95", b.PerCarat.Low.Text(euro))
	assert.Equal(t, "5.10", b.PerCarat.High.Text(euro))
}

func TestMostToPayForNothing(t *testing.T) {
	price := Span{of(8), of(40)}
	none := MostToPay(Rough{}, of(20), Terms{Price: price})
	assert.Zero(t, none.Most.High.Sign()+none.PerCarat.High.Sign())
	potch := MostToPay(Rough{Carat: of(10), Potch: of(12)}, of(20), Terms{Price: price})
	assert.Zero(t, potch.Finished.Sign(), "more potch than rough is all potch")
	dear := MostToPay(Rough{Carat: of(10)}, of(5), Terms{Price: price, Extra: of(15)})
	assert.Equal(t, "0.00", dear.Most.Low.Text(euro), "a bid is never below nought")
	assert.Equal(t, "5.00", dear.Most.High.Text(euro))
	free := MostToPay(Rough{Carat: of(10)}, of(50), Terms{Price: price, Margin: of(100)})
	assert.Zero(t, free.Most.High.Sign())
}

// 186 ct bought for 2,232 at a yield of 30% is 55.8 ct at 40.00 a carat
// (International Gem Society, worked example). 10 ct at 8 a carat and 30% is
// 26.67: 80 / 3. At 20% a finished carat costs what a gram of rough does, five
// carats to the gram.
func TestBreakEven(t *testing.T) {
	cost := func(carat, paid, yield float64) string {
		b := MostToPay(Rough{Carat: of(carat)}, of(yield), Terms{})
		return b.Finished.Decimal(2) + " " + BreakEven(of(paid), b.Finished).Text(euro)
	}
	assert.Equal(t, "55.8 40.00", cost(186, 2232, 30))
	assert.Equal(t, "3 26.67", cost(10, 80, 30))
	rapid.Check(t, func(t *rapid.T) {
		carat := rapid.Float64Range(0.1, 5000).Draw(t, "carat")
		gram := of(rapid.Float64Range(0, 1000).Draw(t, "a gram"))
		b := MostToPay(Rough{Carat: of(carat)}, of(20), Terms{})
		if BreakEven(gram.Times(of(carat)).Over(of(5)), b.Finished).Compare(gram) != 0 {
			t.Fatal("at 20% a gram's price is not a finished carat's")
		}
	})
	assert.Zero(t, BreakEven(of(10), money.Amount{}).Sign())
}

// Whoever bids the most and sells at the price breaks even once margin and extras
// are paid.
func TestTheBidLeavesTheMargin(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		cents := func(name string, most int) money.Amount {
			return of(float64(rapid.IntRange(0, most).Draw(t, name)) / 100)
		}
		rough := Rough{Carat: cents("carat", 100_000).Plus(of(1))}
		terms := Terms{Price: Span{cents("low", 9999), cents("high", 99999)}, Extra: cents("extra", 9999),
			Margin: cents("margin", 9900)}
		b := MostToPay(rough, of(20), terms)
		for _, end := range [][2]money.Amount{{terms.Price.Low, b.Most.Low}, {terms.Price.High, b.Most.High}} {
			sale := b.Finished.Times(end[0])
			left := sale.Minus(terms.Extra).Minus(end[1])
			switch more := left.Compare(sale.Percent(terms.Margin)); {
			case end[1].Sign() > 0 && more != 0, end[1].Sign() == 0 && more > 0:
				t.Fatalf("sale %s, bid %s, left %s", sale.Text(euro), end[1].Text(euro), left.Text(euro))
			}
		}
	})
}

func TestPaysFor(t *testing.T) {
	price := Span{of(8), of(40)}
	for _, c := range []struct {
		carat, yield, cost float64
		want               Pays
	}{
		{0, 20, 84, PaysNever}, {40, 20, 84, PaysAtHigh}, {62, 20, 99.2, PaysAtLow}, {62, 20, 99.21, PaysAtHigh},
		{62, 20, 496, PaysAtHigh}, {62, 20, 496.01, PaysNever},
	} {
		assert.Equal(t, c.want, PaysFor(Rough{Carat: of(c.carat)}, of(c.yield), price, of(c.cost)), "%+v", c)
	}
}

// Trade check cases: the half-ellipsoid of pi/6 of its box. 10 x 8 x 3.5 at SG 2.15
// is pi/6 * 280 * 2.15 / 200 = 1.576 ct; a listed 11.26 x 7.82 x 4.23 hydrophane of
// 1.85 ct lies between 1.755 and 1.882 at SG 1.80 and 1.93.
func TestEstimate(t *testing.T) {
	form := func(name string) Form {
		for _, f := range Forms() {
			if f.Name == name {
				return f
			}
		}
		t.Fatal(name)
		return Form{}
	}
	band := Estimate([3]float64{10, 8, 3.5}, form("domed"), presets.Range{Low: 2.15, Typical: 2.15, High: 2.15}, 0)
	assert.InDelta(t, 1.576, band.Likely, 0.0005)
	band = Estimate([3]float64{11.26, 7.82, 4.23}, form("domed"), presets.Range{Low: 1.80, Typical: 1.83, High: 1.93}, 0)
	assert.InDelta(t, 1.755, band.Low, 0.0005)
	assert.InDelta(t, 1.882, band.High, 0.0005)
	// A block of 10 mm sides at SG 2 is 1,000 mm3, 10 ct; 10% on each side makes 1.331 of it.
	band = Estimate([3]float64{10, 10, 10}, form("block"), presets.Range{Low: 2, Typical: 2, High: 2}, 0.1)
	assert.InDelta(t, 7.29, band.Low, 1e-9)
	assert.InDelta(t, 10, band.Likely, 1e-9)
	assert.InDelta(t, 13.31, band.High, 1e-9)
	// Volumes of the bodies that the forms name (CRC Standard Mathematical Tables).
	for name, share := range map[string]float64{"slab": 0.785398, "nodule": 0.523599, "ridged": 0.5, "chip": 0.333333} {
		assert.InDelta(t, share, form(name).Share, 1e-6, name)
	}
}
