package command

import (
	"fmt"
	"strings"

	"github.com/charmbracelet/x/ansi"

	"cabwright/planner"
	"cabwright/planner/diary"
	"cabwright/planner/planjson"
	"cabwright/planner/search"
	"cabwright/planner/worth"
)

// diaryText lays a diary out for people.
type diaryText struct{ *specimen }

func (t diaryText) String() string {
	var b strings.Builder
	name := planner.Visible(t.stone.Name)
	if name == "" {
		name = "Unnamed stone"
	}
	b.WriteString(paragraph(fmt.Sprintf("%s: %s; %s in the diary.", name, t.materialName(), entries(len(t.stone.Diary)))))
	if len(t.stone.Diary) == 0 {
		b.WriteString("Begin with: cabwright diary FILE add --stage bought --carat CT --state dry\n")
		return b.String()
	}
	b.WriteString("\n" + t.table())
	b.WriteString("\n" + t.water())
	for _, sentence := range diary.Disclosures(t.stone, t.material) {
		b.WriteString(paragraph(planner.Visible(sentence)))
	}
	return b.String()
}

func (t diaryText) table() string {
	tab := listing([]int{0, 3}, "#", "date", "stage", "ct", "", "what")
	for i, e := range t.stone.Diary {
		ct := ""
		if e.Carat > 0 {
			ct = fmt.Sprintf("%.2f", e.Carat)
		}
		date, _, _ := strings.Cut(e.Date, "T")
		tab.add(fmt.Sprint(i+1), date, planner.Visible(e.Stage), ct, planner.Visible(e.State), planner.Visible(t.what(e)))
	}
	return tab.String()
}

// what says what an entry tells besides stage and weight.
func (t diaryText) what(e planner.Entry) string {
	var parts []string
	for _, c := range t.checks(e) {
		parts = append(parts, c.String())
	}
	for _, treatment := range e.Treatments {
		parts = append(parts, "treated: "+treatment)
	}
	if f := plannedFit(e.Planned); f != nil {
		parts = append(parts, fmt.Sprintf("planned %s, %.2f ct", outlineName(f.Candidate), f.Carat))
	}
	if e.Note != "" {
		parts = append(parts, e.Note)
	}
	if e.Photo != "" {
		parts = append(parts, "photo "+e.Photo)
	}
	return strings.Join(parts, "; ")
}

// checks compares what an entry found with the stone it keeps.
func (t diaryText) checks(e planner.Entry) []diary.Check {
	return diary.Checks(e, t.set)
}

func (t diaryText) dryness() diary.Dryness { return diary.Dry(t.stone, t.set.Defaults.ScaleDivision) }

// notDry is the remark that a porous stone carries until its weight is steady.
func (s *specimen) notDry() string {
	return planner.Visible(diary.NotDry(s.stone, s.material.Porous, s.set.Defaults.ScaleDivision))
}

// water says whether the stone is dry and how much it takes up.
func (t diaryText) water() string {
	d := t.dryness()
	var b strings.Builder
	switch {
	case d.Steady:
		b.WriteString(paragraph("Dry: " + d.Why + "."))
	case t.material.Porous:
		b.WriteString(paragraph("Not dry: " + d.Why + "."))
	}
	if d.Uptake != 0 {
		b.WriteString(paragraph(fmt.Sprintf("Wet, it weighed %.1f%% more than dry.", d.Uptake)))
	}
	return b.String()
}

// judged is what the diary says about water and about the buyer, for JSON.
func (t diaryText) judged() planjson.DiaryJudged {
	return planjson.DiaryJudged{
		Porous: t.material.Porous, Dryness: t.dryness(),
		Disclosures: diary.Disclosures(t.stone, t.material), Checks: t.checks,
	}
}

// entered says what an entry that was just made did to the stone.
func (t diaryText) entered(done diary.Done) string {
	var b strings.Builder
	n := len(t.stone.Diary)
	e := t.stone.Diary[n-1]
	b.WriteString(paragraph(fmt.Sprintf("Entry %d: %s, %s.", n, planner.Visible(e.Stage), e.Date)))
	if len(done.Ground.Gone) > 0 {
		b.WriteString(paragraph("Gone, ground away: " + planner.Visible(strings.Join(done.Ground.Gone, ", ")) + "."))
	}
	if len(done.Ground.Maybe) > 0 {
		b.WriteString(paragraph("Perhaps gone: " + planner.Visible(strings.Join(done.Ground.Maybe, ", ")) +
			": look, then add what you find or take it off the stone."))
	}
	for _, c := range done.Checks {
		b.WriteString(paragraph(planner.Visible(c.String()) + "."))
	}
	if t.stone.ScaleCt == 0 {
		b.WriteString("The weight on the scale was that of a heavier stone: weigh it again.\n")
	}
	b.WriteString(t.water())
	return b.String()
}

// changed says what became of the plan.
func (t diaryText) changed(c diary.Change) string {
	return c.Text(func(f search.Fit) string { return outlineName(f.Candidate) + " out of the " + string(f.Face) })
}

// worthChanged says what became of the worth of the best fit, each priced in the
// stone as it was then; "" where no price is meant for either.
func worthChanged(before, after *specimen, c diary.Change) string {
	currency := worth.CurrencyFor(after.stone, after.set)
	prices := worth.PricesIn(after.set, currency)
	value := func(s *specimen, f *search.Fit) *worth.Value {
		if f == nil {
			return nil
		}
		v, ok := prices.Fit(s.stone, s.colourUnder(*f), *f)
		if !ok {
			return nil
		}
		return &v
	}
	return worth.ChangedText(value(before, c.Before), value(after, c.After), c.After != nil, currency)
}

// past is a stone as it was at an entry.
type past struct {
	number int
	entry  planner.Entry
	stone  planner.Stone
	fit    *search.Fit
}

// The room of one of two stones beside each other, and of one alone.
const (
	besideWidth = (lineWidth - 2) / 2
	pastHeight  = 14
)

// beside draws one past stone, or two next to each other.
func (a *app) beside(shown []past, ascii bool) string {
	width := lineWidth
	if len(shown) == 2 {
		width = besideWidth
	}
	var columns [][]string
	for _, p := range shown {
		var lines []string
		head := fmt.Sprintf("%d %s, %s", p.number, p.entry.Stage, p.entry.Date)
		if p.entry.Carat > 0 {
			head += fmt.Sprintf(", %.2f ct %s", p.entry.Carat, p.entry.State)
		}
		lines = append(lines, wrapped(planner.Visible(head), width)...)
		if a.hooks.Draw != nil {
			lines = append(lines, a.hooks.Draw(p.stone, p.fit, width, pastHeight, ascii)...)
		}
		if p.fit != nil {
			lines = append(
				lines,
				wrapped(fmt.Sprintf("planned %s, %.2f ct", outlineName(p.fit.Candidate), p.fit.Carat), width)...)
		}
		columns = append(columns, lines)
	}
	var b strings.Builder
	for i := 0; i < len(columns[0]) || len(columns) == 2 && i < len(columns[1]); i++ {
		line := ""
		for k, column := range columns {
			if i < len(column) {
				line += strings.Repeat(" ", max(0, k*(width+2)-ansi.StringWidth(line))) + column[i]
			}
		}
		b.WriteString(strings.TrimRight(line, " ") + "\n")
	}
	if len(shown) == 2 {
		b.WriteString("\n")
		for _, d := range planner.Differences(shown[0].stone, shown[1].stone) {
			b.WriteString(paragraph(planner.Visible(d)))
		}
	}
	return b.String()
}
