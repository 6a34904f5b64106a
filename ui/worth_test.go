package ui

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cabwright/presets"
)

// priced is the presets with a price of the test's own.
func priced() *presets.Set {
	set := *presets.Builtin()
	set.Prices = []presets.Price{{Name: "bright", Carat: presets.Span{Low: 1, High: 9},
		PerCarat: presets.Range{Low: 8, Typical: 20, High: 40}, Currency: "EUR", Source: "invented"}}
	set.RoughPrices = []presets.RoughPrice{{PerCarat: presets.Range{Low: 1, Typical: 2, High: 3}, Currency: "EUR",
		Source: "invented"}}
	return &set
}

// What a stone cost is typed, and its fits are priced by the cutter's own rows:
// 2.3 ct (2.1 to 2.6) at 8, 20, 40 is 16.80, 46.00, 104.00; 26.3 of 60 ct bought for
// 84.00, with 2 of extras, is 38.82, and it comes back at 16.88 a finished carat.
func TestWorthOfAStone(t *testing.T) {
	m := settled(t, "nodule.stone", 160, 50)
	m.s.Presets = priced()
	press(t, m, "6", "c")
	assert.Contains(t, frameOf(t, m), "What it cost")
	press(t, m, "E", "U", "R", "<tab>", "<tab>", "2", "<tab>", "8", "4", "<tab>", "6", "0", "<tab>", "A", "<ctrl+s>")
	settle(t, m)
	cost := m.s.Stone().Cost
	require.NotNil(t, cost)
	assert.Equal(t, []any{"EUR", "2", "A", 60.0, "84"}, []any{cost.Currency, cost.Extra.Figures(), cost.Lot.Name,
		cost.Lot.Carat, cost.Lot.Paid.Figures()})
	assert.Nil(t, cost.Paid)
	frame := frameOf(t, m)
	for _, want := range []string{"16.80", "46.00", "104.00", "38.82", "1.48", "16.88", "16%", "bright", "26.30 - 78.90",
		"A bid for another like it", "Sell it uncut?"} {
		assert.Contains(t, frame, want)
	}
	assert.Contains(t, frame, "Not dry: it has no dry weight.")

	press(t, m, "p", "1", "0", "<tab>", "9", "<ctrl+s>")
	assert.Contains(t, frameOf(t, m), "the high price is below the low one")
	press(t, m, "<back>", "1", "0", "<ctrl+s>")
	assert.Contains(t, frameOf(t, m), "23.00", "2.3 ct at 10")
	press(t, m, "b", "5", "<tab>", "5", "0", "<ctrl+s>")
	assert.Contains(t, frameOf(t, m), "extras 5.00, margin 50%")
	// 26.3 ct at 20% and 10 a carat, half of it kept, less 5: 21.30.
	assert.Contains(t, frameOf(t, m), "21.30 - 21.30")

	press(t, m, "w", "<down>", "<down>")
	require.NotNil(t, m.s.Chosen)
	assert.Contains(t, frameOf(t, m), "By likely worth")
	press(t, m, "c", "Q", "Q", "Q", "<ctrl+s>")
	assert.Contains(t, frameOf(t, m), `"QQQ" is no code of ISO 4217`)
	press(t, m, "<esc>", "u")
	assert.Nil(t, m.s.Stone().Cost)
}

// A new entry takes its marks along in one edit, keeps the stone as it was, and the
// view tells what it did; undoing it takes all of it back.
func TestDiaryOfAStone(t *testing.T) {
	m := settled(t, "nodule.stone", 160, 50)
	before := m.s.Stone()
	press(t, m, "7")
	assert.Contains(t, frameOf(t, m), "No entry yet")
	press(t, m, "n")
	assert.Contains(t, frameOf(t, m), "New entry in the diary")
	press(t, m, "<tab>", "2", "0", "2", "6", "-", "0", "5", "-", "0", "1", "<tab>", "2", "6", ".", "3", "<ctrl+s>")
	require.Len(t, m.s.Stone().Diary, 1)
	assert.Equal(t, "bought", m.s.Stone().Diary[0].Stage)
	settle(t, m)
	assert.Contains(t, frameOf(t, m), "it needs a second dry weight")

	press(t, m, "n", "f", "<tab>", "<tab>", "2", "4", "<tab>", "<tab>", "0", ".", "7", "<tab>", "<tab>")
	press(t, m, strings.Split("P1.depth=3", "")...)
	press(t, m, "<ctrl+s>")
	require.Len(t, m.s.Stone().Diary, 2, "%s", frameOf(t, m))
	e := m.s.Stone().Diary[1]
	assert.Equal(t, "first grind", e.Stage)
	assert.Equal(t, 24.0, m.s.Stone().ScaleCt)
	assert.NotNil(t, e.Stone)
	assert.NotNil(t, e.Planned)
	assert.InDelta(t, before.Top[0].Z-0.7, m.s.Stone().Top[0].Z, 1e-9)
	assert.Contains(t, frameOf(t, m), "Planning anew")
	settle(t, m)
	frame := frameOf(t, m)
	assert.Contains(t, frame, "P1 depth: found 3 mm")
	assert.Contains(t, frame, "Best now 2.30 ct")

	press(t, m, "<up>")
	assert.Contains(t, frameOf(t, m), "Entry 2, first grind")
	press(t, m, "b", "<up>")
	assert.Contains(t, frameOf(t, m), "What differs")
	press(t, m, "b", "n", "<tab>", "n", "o", "<ctrl+s>")
	assert.Contains(t, frameOf(t, m), "is not a date")
	press(t, m, "<esc>", "u", "u")
	assert.True(t, m.s.Stone().Equal(before))
	frameOf(t, m)
}
