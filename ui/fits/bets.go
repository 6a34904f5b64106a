package fits

import (
	"fmt"
	"math"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"cabwright/planner"
	"cabwright/planner/odds"
	"cabwright/ui/edit"
	"cabwright/ui/keys"
	"cabwright/ui/style"
	"cabwright/ui/view"
)

// page is what is read beside the drawing while the plan is seen as a bet.
type page int

const (
	placesPage page = iota // places by what they bring on average
	lookPage               // what to look at first
	costsPage              // what marks cost and other choices gain
)

// betActions see the plan as a bet on what is not sure.
func (v *View) betActions(s *view.State) []keys.Action {
	sure := keys.Unless(s.Unsure(), "every mark is sure: in Cracks & pockets, n makes the selected one unsure")
	return []keys.Action{
		{
			Name:     "Places with the best odds",
			Keys:     []string{"w"},
			Short:    "odds",
			Help:     "where each size worth it has the best odds, what is left if it fails, what it brings on average",
			Words:    "bet chance risk expected best place unsure",
			Disabled: sure,
			Run:      func() tea.Cmd { return v.openBets(s, placesPage, view.WeighMsg{}) },
		},
		{
			Name:     "What to look at first",
			Keys:     []string{"d"},
			Help:     "which mark is worth digging to before the first cut, how deep, and what to cut then",
			Words:    "look first information window unsure odds",
			Disabled: sure,
			Run:      func() tea.Cmd { return v.openBets(s, lookPage, view.WeighMsg{}) },
		},
		{
			Name:     "Looked, and it is still there",
			Keys:     []string{"W"},
			Help:     "how deep a mark was looked at: that is the least it can be from then on",
			Words:    "window dig least depth unsure odds",
			Disabled: keys.Unless(len(edit.Lookable(s.Stone())) > 0, "no mark's depth is unsure"),
			Run: keys.Do(func() {
				mark, depth := edit.LookNext(s.Bets.Answer.LookFirst)
				edit.AskLooked(s, mark, depth)
			}),
		},
		{
			Name:     "What each mark costs",
			Keys:     []string{"c"},
			Help:     "how much heavier the best stone would be without each, with cracks sealed or a thinner skin",
			Words:    "cost loss crack pocket seal skin",
			Disabled: keys.Unless(len(s.Stone().Cracks)+len(s.Stone().Pockets) > 0, "the stone has no crack and no pocket"),
			Run:      func() tea.Cmd { return v.openBets(s, costsPage, view.CostsMsg{}) },
		},
	}
}

// openBets shows a page, or one fit alone when that page is open already, and asks for
// what stands on it.
func (v *View) openBets(s *view.State, p page, ask tea.Msg) tea.Cmd {
	dropped := p == costsPage && !s.Bets.CostsWanted
	if v.mode == bets && v.page == p && !dropped {
		v.back(s)
		return nil
	}
	if v.mode != bets {
		v.open(s, bets)
	}
	v.page = p
	return func() tea.Msg { return ask }
}

// stepBets goes through the places and lays the stone at each.
func (v *View) stepBets(s *view.State, n int) {
	places := places(s)
	if v.page != placesPage || len(places) == 0 {
		return
	}
	at := -1
	for i, p := range places {
		if s.Chosen != nil && view.SameFit(p.Fit, *s.Chosen) {
			at = i
		}
	}
	v.choose(s, places[max(0, min(at+n, len(places)-1))].Fit)
}

// betLines is the page in so many cells.
func (v *View) betLines(s *view.State, width, height int) []string {
	switch v.page {
	case lookPage:
		return v.lookLines(s, width)
	case costsPage:
		return v.costLines(s, width)
	default:
		return v.placeLines(s, width, height)
	}
}

// places are those that were looked for or, until there are any, the plan's fits where it
// lays them.
func places(s *view.State) []odds.Place {
	if len(s.Bets.Answer.Places) > 0 {
		return s.Bets.Answer.Places
	}
	return s.Bets.Judged
}

