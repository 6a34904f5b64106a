package worth

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"cabwright/planner/money"
)

func TestChangedText(t *testing.T) {
	at := func(x float64) *Value { return &Value{Likely: of(x)} }
	none, _ := money.Lookup(money.None)
	for _, c := range []struct {
		before, after *Value
		fits          bool
		in            money.Currency
		want          string
	}{
		{nil, nil, true, euro, ""},
		{nil, at(46), true, euro, "Likely worth now 46.00 EUR."},
		{at(60), nil, false, euro, "Likely worth was 60.00 EUR: all of it lost."},
		{at(60), nil, true, euro, "Likely worth was 60.00 EUR; no price is meant for what fits now."},
		{at(60), at(46), true, euro, "Likely worth now 46.00 EUR, was 60.00: 14.00 lost."},
		{at(46), at(60.5), true, euro, "Likely worth now 60.50 EUR, was 46.00: 14.50 gained."},
		{at(46.001), at(46.004), true, euro, "Likely worth now 46.00 EUR, was 46.00."},
		// What is lost agrees with the two figures that are shown: 10.01 and 10.00.
		{at(10.009), at(9.996), true, euro, "Likely worth now 10.00 EUR, was 10.01: 0.01 lost."},
		{at(60), at(46), true, none, "Likely worth now 46.00, was 60.00: 14.00 lost."},
	} {
		assert.Equal(t, c.want, ChangedText(c.before, c.after, c.fits, c.in))
	}
}
