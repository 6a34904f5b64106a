package money

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/text/currency"
	"pgregory.net/rapid"
)

var euro = Currency{Code: "EUR", Digits: 2}

// Minor units as ISO 4217 list one (2026-01-01) gives them.
func TestLookup(t *testing.T) {
	for code, digits := range map[string]int{
		"EUR": 2, "USD": 2, "JPY": 0, "KRW": 0, "ISK": 0, "KWD": 3, "TND": 3, "BHD": 3, "CLF": 4, "UYW": 4, "HUF": 2,
		"AUD": 2, "ETB": 2, "INR": 2, "XXX": 2, "XAU": 2,
	} {
		c, ok := Lookup(code)
		assert.True(t, ok, code)
		assert.Equal(t, Currency{Code: code, Digits: digits}, c)
	}
	for _, code := range []string{"", "eur", "EURO", "EU", "QQQ", "€", "E\x00R", " EUR"} {
		_, ok := Lookup(code)
		assert.False(t, ok, code)
	}
	// 178 codes in list one and 6 older ones.
	assert.Len(t, Codes(), 184)
	assert.IsIncreasing(t, Codes())
	for _, code := range Codes() {
		assert.Regexp(t, `^[A-Z]{3}$`, code)
	}
}

// newer are the codes that came to ISO 4217 after the tables of CLDR 32 (2017),
// which golang.org/x/text carries; older those out of use since (from memory).
// What has no legal tender is not asked about.
const (
	newer = "MRU VES UYW VED SLE XCG ZWG XAD"
	older = "MRO VEF"
)

// golang.org/x/text/currency has the codes of CLDR: each that is legal tender
// there is known here, and each known here is known there.
func TestCodesAreThoseOfAnotherPublishedTable(t *testing.T) {
	for _, code := range Codes() {
		if _, err := currency.ParseISO(code); err != nil {
			assert.Contains(t, newer, code)
		}
	}
	tender := 0
	for it := currency.Query(); it.Next(); tender++ {
		code := it.Unit().String()
		if _, known := Lookup(code); !known {
			assert.Contains(t, older, code, "legal tender of %v", it.Region())
		}
	}
	require.Greater(t, tender, 200)
}

func TestParse(t *testing.T) {
	for text, want := range map[string]string{
		"0": "0", "12": "12", "12.50": "12.5", "12,50": "12.5", " 7 ": "7", "2232": "2232", "0,125": "0.125",
		"0.333":  "0.333",
		"1234,5": "1234.5", "00012": "12",
	} {
		a, err := Parse(text)
		require.NoError(t, err, text)
		assert.Equal(t, want, a.Decimal(6), text)
	}
	for _, text := range []string{"", "-1", "+1", "1e3", "NaN", "inf", "1.", ".5", "1.2.3", "12 EUR", "1_000", "0x10",
		"1/3",
		"1234567890123456", "1,000,000"} {
		_, err := Parse(text)
		assert.Error(t, err, text)
	}
	_, err := Parse("2,232")
	assert.EqualError(t, err, `"2,232" can be read in two ways: write 2232 or 2.232`)
}

// A number from a file is the decimal that stands in it, not its binary neighbour.
func TestOfIsTheDecimalThatWasWritten(t *testing.T) {
	tenth := Of(0.1)
	sum := Amount{}
	for range 10 {
		sum = sum.Plus(tenth)
	}
	assert.Zero(t, sum.Compare(Of(1)))
	for _, x := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		assert.Zero(t, Of(x).Sign())
	}
	assert.Equal(t, "0.00", Amount{}.Text(euro))
}

