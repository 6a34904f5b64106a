//go:build unix

package ui

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"cabwright/planner/stonefile"
	"cabwright/presets"
)

// From the price of the lot to the first grind, by keyboard alone, on a terminal:
// what it cost, a price for now, two entries of the diary, saved and read back.
func TestWorthAndDiaryByKeyboard(t *testing.T) {
	t.Parallel()
	file := stoneFile(t, "nodule.stone")
	s := start(t, 80, 24, file)
	s.waits("7 Diary")
	s.keys("6")
	s.waits("Not said: c says it.")
	s.keys("c")
	s.waits("What it cost")
	s.keys("eur", "<tab>", "24,40", "<ctrl+s>")
	s.waits("24.40")
	s.waits("0.93") // 24.40 for 26.3 ct
	s.keys("p")
	s.waits("Price of a finished carat, for now")
	s.keys("8", "<tab>", "40", "<ctrl+s>")
	s.waits("16.80") // 2.1 ct at 8
	s.waits("104.00")
	s.keys("w", "<down>")
	s.waits("By likely worth")

	s.keys("7")
	s.waits("No entry yet")
	s.keys("n")
	s.waits("New entry in the diary")
	s.keys("<tab>", "2026-05-01", "<tab>", "26.3", "<ctrl+s>")
	s.waits("Entry 1 made: bought")
	s.keys("n")
	s.waits("New entry in the diary")
	s.keys("f", "<tab>", "2026-05-03", "<tab>", "24.1", "<tab>", "<tab>", "0.7", "<ctrl+s>")
	s.waits("Entry 2 made: first grind, 0.7 mm off the top")
	s.until("the change is told", func() bool { return strings.Contains(s.screen(), "Best now") })
	s.waits("Likely worth now") // by the price typed for now
	s.keys("<up>", "b", "<up>")
	s.waits("What differs")
	s.keys("<ctrl+s>")
	s.waits("Saved to")
	s.keys("q")
	require.Equal(t, 0, s.wait())
	s.restored()

	doc, err := stonefile.Read(file, presets.Builtin())
	require.NoError(t, err)
	require.Equal(t, "EUR", doc.Stone.Cost.Currency)
	require.Equal(t, "24.40", doc.Stone.Cost.Paid.Figures(), "24,40 was typed")
	require.Len(t, doc.Stone.Diary, 2)
	require.Equal(t, 24.1, doc.Stone.ScaleCt)
	then, err := stonefile.ReadPast(doc.Stone.Diary[0].Stone, presets.Builtin())
	require.NoError(t, err)
	require.InDelta(t, then.Top[0].Z-0.7, doc.Stone.Top[0].Z, 1e-9)

	again := start(t, 80, 24, file)
	again.waits("7 Diary")
	again.keys("7")
	again.waits("first grind")
	again.keys("q")
	require.Equal(t, 0, again.wait())
}

// Two stones of a lot in one folder, opened one after the other: each shows both with
// their shares, what the first one's diary planned, and what a cutter's own finished
// stones say beside the plan.
func TestALotByKeyboard(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	put := func(name, more string) string {
		path := filepath.Join(dir, strings.ToLower(name)+".stone")
		text := `{"format": "cabwright-stone", "version": 1, "name": "` + name + `", "material": "jasper", "scale_ct": 20, ` + more + `
 "outline": [[0, 0], [20, 0], [20, 15], [0, 15]], "top": [[0, 0, 6]], "base": [[0, 0, 0]]}`
		require.NoError(t, os.WriteFile(path, []byte(text), 0o600))
		return path
	}
	const cost = `"cost": {"currency": "EUR", "lot": {"name": "Kettle", "carat": 40, "paid": 84.01}},`
	const done = `"diary": [{"date": "2026-05-01", "stage": "preform", "planned": {"shape": "round", "length_mm": 7, "width_mm": 7, "carat": 2}},
 {"date": "2026-05-20", "stage": "polished", "carat": 1.8, "state": "dry"}],`
	sedge, reed := put("Sedge", cost), put("Reed", cost)
	for _, name := range []string{"Done1", "Done2", "Done3", "Done4", "Done5"} {
		put(name, done)
	}

	s := start(t, 160, 50, sedge)
	s.waits("7 Diary")
	s.keys("6")
	s.waits("Lot Kettle")
	for _, want := range []string{"84.01 for 40.00 ct", "Reed", "together", "42.01", "42.00",
		"your 5 finished stones came out 10% lighter"} {
		s.waits(want) // 84.01 in two equal shares: the odd cent goes to the first
	}
	s.keys("p")
	s.waits("Price of a finished carat, for now")
	s.keys("8", "<tab>", "40", "<ctrl+s>")
	s.waits("1 of them not planned")
	s.keys("7", "n")
	s.waits("New entry in the diary")
	s.keys("<tab>", "2026-05-01", "<tab>", "20", "<ctrl+s>")
	s.waits("Entry 1 made: bought")
	s.keys("<ctrl+s>")
	s.waits("Saved to")
	s.keys("q")
	require.Equal(t, 0, s.wait())

	s = start(t, 160, 50, reed)
	s.waits("7 Diary")
	s.keys("6", "p")
	s.waits("Price of a finished carat, for now")
	s.keys("8", "<tab>", "40", "<ctrl+s>")
	s.waits("Sedge")
	s.until("the other's diary is priced", func() bool { return !strings.Contains(s.screen(), "not planned") })
	s.keys("q")
	require.Equal(t, 0, s.wait())
	s.restored()
}