// placeLines lists the places, and under them the one that is chosen in full.
func (v *View) placeLines(s *view.State, width, height int) []string {
	list := places(s)
	under := v.betDetails(s, width)
	head := placesHead
	if !s.Bets.Known && len(s.Bets.Answer.Places) > 0 {
		head += " …"
	}
	lines := []string{s.Style.Paint(style.Key, view.Fit(head, width))}
	if len(s.Bets.Answer.Places) == 0 {
		words := waiting(s, "no place is worth a bet")
		if len(list) > 0 && !s.Bets.Known {
			words = "better places " + words
		}
		lines = append(lines, wrapped(s, style.Faint, words, width)...)
	}
	room := max(1, height-len(lines)-len(under))
	from := 0
	for i, p := range list {
		if s.Chosen != nil && view.SameFit(p.Fit, *s.Chosen) {
			from = max(0, i-room+1)
		}
	}
	for _, p := range list[from:min(len(list), from+room)] {
		sign, role := " ", style.Text
		if s.Chosen != nil && view.SameFit(p.Fit, *s.Chosen) {
			sign, role = "▸", style.Selected
		}
		mean := "    -" // what is left if it fails has not been looked for
		if len(s.Bets.Answer.Places) > 0 {
			mean = fmt.Sprintf("%5.1f", p.Expected)
		}
		text := fmt.Sprintf("%s%5s %5.2f %s", sign, shortOdds(p.Odds), p.Carat, mean)
		if width >= fullList {
			text += "  " + sizeWords(p.Candidate) + ", " + faceWords(p.Face)
		} else {
			text += " " + shortSize(p.Candidate)
		}
		lines = append(lines, s.Style.Paint(role, view.Fit(text, width)))
	}
	return append(lines, under...)
}

// placesHead stands above the columns of the places.
const placesHead = "  odds    ct  mean size"

// shortOdds is a chance in at most four cells.
func shortOdds(p float64) string {
	switch {
	case p > 0 && p < 0.005:
		return "<1%"
	case p < 1 && p >= 0.995:
		return ">99%"
	}
	return fmt.Sprintf("%.0f%%", 100*p)
}

// waiting says that the work goes on, or what came of it.
func waiting(s *view.State, nothing string) string {
	switch b := s.Bets; {
	case b.Err != nil:
		return "not known: " + planner.Visible(b.Err.Error())
	case s.Searching && !s.Plan.Settled || !s.Current():
		return "when the best fit is known…"
	case !b.Known:
		return "weighing the odds…"
	}
	return nothing
}

// betDetails are the figures of the chosen fit as a bet.
func (v *View) betDetails(s *view.State, width int) []string {
	if s.Chosen == nil {
		return nil
	}
	p := s.Bet(*s.Chosen)
	if p == nil {
		return []string{"", s.Style.Paint(style.Faint, "the odds of the chosen fit are not known yet")}
	}
	out := append([]string{""}, wrapped(s, style.Selected, sizeWords(p.Candidate)+", "+faceWords(p.Face), width)...)
	out = append(out, wrapped(s, oddsRole(p.Odds), oddsWords(*p), width)...)
	if moved := p.MovedWords(); moved != "" {
		out = append(out, wrapped(s, style.Good, moved+" from the plan's own place", width)...)
	}
	best := s.Bets.Answer.BestSure
	switch {
	case p.Sure():
	case p.IfNot != nil:
		out = append(
			out,
			wrapped(
				s,
				style.Text,
				fmt.Sprintf("If it fails, %s of %.2f ct is left for certain.", sizeWords(p.IfNot.Candidate), p.IfNot.Carat),
				width,
			)...)
	case s.Bets.Known:
		out = append(out, wrapped(s, style.Text, "If it fails nothing is left for certain.", width)...)
	}
	switch {
	case p.Sure() || best == 0 || !s.Bets.Known:
	case p.PaysAbove == 0:
		out = append(out, wrapped(s, style.Good, "Nothing to lose: try it first.", width)...)
	default:
		out = append(
			out,
			wrapped(
				s,
				style.Text,
				fmt.Sprintf("Pays from odds of %s, against a sure %.2f ct.", odds.Percent(p.PaysAbove), best),
				width,
			)...)
	}
	// How far the ranges that the odds are made of can be trusted.
	if held := s.Folder.Record.RangesText(); held != "" && !p.Sure() {
		out = append(out, wrapped(s, style.Faint, strings.ToUpper(held[:1])+held[1:]+".", width)...)
	}
	return out
}