// Half a unit goes to the even one; a digit more decides.
func TestRound(t *testing.T) {
	yen, dinar := Currency{"JPY", 0}, Currency{"KWD", 3}
	for _, c := range []struct {
		value string
		in    Currency
		want  string
	}{
		{"0.005", euro, "0.00"}, {"0.015", euro, "0.02"}, {"0.025", euro, "0.02"}, {"0.0250001", euro, "0.03"},
		{"2.675", euro, "2.68"}, {"1.005", euro, "1.00"}, {"0.5", yen, "0"}, {"1.5", yen, "2"}, {"2.5", yen, "2"},
		{"1.0005", dinar, "1.000"}, {"1.0015", dinar, "1.002"}, {"128", euro, "128.00"},
	} {
		a, err := Parse(c.value)
		require.NoError(t, err)
		assert.Equal(t, c.want, a.Text(c.in), c.value)
	}
	assert.Equal(t, "-0.02", Amount{}.Minus(Of(0.025)).Text(euro))
	assert.Equal(t, "-0.04", Amount{}.Minus(Of(0.035)).Text(euro))
	assert.Equal(t, "26.67", Of(80).Over(Of(3)).Text(euro))
	assert.Zero(t, Of(80).Over(Amount{}).Sign(), "nothing is left of a division by nought")
}

// The apportionment of the House of Representatives that Hamilton proposed in
// 1792: 120 seats by the populations of the census of 1790 (Balinski and Young,
// Fair Representation, 1982, table 1.2, from memory).
func TestSharesAreHamiltons(t *testing.T) {
	people := []float64{630560, 475327, 432879, 353523, 331589, 278514, 236841, 206236, 179570, 141822, 85533, 70835,
		68705, 68446, 55540}
	seats := []float64{21, 16, 14, 12, 11, 9, 8, 7, 6, 5, 3, 2, 2, 2, 2}
	for i, share := range Shares(Of(120), people, Currency{"XXX", 0}) {
		assert.Equal(t, seats[i], share.Float(), "state %d", i)
	}
}

func TestSharesOfNothing(t *testing.T) {
	assert.Nil(t, Shares(Of(10), nil, euro))
	assert.Equal(t, "10.00", Shares(Of(10), []float64{0}, euro)[0].Text(euro))
	assert.Equal(t, "0.00", Shares(Amount{}.Minus(Of(1)), []float64{1}, euro)[0].Text(euro))
	equal := Shares(Of(0.05), []float64{0, 0, 0}, euro)
	assert.Equal(t, []string{"0.02", "0.02", "0.01"}, []string{equal[0].Text(euro), equal[1].Text(euro),
		equal[2].Text(euro)})
	odd := Shares(Of(1), []float64{math.NaN(), -3, 2}, euro)
	assert.Equal(t, []string{"0.00", "0.00", "1.00"}, []string{odd[0].Text(euro), odd[1].Text(euro), odd[2].Text(euro)})
}

// Shares add up to what was paid, to the unit, and none is a unit off its exact
// value: the quota rule.
func TestSharesAddUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := Currency{"XXX", rapid.IntRange(0, 4).Draw(t, "digits")}
		paid := Of(float64(rapid.IntRange(0, 10_000_000).Draw(t, "units"))).Over(Amount{}.Plus(fromUnits(power10(2*c.Digits),
			c)))
		weights := rapid.SliceOfN(rapid.Float64Range(0, 500), 1, 30).Draw(t, "weights")
		sum, total := Amount{}, Amount{}
		for _, w := range weights {
			total = total.Plus(Of(w))
		}
		for i, share := range Shares(paid, weights, c) {
			sum = sum.Plus(share)
			if total.Sign() > 0 {
				off := share.Minus(paid.Round(c).Times(Of(weights[i])).Over(total))
				if off.Float() <= -math.Pow10(-c.Digits) || off.Float() >= math.Pow10(-c.Digits) {
					t.Fatalf("share %d is %s off", i, off.Decimal(9))
				}
			}
		}
		if sum.Compare(paid.Round(c)) != 0 {
			t.Fatalf("shares add up to %s, not %s", sum.Text(c), paid.Text(c))
		}
	})
}
