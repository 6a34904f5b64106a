package odds

import (
	"fmt"
	"math"
)

// Words says what an unsure number may be as odds: "2 to 5 mm, likely 3: 1 in 3
// deeper than 3.6".
func (u Unsure) Words() string {
	there := ""
	if u.Chance < 1 {
		there = fmt.Sprintf("%s that it is there", Percent(u.Chance))
	}
	if u.What == There {
		return there
	}
	t := u.Range
	s := fmt.Sprintf("%s to %s mm, likely %s", length(t.Least), length(t.Most), length(t.Likely))
	switch {
	case t.Most-t.Least < Grid/2:
		s = length(t.Likely) + " mm"
	case u.What == Bottom:
		s += fmt.Sprintf(": 1 in 3 %s %.1f", u.worse(), t.Quantile(1./3))
	default:
		s += fmt.Sprintf(": 1 in 3 %s %.1f", u.worse(), t.Quantile(2./3))
	}
	if there != "" {
		s += "; " + there
	}
	return s
}

// worse is what is said of a value that leaves less room than another.
func (u Unsure) worse() string {
	switch u.What {
	case RunOn:
		return "further than"
	case Top:
		return "higher than"
	case Bottom:
		return "lower than"
	default:
		return "deeper than"
	}
}

// length shows mm to the hundredth, without zeros that say nothing.
func length(mm float64) string { return fmt.Sprint(math.Round(mm*100)/100 + 0) }

// Percent shows a chance: never 0 or 100% where there is a doubt.
func Percent(chance float64) string {
	switch p := math.Round(100 * chance); {
	case chance > 0 && p == 0:
		return "under 1%"
	case chance < 1 && p == 100:
		return "over 99%"
	default:
		return fmt.Sprintf("%.0f%%", p)
	}
}