func oddsRole(p float64) style.Role {
	switch {
	case p == 1:
		return style.Good
	case p < 0.5:
		return style.Bad
	}
	return style.Warn
}

// oddsWords are a fit's odds factor by factor: "odds 88%: P1 97%, C1 91%".
func oddsWords(p odds.Place) string {
	if p.Sure() {
		return "sure, however the marks turn out"
	}
	return "odds " + odds.Percent(p.Odds) + ": " + p.Because()
}

// oddsLine is what is said of a fit's odds among its figures; nothing where every mark
// is sure.
func oddsLine(s *view.State) (string, style.Role, bool) {
	if !s.Unsure() || s.Chosen == nil {
		return "", style.Text, false
	}
	if p := s.Bet(*s.Chosen); p != nil {
		return oddsWords(*p), oddsRole(p.Odds), true
	}
	return "odds not known yet", style.Faint, true
}

// lookLines say what is worth looking at first.
func (v *View) lookLines(s *view.State, width int) []string {
	a := s.Bets.Answer
	lines := []string{s.Style.Paint(style.Key, view.Fit("Look first", width))}
	if len(a.LookFirst) == 0 || !s.Bets.Known {
		lines = append(lines, s.Style.Paint(style.Faint, waiting(s, "there is nothing to choose between")))
	}
	if s.Bets.Known && a.KnowingAll < odds.LeastGain {
		return append(lines, wrapped(s, style.Text, "Knowing more changes nothing: cut.", width)...)
	}
	for _, words := range odds.LookWords(a.LookFirst, placeName) {
		lines = append(append(lines, wrapped(s, style.Text, words, width)...), "")
	}
	if len(a.LookFirst) > 1 {
		lines = append(
			lines,
			wrapped(s, style.Text, fmt.Sprintf("To know all of them is worth %.1f ct.", a.KnowingAll), width)...)
	}
	return append(lines, v.windowLines(s, width)...)
}

// windowLines say how deep a window may go before it spoils the chosen fit.
func (v *View) windowLines(s *view.State, width int) []string {
	if s.Chosen == nil {
		return nil
	}
	p := s.Bet(*s.Chosen)
	if p == nil {
		return nil
	}
	var lines []string
	for _, l := range p.Limits {
		if l.What == odds.Depth && !l.Always && !math.IsNaN(l.UpTo) {
			lines = append(lines, wrapped(s, style.Warn, fmt.Sprintf("A window at %s deeper than %.2f mm spoils the chosen %s.",
				planner.Visible(l.ID), l.UpTo, view.Size(p.Candidate)), width)...)
		}
	}
	return lines
}

func placeName(p *odds.Place) string {
	if p == nil {
		return "nothing"
	}
	return fmt.Sprintf("%s (%.2f ct)", sizeWords(p.Candidate), p.Carat)
}

// costLines say what each mark costs, the dearest as it is found.
func (v *View) costLines(s *view.State, width int) []string {
	lines := []string{s.Style.Paint(style.Key, view.Fit("Gain of the best stone, ct", width))}
	for _, c := range s.Bets.Costs {
		words := c.Words()
		if !c.Decided {
			words = fmt.Sprintf("%.1f+", c.AtLeast)
		}
		role := style.Text
		if c.AtLeast < odds.LeastGain {
			role = style.Faint
		}
		lines = append(lines, s.Style.Paint(role, view.Fit(fmt.Sprintf("%6s %s", words, c.What), width)))
	}
	switch b := s.Bets; {
	case b.CostsKnown:
		lines = append(lines, wrapped(s, style.Faint, "Costs do not add up.", width)...)
	case !b.CostsWanted:
		lines = append(lines, wrapped(s, style.Faint, "Something was changed since: c finds them again.", width)...)
	case s.Searching && !s.Plan.Settled || !s.Current() || b.Wanted && !b.Known:
		lines = append(lines, wrapped(s, style.Faint, "after what is worked on now…", width)...)
	default:
		lines = append(lines, wrapped(s, style.Faint, "planning without each…  + is at least", width)...)
	}
	return lines
}
