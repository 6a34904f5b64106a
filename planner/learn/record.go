package learn

import (
	"encoding/json"
	"fmt"
	"math"

	"cabwright/planner"
	"cabwright/planner/diary"
	"cabwright/presets"
)

// Finished is a stone that was planned and has come out.
type Finished struct {
	Name                  string
	Planned               float64 // carats
	PlannedLow, PlannedHi float64 // the band then; both Planned when none was kept
	Actual                float64 // carats on the scale
}

// Held reports whether the finished stone came out within the planned band.
func (f Finished) Held() bool { return f.Actual >= f.PlannedLow && f.Actual <= f.PlannedHi }

// Record is what a folder of stones has taught.
type Record struct {
	Finished []Finished
	Ranges   []diary.Check // of marks that had a range and were found out
}

// FromStone adds what the diary of a stone tells. The fit it was to become is the
// one planned at the last entry before it was finished that has one.
func (r *Record) FromStone(s planner.Stone, set *presets.Set) {
	for _, e := range s.Diary {
		for _, c := range diary.Checks(e, set) {
			if c.Ranged {
				r.Ranges = append(r.Ranges, c)
			}
		}
	}
	entry, done := diary.Finished(s)
	if !done || entry.Carat <= 0 || diary.State(entry.State) == "wet" {
		return
	}
	if w, ok := meant(s); ok {
		r.Finished = append(
			r.Finished, Finished{Name: s.Name, Planned: w.Carat, PlannedLow: *w.Low, PlannedHi: *w.High, Actual: entry.Carat},
		)
	}
}

// planned is what is looked at of the fit that an entry keeps.
type planned struct {
	Carat float64  `json:"carat"`
	Low   *float64 `json:"carat_low"`
	High  *float64 `json:"carat_high"`
}

// meant returns the weight of the fit that a finished stone was to become.
func meant(s planner.Stone) (last planned, ok bool) {
	for _, e := range s.Diary {
		var w planned
		if e.Planned != nil && json.Unmarshal(e.Planned, &w) == nil && w.Carat > 0 {
			if w.Low == nil || w.High == nil {
				w.Low, w.High = &w.Carat, &w.Carat
			}
			last, ok = w, true
		}
		if e.Stage == "polished" {
			break
		}
	}
	return last, ok
}

// RangesHeld is how many of the ranges given held what was found, of how many.
func (r Record) RangesHeld() (held, of int) {
	for _, c := range r.Ranges {
		if c.Held() {
			held++
		}
	}
	return held, len(r.Ranges)
}

// BandsHeld is how many finished stones came out within their planned band, of how
// many.
func (r Record) BandsHeld() (held, of int) {
	for _, f := range r.Finished {
		if f.Held() {
			held++
		}
	}
	return held, len(r.Finished)
}

// leastFinished is the number of finished stones from which later bands are
// corrected: below it the spread is hardly known (a convention of our own).
const leastFinished = 5

// Correction is what a cutter's finished stones do to the bands of later plans: a
// planned weight times Middle, and Low to High for a next stone with 80%.
type Correction struct {
	Stones            int
	Low, Middle, High float64
}

// Correction returns the correction, and whether there are stones enough for one.
// Ratios of actual to planned weight are taken as log-normal with a spread known
// from as many: the middle is their geometric mean, the ends are those of a
// prediction interval for the next by Student's t.
func (r Record) Correction() (Correction, bool) {
	n := len(r.Finished)
	if n < leastFinished {
		return Correction{Stones: n}, false
	}
	mean, square := 0.0, 0.0
	for _, f := range r.Finished {
		mean += math.Log(f.Actual/f.Planned) / float64(n)
	}
	for _, f := range r.Finished {
		square += math.Pow(math.Log(f.Actual/f.Planned)-mean, 2)
	}
	spread := math.Sqrt(square/float64(n-1)) * math.Sqrt(1+1/float64(n))
	reach := spread * student(n-1)
	return Correction{Stones: n, Low: math.Exp(mean - reach), Middle: math.Exp(mean), High: math.Exp(mean + reach)}, true
}

// Band is a planned weight as the correction has it.
func (c Correction) Band(carat float64) planner.Band {
	return planner.Band{Low: carat * c.Low, Likely: carat * c.Middle, High: carat * c.High}
}

// RangesText says how the cutter's own ranges did: "your ranges held 9 of 14, 38 to
// 85%"; "" when none was tried.
func (r Record) RangesText() string {
	held, of := r.RangesHeld()
	return heldText("ranges", held, of)
}

// BandsText says the same of the planned weights.
func (r Record) BandsText() string {
	held, of := r.BandsHeld()
	return heldText("planned weights", held, of)
}

func heldText(what string, held, of int) string {
	if of == 0 {
		return ""
	}
	i := Jeffreys(held, of)
	return fmt.Sprintf("your %s held %d of %d, %.0f to %.0f%%", what, held, of, 100*i.Low, 100*i.High)
}

// change is by how much finished stones came out lighter or heavier than planned.
func (c Correction) change() string {
	change, way := 100*(1-c.Middle), "lighter"
	if change < 0 {
		change, way = -change, "heavier"
	}
	return fmt.Sprintf("%.0f%% %s", change, way)
}

// Text says what the correction does, never silently: "your 9 finished stones came
// out 4% lighter than planned".
func (c Correction) Text() string {
	return fmt.Sprintf("your %d finished stones came out %s than planned; "+
		"4 of 5 are to be expected at %.0f to %.0f%% of the plan", c.Stones, c.change(), 100*c.Low, 100*c.High)
}

// Short says it in two parts: "of 9 finished", "4% lighter".
func (c Correction) Short() (of, change string) {
	return fmt.Sprintf("of %d finished", c.Stones), c.change()
}
