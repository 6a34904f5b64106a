package learn

import (
	"encoding/csv"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cabwright/planner"
	"cabwright/planner/diary"
	"cabwright/planner/stonefile"
	"cabwright/presets"
)

// Intervals as statsmodels 0.15.0 gives them; testdata/jeffreys.py made the table.
func TestJeffreysAgainstStatsmodels(t *testing.T) {
	f, err := os.Open("testdata/jeffreys.csv")
	require.NoError(t, err)
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	require.NoError(t, err)
	require.Greater(t, len(rows), 30)
	for _, row := range rows[1:] {
		held, _ := strconv.Atoi(row[0])
		n, _ := strconv.Atoi(row[1])
		low, _ := strconv.ParseFloat(row[2], 64)
		high, _ := strconv.ParseFloat(row[3], 64)
		got := Jeffreys(held, n)
		assert.InDelta(t, low, got.Low, 2e-9, "%d of %d", held, n)
		assert.InDelta(t, high, got.High, 2e-9, "%d of %d", held, n)
	}
	assert.Equal(t, Interval{0, 1}, Jeffreys(0, 0))
	assert.Equal(t, Interval{0, 1}, Jeffreys(3, 2))
}

// Two-sided 80% points of Student's t (CRC Standard Mathematical Tables).
func TestStudent(t *testing.T) {
	for freedom, want := range map[int]float64{1: 3.078, 4: 1.533, 8: 1.397, 30: 1.310} {
		assert.InDelta(t, want, student(freedom), 0.0006, "%d", freedom)
	}
}

// stone is one planned at a weight and band and polished at another.
func stone(t *testing.T, planned, low, high, actual float64) planner.Stone {
	fit := json.RawMessage(fmt.Sprintf(`{"shape": "oval", "length_mm": 10, "width_mm": 8, "carat": %g, `+
		`"carat_low": %g, "carat_high": %g}`, planned, low, high))
	return planner.Stone{Name: "A", Diary: []planner.Entry{
		{Stage: "bought", Planned: json.RawMessage(`{"shape": "oval", "length_mm": 18, "width_mm": 13, "carat": 99}`)},
		{Stage: "preform", Planned: fit}, {Stage: "polished", Carat: actual, State: "dry"}, {Stage: "sold"},
	}}
}

func TestFinished(t *testing.T) {
	var r Record
	set := presets.Builtin()
	r.FromStone(planner.Stone{}, set)
	r.FromStone(planner.Stone{Diary: []planner.Entry{{Stage: "polished", Carat: 2}}}, set)
	unweighed := stone(t, 2, 1.9, 2.1, 0)
	r.FromStone(unweighed, set)
	wet := stone(t, 2, 1.9, 2.1, 2)
	wet.Diary[2].State = "wet"
	r.FromStone(wet, set)
	assert.Empty(t, r.Finished, "not planned, not weighed, weighed wet")
	assert.Empty(t, r.BandsText())

	r.FromStone(stone(t, 2, 1.9, 2.1, 1.95), set)
	require.Len(t, r.Finished, 1)
	assert.Equal(t, Finished{Name: "A", Planned: 2, PlannedLow: 1.9, PlannedHi: 2.1, Actual: 1.95}, r.Finished[0],
		"planned last, before the polish")
	r.FromStone(stone(t, 2, 1.9, 2.1, 1.85), set)
	held, of := r.BandsHeld()
	assert.Equal(t, "1 of 2", fmt.Sprintf("%d of %d", held, of))
	_, enough := r.Correction()
	assert.False(t, enough)
}

// Nine of fourteen is 38 to 85% (statsmodels).
func TestRangesText(t *testing.T) {
	var r Record
	assert.Empty(t, r.RangesText())
	for i := range 14 {
		c := diary.Check{Known: true, Ranged: true, Least: 2, Most: 4, Found: 3}
		if i >= 9 {
			c.Found = 5
		}
		r.Ranges = append(r.Ranges, c)
	}
	assert.Equal(t, "your ranges held 9 of 14, 38 to 85%", r.RangesText())
}

// Findings count from the entry that made them; those without a range say nothing of
// ranges.
func TestRangesOfADiary(t *testing.T) {
	set := presets.Builtin()
	doc, err := stonefile.Read("../../testdata/stones/nodule.stone", set)
	require.NoError(t, err)
	s := doc.Stone
	for i := range s.Pockets {
		if s.Pockets[i].ID == "P1" {
			s.Pockets[i].DepthRange = &planner.Range{Least: 1, Most: 6}
		}
	}
	s, _, err = diary.Add(s, diary.Step{Date: "2026-05-02", Stage: "first grind",
		Found: []planner.Finding{{What: "P1.depth", Value: 3}, {What: "C1.depth", Value: 5}}})
	require.NoError(t, err)
	var r Record
	r.FromStone(s, set)
	held, of := r.RangesHeld()
	assert.Equal(t, []int{1, 1}, []int{held, of})
}

// All a tenth lighter, with no spread, is a tenth lighter for certain; the same
// ratios spread about 1 leave the middle and widen the band. The ends are worked
// out by hand for five ratios e^(-2s), e^-s, 1, e^s, e^(2s): the standard deviation
// of the logs is s sqrt(10/4), t(0.9; 4) = 1.533.
func TestCorrection(t *testing.T) {
	var same, spread Record
	const s = 0.05
	for i := -2; i <= 2; i++ {
		same.Finished = append(same.Finished, Finished{Planned: 2, Actual: 1.8})
		spread.Finished = append(spread.Finished, Finished{Planned: 3, Actual: 3 * math.Exp(float64(i)*s)})
	}
	c, ok := same.Correction()
	require.True(t, ok)
	assert.InDelta(t, 0.9, c.Low, 1e-12)
	assert.InDelta(t, 0.9, c.High, 1e-12)
	assert.Equal(t, "your 5 finished stones came out 10% lighter than planned; "+
		"4 of 5 are to be expected at 90 to 90% of the plan", c.Text())
	c, ok = spread.Correction()
	require.True(t, ok)
	reach := 1.5332 * s * math.Sqrt(2.5) * math.Sqrt(1.2)
	assert.InDelta(t, 1, c.Middle, 1e-12)
	assert.InDelta(t, math.Exp(reach), c.High, 1e-5)
	assert.InDelta(t, math.Exp(-reach), c.Low, 1e-5)
	band := c.Band(4)
	assert.InDelta(t, 4*math.Exp(reach), band.High, 1e-4)
	assert.InDelta(t, 4, band.Likely, 1e-9)
}

func TestCorrectionInShort(t *testing.T) {
	of, change := Correction{Stones: 9, Middle: 1.04}.Short()
	assert.Equal(t, "of 9 finished, 4% heavier", of+", "+change)
}
