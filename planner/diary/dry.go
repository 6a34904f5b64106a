package diary

import (
	"fmt"
	"math"
	"strings"
	"time"

	"cabwright/planner"
)

// steadyShare is the share of a stone's weight by which two dry weights of a
// steady stone may differ, and steadyAfter how far they lie apart at least: our own
// convention, from common practice that hydrophane opal needs two to six days
// between wet steps and that the test of dryness is a steady weight.
const (
	steadyShare = 0.001
	steadyAfter = 24 * time.Hour
)

// Dryness is what the weights of a diary say about water in a stone.
type Dryness struct {
	Steady bool    // two dry weights agree
	Uptake float64 // percent: the last wet weight over the last dry one before it; 0: not both known
	Why    string  // in words, what the weights say or lack
	Since  string  // the date of the first dry weight after the last wet one; "": none
}

// Dry judges the weights of a stone's diary. division is the smallest step of the
// scale in carats.
func Dry(s planner.Stone, division float64) Dryness {
	var d Dryness
	var dry []planner.Entry // since it was last wet
	lastDry, wet, worked := 0.0, false, false
	for _, e := range s.Diary {
		if takesOff[e.Stage] {
			worked = true
			dry, lastDry = nil, 0 // earlier weights are those of a larger stone, and the work may have wetted it
		}
		if e.Carat <= 0 {
			continue
		}
		switch State(e.State) {
		case "wet":
			if lastDry > 0 {
				d.Uptake = Uptake(lastDry, e.Carat)
			}
			dry, wet = nil, true
		case "dry":
			lastDry, wet = e.Carat, false
			dry = append(dry, e)
		}
	}
	if len(dry) > 0 {
		d.Since = dry[0].Date
	}
	d.Steady, d.Why = steady(dry, division)
	switch {
	case wet:
		d.Why = "it was last weighed wet"
	case worked && len(dry) == 0:
		d.Why = "it was not weighed dry since stone was last taken off"
	}
	return d
}

// takesOff are the stages at which stone is taken off.
var takesOff = map[string]bool{"first grind": true, "sawn": true, "preform": true, "polished": true}

// State returns "dry" or "wet" for the words a state is written in, "" for others.
func State(text string) string {
	switch strings.ToLower(strings.TrimSpace(text)) {
	case "dry":
		return "dry"
	case "wet", "soaked", "damp":
		return "wet"
	}
	return ""
}

// steady compares the last dry weight with the latest one taken a day or more
// before it.
func steady(dry []planner.Entry, division float64) (bool, string) {
	if len(dry) == 0 {
		return false, "it has no dry weight"
	}
	last := dry[len(dry)-1]
	for i := len(dry) - 2; i >= 0; i-- {
		if between(dry[i].Date, last.Date) < steadyAfter {
			continue
		}
		off := math.Abs(last.Carat - dry[i].Carat)
		// Weights are read in steps of the scale: a millionth of a carat is no difference.
		if most := max(steadyShare*dry[i].Carat, division); off > most+1e-6 {
			return false, fmt.Sprintf("its dry weight went from %.2f ct to %.2f ct", dry[i].Carat, last.Carat)
		}
		return true, fmt.Sprintf("steady at %.2f ct since %s", last.Carat, dry[i].Date)
	}
	return false, "it needs a second dry weight 24 h after the first"
}

// between is the time from one date of an entry to another. A date without a time
// of day counts as its midnight.
func between(from, to string) time.Duration {
	a, okA := when(from)
	b, okB := when(to)
	if !okA || !okB {
		return 0
	}
	return b.Sub(a)
}

func when(text string) (time.Time, bool) {
	for _, form := range []string{time.RFC3339, time.DateOnly} {
		if t, err := time.Parse(form, text); err == nil {
			return t, true
		}
	}
	return time.Time{}, false
}

// Uptake is by how many percent a wet stone is heavier than the dry one.
func Uptake(dry, wet float64) float64 { return 100 * (wet/dry - 1) }

// NotDry is the remark that a porous stone carries until its weight is steady; ""
// for one that is, and for one that takes up no water.
func NotDry(s planner.Stone, porous bool, division float64) string {
	if !porous {
		return ""
	}
	d := Dry(s, division)
	if d.Steady {
		return ""
	}
	return "Not dry: " + d.Why + "."
}
