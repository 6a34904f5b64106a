package odds

import (
	"fmt"
	"math"
	"strings"

	"cabwright/planner"
)

// LeastGain is the smallest gain or cost that is shown, carats: these depend on which
// places are known, so that less than this says nothing.
const LeastGain = 0.05

// Because lists the factors of a place's odds that are below one, and the linked odds
// where there are several.
func (p Place) Because() string {
	if p.Sure() {
		return "sure"
	}
	var parts []string
	for _, l := range p.Limits {
		if l.Factor < 1 {
			parts = append(parts, planner.Visible(l.ID)+" "+Percent(l.Factor))
		}
	}
	s := strings.Join(parts, ", ")
	if len(parts) > 1 {
		s += "; linked " + Percent(p.Linked)
	}
	return s
}

// MovedWords says what a place gains over where the plan lays the same solid, and how
// far it lies from there; nothing where it gains nothing.
func (p Place) MovedWords() string {
	if p.Planned == nil || p.Odds <= p.Planned.Odds {
		return ""
	}
	mm, degrees := Moved(p.Planned.Pose, p.Pose)
	turned := ""
	switch {
	case degrees < 0.5 || p.Solid.Outline.TurnPeriod() == 0:
	case degrees < 1.5:
		turned = ", turned 1 degree"
	default:
		turned = fmt.Sprintf(", turned %.0f degrees", degrees)
	}
	return fmt.Sprintf("%s -> %s, moved %.1f mm%s", Percent(p.Planned.Odds), Percent(p.Odds), mm, turned)
}

// Words says in a few sentences what looking at a mark is worth, how deep to look and
// what to cut then; name names a place, which may be nil.
func (l Look) Words(name func(*Place) string) string {
	id := planner.Visible(l.ID)
	if l.Gain < LeastGain {
		return id + " changes nothing."
	}
	s := fmt.Sprintf("%s, worth %.1f ct on average.", id, l.Gain)
	less, more := "if it ends before", "if it goes on"
	switch {
	case math.IsNaN(l.To) && l.What == There:
		less, more = "if it is not there", "if it is"
	case math.IsNaN(l.To):
		less, more = "if it leaves room", "if not"
	case l.What == RunOn:
		s += fmt.Sprintf(" Look %.2f mm beyond its ends, no further:", l.To)
	case l.What == Top || l.What == Bottom:
		s += fmt.Sprintf(" What decides is the height %.2f mm:", l.To)
	default:
		s += fmt.Sprintf(" Look to %.2f mm, no deeper:", l.To)
	}
	if len(l.Rule) > 2 {
		return s + " " + l.ruleWords(name)
	}
	return s + fmt.Sprintf(" %s, cut %s; %s, %s.", less, name(l.IfLess), more, name(l.IfMore))
}

// ruleWords lists what to cut where more than one value decides.
func (l Look) ruleWords(name func(*Place) string) string {
	var parts []string
	for i, c := range l.Rule {
		switch {
		case math.IsNaN(c.UpTo):
			parts = append(parts, "if it is not there, cut "+name(c.Place))
		case i == len(l.Rule)-1:
			parts = append(parts, "else "+name(c.Place))
		default:
			parts = append(parts, fmt.Sprintf("if it ends by %.2f, cut %s", c.UpTo, name(c.Place)))
		}
	}
	return strings.Join(parts, "; ") + "."
}

// Words says what a cost is: "0.4" once it is decided, else "at least 0.4".
func (c Cost) Words() string {
	if c.Decided {
		return fmt.Sprintf("%.1f", c.AtLeast)
	}
	return fmt.Sprintf("at least %.1f", c.AtLeast)
}
