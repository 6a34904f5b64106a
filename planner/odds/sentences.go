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

// LookWords says, a paragraph for each mark worth looking at, what that is worth, how deep
// to look and what to cut then; the last is of all that change nothing. name names a place,
// which may be nil.
func LookWords(looks []Look, name func(*Place) string) []string {
	var out, idle []string
	for _, l := range looks {
		if l.Gain < LeastGain {
			idle = append(idle, planner.Visible(l.ID))
		} else {
			out = append(out, l.words(name))
		}
	}
	switch n := len(idle); {
	case n == 1:
		out = append(out, idle[0]+" changes nothing.")
	case n > 1:
		out = append(out, enumerated(idle)+" change nothing.")
	}
	return out
}

// words are those of one mark.
func (l Look) words(name func(*Place) string) string {
	less, more, how := "if it ends before", "if it goes on", ""
	switch {
	case math.IsNaN(l.To) && l.What == There:
		less, more = "if it is not there", "if it is"
	case math.IsNaN(l.To):
		less, more = "if it leaves room", "if not"
	case l.What == RunOn:
		how = fmt.Sprintf(" Look %.2f mm beyond its ends, no further", l.To)
	case l.What == Top || l.What == Bottom:
		how = fmt.Sprintf(" What decides is the height %.2f mm", l.To)
	default:
		how = fmt.Sprintf(" Look to %.2f mm, no deeper", l.To)
	}
	worth := fmt.Sprintf("%s, worth %.1f ct on average.", planner.Visible(l.ID), l.Gain)
	then := fmt.Sprintf("%s, cut %s; %s, %s.", less, name(l.IfLess), more, name(l.IfMore))
	switch {
	case len(l.Between) > 1 && how == "":
		return worth + " " + l.betweenWords(name)
	case len(l.Between) > 1:
		return worth + how + ". " + l.betweenWords(name)
	case how == "":
		return worth + " " + strings.ToUpper(then[:1]) + then[1:]
	case len(l.Rule) > 2:
		then = l.ruleWords(name)
	}
	return worth + how + ": " + then
}

// betweenWords say what the two numbers of a mark decide between.
func (l Look) betweenWords(name func(*Place) string) string {
	what := "How deep it goes and how far it runs on decide"
	if l.What == Top || l.What == Bottom {
		what = "How high and how low it reaches decide"
	}
	names := make([]string, len(l.Between))
	for i, p := range l.Between {
		names[i] = name(p)
	}
	return fmt.Sprintf("%s between %s.", what, enumerated(names))
}

// enumerated joins two words or more: "a, b and c".
func enumerated(words []string) string {
	last := len(words) - 1
	return strings.Join(words[:last], ", ") + " and " + words[last]
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
