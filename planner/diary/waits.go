package diary

import (
	"fmt"
	"strings"

	"cabwright/planner"
)

// sawn are the stages from which on no saw cut is ahead any more.
var sawn = map[string]bool{"sawn": true, "preform": true, "dried": true, "polished": true, "sold": true}

// Ready is what is said of a stone that waits for nothing.
const Ready = "ready"

// Waits says what a stone on the bench waits for, most pressing first; none when it
// is sold. division is the smallest step of the scale in carats.
func Waits(s planner.Stone, porous bool, division float64) []string {
	stage, _ := Now(s)
	if stage == "sold" {
		return nil
	}
	var out []string
	if d := Dry(s, division); porous && !d.Steady {
		switch last := lastWeighed(s); {
		case last.Carat == 0:
			out = append(out, "weigh it dry")
		case State(last.State) == "wet":
			out = append(out, "drying since "+day(last.Date))
		case d.Since != "":
			out = append(out, "drying since "+day(d.Since))
		default:
			out = append(out, "weigh it dry")
		}
	}
	if s.ScaleCt == 0 && len(out) == 0 {
		out = append(out, "weigh it")
	}
	var open []string
	for _, k := range s.Cracks {
		if !k.Sealed {
			open = append(open, k.ID)
		}
	}
	if porous && len(open) > 0 && !sawn[stage] {
		out = append(out, fmt.Sprintf("seal %s before cutting", strings.Join(open, ", ")))
	}
	switch {
	case stage == "polished":
		out = append(out, "to be sold")
	case len(out) == 0:
		out = append(out, Ready)
	}
	return out
}

// lastWeighed is the last entry with a weight.
func lastWeighed(s planner.Stone) planner.Entry {
	for i := len(s.Diary) - 1; i >= 0; i-- {
		if s.Diary[i].Carat > 0 {
			return s.Diary[i]
		}
	}
	return planner.Entry{}
}

// day is the day of a date, without a time.
func day(date string) string {
	d, _, _ := strings.Cut(date, "T")
	return d
}
