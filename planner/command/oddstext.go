package command

import (
	"fmt"
	"strings"

	"cabwright/planner"
	"cabwright/planner/odds"
	"cabwright/planner/search"
)

// oddsText lays the odds out for people.
type oddsText struct {
	*specimen
	plan    search.Plan
	answer  odds.Answer
	decided []odds.Cost // by full searches; nil: not asked for
	top     int
}

func (t oddsText) String() string {
	var b strings.Builder
	b.WriteString(t.heading())
	if len(t.answer.Unsure) == 0 {
		b.WriteString(paragraph(
			"\nEvery mark is sure: nothing to weigh. A mark is made unsure by a range of its depth or a chance in the " +
				"stone file, or by a key in the workbench.",
		))
		b.WriteString(t.costs())
		return b.String()
	}
	b.WriteString("\nNot sure:\n")
	tab := table{}
	for _, u := range t.answer.Unsure {
		tab.add("  "+planner.Visible(u.ID), whatName(u.What), u.Words())
	}
	b.WriteString(tab.String())
	b.WriteString(t.places())
	b.WriteString(t.look())
	b.WriteString(t.costs())
	return b.String()
}

// whatName says in a word what is not sure.
func whatName(w odds.What) string {
	switch w {
	case odds.RunOn:
		return "run-on"
	case odds.There:
		return ""
	default:
		return string(w)
	}
}

// places is the table of bets, by what they bring on average, with each one's odds
// factor by factor.
func (t oddsText) places() string {
	if len(t.answer.Places) == 0 {
		return "\nNothing fits, however the marks turn out.\n"
	}
	var b strings.Builder
	if t.answer.BestSure > 0 {
		b.WriteString(fmt.Sprintf("\nThe heaviest that is sure weighs %s ct.\n", weight(t.answer.BestSure)))
	} else {
		b.WriteString("\nNothing is sure.\n")
	}
	b.WriteString("\n")
	tab := table{tight: true, right: map[int]bool{0: true, 4: true, 5: true, 6: true, 7: true, 8: true}}
	tab.add("#", "outline, mm", "dome", "face", "carat", "odds", "if not", "mean", "pays from", "because")
	for i, p := range t.answer.Places[:min(t.top, len(t.answer.Places))] {
		left := "0"
		if p.IfNot != nil {
			left = weight(p.IfNot.Carat)
		}
		if p.Sure() {
			left = ""
		}
		tab.add(fmt.Sprint(i+1), outlineName(p.Candidate), domeName(p.Candidate), string(p.Face), weight(p.Carat),
			odds.Percent(p.Odds), left, fmt.Sprintf("%.1f", p.Expected), paysFrom(p), p.Because())
	}
	b.WriteString(tab.String())
	b.WriteString(paragraph(
		"odds: that every mark keeps its allowance; if not: carats that are certainly left inside its outline; " +
			"mean: carats on average; pays from: the odds from which it is worth more on average than what is sure",
	))
	for i, p := range t.answer.Places[:min(t.top, len(t.answer.Places))] {
		if s := p.MovedWords(); s != "" {
			b.WriteString(paragraph(fmt.Sprintf("%d: %s", i+1, s)))
		}
	}
	return b.String()
}

// paysFrom says from which odds a place pays.
func paysFrom(p odds.Place) string {
	switch {
	case p.Sure():
		return ""
	case p.PaysAbove == 0:
		return "any"
	default:
		return odds.Percent(p.PaysAbove)
	}
}

// look says what is worth looking at before the first cut.
func (t oddsText) look() string {
	if len(t.answer.Places) == 0 {
		return ""
	}
	var b strings.Builder
	b.WriteString("\n")
	if t.answer.KnowingAll < odds.LeastGain {
		b.WriteString(paragraph("Look first: knowing more changes nothing."))
		return b.String()
	}
	for i, words := range odds.LookWords(t.answer.LookFirst, betName) {
		if i == 0 {
			words = "Look first: " + words
		}
		b.WriteString(paragraph(words))
	}
	b.WriteString(paragraph(fmt.Sprintf(
		"To know every mark before the first cut is worth %.1f ct on average.", t.answer.KnowingAll,
	)))
	return b.String()
}

// betName is a place in a few words.
func betName(p *odds.Place) string {
	if p == nil {
		return "nothing"
	}
	return fmt.Sprintf("%s (%s ct)", outlineName(p.Candidate), weight(p.Carat))
}

// costs says what each mark costs, and what is gained by other choices.
func (t oddsText) costs() string {
	if t.decided != nil {
		var b strings.Builder
		b.WriteString("\nThe best stone would be heavier by, in carats (costs do not add up):\n")
		tab := table{right: map[int]bool{1: true}}
		for _, c := range t.decided {
			tab.add("  "+c.What, c.Words())
		}
		b.WriteString(tab.String())
		return b.String()
	}
	if len(t.answer.Costs) == 0 {
		return ""
	}
	var parts []string
	for _, c := range t.answer.Costs {
		if c.AtLeast >= odds.LeastGain {
			parts = append(parts, fmt.Sprintf("%s %s", planner.Visible(c.ID), c.Words()))
		}
	}
	if len(parts) == 0 {
		return "\n" + paragraph("What each mark costs: none found by a quick look; --decide plans the stone without each.")
	}
	s := "What marks cost the best stone, in carats: " + strings.Join(parts, ", ")
	if len(t.answer.Costs) > 1 {
		s += fmt.Sprintf("; all together %s (costs do not add up)", t.answer.CostOfAll.Words())
	}
	return "\n" + paragraph(s+". --decide plans the stone without each, to the end.")
}
