package worth

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cabwright/planner"
	"cabwright/planner/search"
	"cabwright/presets"
)

// 20 ct at 5, 20 and 35% is 1, 4 and 7 ct, and a fit of 5 ct is 25%; at 8 to 40 a
// carat, less 10% and 2 of extras. Prices of other materials do not count.
func TestBidsForAnother(t *testing.T) {
	row := func(material string, low, high float64) presets.Price {
		return presets.Price{Material: material, PerCarat: presets.Range{Low: low, Typical: low, High: high}}
	}
	p := Prices{Currency: euro, Finished: []presets.Price{row("", 10, 30), row("opal", 8, 40), row("agate", 1, 500)}}
	s := Stone{Stone: planner.Stone{Material: "opal"}, RoughCarat: 20,
		Fits: []Fit{{Fit: search.Fit{Carat: 3}}, {Fit: search.Fit{Carat: 5}}}}
	bids, here := s.BidsForAnother(p, Terms{Extra: of(2), Margin: of(10)})
	require.Len(t, bids, 4)
	assert.True(t, here)
	var got []string
	for _, b := range bids {
		got = append(got, b.Yield.Decimal(0)+"%: "+b.Most.Low.Text(euro)+" - "+b.Most.High.Text(euro))
	}
	assert.Equal(t, []string{"5%: 5.20 - 34.00", "20%: 26.80 - 142.00", "35%: 48.40 - 250.00", "25%: 34.00 - 178.00"}, got)

	s.Fits = nil
	bids, here = s.BidsForAnother(p, Terms{})
	assert.Len(t, bids, 3)
	assert.False(t, here)
	for _, none := range []Stone{{}, {RoughCarat: 20, Stone: planner.Stone{Material: "jade"}}} {
		bids, _ = none.BidsForAnother(Prices{Finished: p.Finished[2:]}, Terms{})
		assert.Empty(t, bids)
	}
}
