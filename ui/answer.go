package ui

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/charmbracelet/bubbles/progress"
	"github.com/charmbracelet/x/ansi"

	"cabwright/planner"
	"cabwright/planner/search"
	"cabwright/ui/style"
	"cabwright/ui/view"
)

// phrase is a part of the answer line. Where there is no room for all of them,
// those with the highest rank are left out first.
type phrase struct {
	role  style.Role
	text  string
	rank  int
	tight bool // goes on from what stands before it: no free cells between
}

func (p phrase) gap() int {
	if p.tight {
		return 0
	}
	return 2
}

// answerLine is the line under the title in every view: the best fit now, what
// the last edit changed, whether anything heavier can still turn up, and on the
// right how far the search is.
func (m *Model) answerLine() string {
	phrases := m.answer()
	least := ""
	for _, p := range phrases {
		if p.rank <= 1 {
			least += strings.Repeat(" ", p.gap()) + p.text
		}
	}
	right := m.progressLine(m.width - ansi.StringWidth(least))
	room := m.width - ansi.StringWidth(right) - 2
	return view.Fit(joined(m.s.Style, phrases, room), m.width-ansi.StringWidth(right)) + right
}

// joined puts phrases beside each other, as many as find room.
func joined(st *style.Sheet, phrases []phrase, room int) string {
	for {
		width, last := 0, 0
		for i, p := range phrases {
			width += ansi.StringWidth(p.text)
			if i > 0 {
				width += p.gap()
			}
			if p.rank >= phrases[last].rank {
				last = i
			}
		}
		if width <= room || len(phrases) < 2 {
			break
		}
		phrases = slices.Delete(slices.Clone(phrases), last, last+1)
	}
	var out strings.Builder
	for i, p := range phrases {
		if i > 0 {
			out.WriteString(strings.Repeat(" ", p.gap()))
		}
		out.WriteString(st.Paint(p.role, p.text))
	}
	return out.String()
}

// answer is what is known now, in the order it is read.
func (m *Model) answer() []phrase {
	s := m.s
	switch best := heaviest(s.Plan); {
	case len(s.Mistakes) > 0:
		return m.noStone()
	case s.RoughErr != nil:
		return []phrase{{style.Faint, "no fits yet: the stone is not fully described", 0, false}}
	case s.PlanOf >= 0 && s.PlanOf != s.Revision() && best != nil:
		return m.checkedAgain(best)
	case best == nil && (s.Searching || s.PlanOf < 0 || s.PlanOf != s.Revision()):
		return []phrase{{style.Faint, "no fit found yet", 0, false}}
	case best == nil:
		return m.nothingFits()
	default:
		return m.bestNow(best)
	}
}

// noStone is the answer while something is wrong with the stone.
func (m *Model) noStone() []phrase {
	out := []phrase{{style.Bad, "no fits until " + view.ReadingNames(m.s.Mistakes[0].Place) + " is put right", 0, false}}
	if _, edited := m.s.History().Before(); edited {
		out = append(out, phrase{style.Faint, m.undoHint(), 1, false})
	}
	return out
}

// checkedAgain is the answer while the list on the screen is that of the stone
// before an edit.
func (m *Model) checkedAgain(old *search.Fit) []phrase {
	what := "the edit"
	if ref, ok := m.reference(); ok {
		what = namedChange(ref, m.s.Stone(), what)
	}
	return []phrase{
		{style.Warn, "checking again", 0, false},
		{style.Text, fmt.Sprintf("best was %.2f ct before %s", old.Carat, what), 1, false},
		{style.Faint, view.Size(old.Candidate) + " " + view.Shape(old.Candidate), 3, false},
		{style.Faint, m.undoHint(), 2, false},
	}
}

func (m *Model) nothingFits() []phrase {
	out := []phrase{{style.Warn, "nothing fits", 0, false}}
	if open := m.s.Plan.HeaviestOpen; open > 0 {
		out = []phrase{
			{style.Warn, "nothing found that fits", 0, false},
			{style.Faint, fmt.Sprintf("up to %.2f ct not ruled out", open), 2, false},
		}
	}
	if text := m.whatChanged(0); text != "" {
		out = append(out, phrase{style.Warn, text, 1, false})
	}
	return out
}

// bestNow is the answer of the present stone.
func (m *Model) bestNow(best *search.Fit) []phrase {
	s, c := m.s, best.Candidate
	head, change := "best", m.whatChanged(best.Carat)
	switch {
	case s.Searching && !s.Plan.Settled:
		head = "best so far"
	case change != "":
		head = "best now"
	}
	head = fmt.Sprintf("%s %.2f ct", head, best.Carat)
	out := []phrase{{role: style.Good, text: head}}
	if change != "" {
		out = append(out, phrase{style.Warn, ", " + change, 1, true})
	}
	out = append(out,
		phrase{style.Text, view.Size(c) + " " + view.Shape(c), 2, false},
		phrase{style.Text, fmt.Sprintf("%s up, %s-sided", view.FaceUp(c), view.Sides(c)), 4, false},
		phrase{spareRole(best.Clearance), "spare " + view.Spare(best.Clearance), 5, false},
		phrase{style.Faint, m.heavierWords(best), 3, false})
	if r := s.Rough; r != nil && s.RoughOf == s.Revision() && best.Volume > 0 {
		if lost, _, ok := planner.Lost(best.Carat, s.Stone(), best.Carat*r.Volume()/best.Volume); ok {
			out = append(out, phrase{style.Faint, fmt.Sprintf("%.0f%% of the rough", 100*(1-lost)), 6, false})
		}
	}
	return slices.DeleteFunc(out, func(p phrase) bool { return p.text == "" })
}

func spareRole(clearance float64) style.Role {
	if clearance < view.LowSpare {
		return style.Warn
	}
	return style.Text
}

// heavierWords says whether anything heavier than the best can still turn up.
// What is proved is about the sizes that are asked about; of a freeform it is
// never proved that none is heavier.
func (m *Model) heavierWords(best *search.Fit) string {
	p := m.s.Plan
	open := p.HeaviestOpen
	const hundredth = 0.005 // carats, as they are shown
	switch {
	case p.Stage == "" && m.s.Searching:
		return "heavier ones may still turn up"
	case open > best.Carat+hundredth && open >= m.roughCarat():
		return "heavier ones may still turn up" // the rough's own weight says as much
	case open > best.Carat+hundredth:
		return fmt.Sprintf("up to %.2f ct not ruled out", open)
	case p.Settled, open == 0 && p.Stopped == search.Complete:
		return "no heavier size fits: proved"
	case p.Stage == "":
		return ""
	default:
		return "heavier sizes ruled out"
	}
}

// roughCarat is what the rough weighs at most as it is drawn, in carats; infinite while that
// is not known.
func (m *Model) roughCarat() float64 {
	r := m.s.Rough
	if r == nil || m.s.RoughOf != m.s.Revision() {
		return math.Inf(1)
	}
	return planner.Carat(r.Volume(), planner.GravityOf(m.s.Stone(), m.s.Presets, r.Volume()).High)
}

// reference returns the stone that the answer is compared with: the one that an
// undo brings back, or, after an undo, the one that was undone.
func (m *Model) reference() (planner.Stone, bool) {
	if m.s.Undone() {
		return m.before, true
	}
	return m.s.History().Before()
}

// undoHint is the key that takes the last change back.
func (m *Model) undoHint() string {
	if m.s.Undone() {
		return "(U redo)"
	}
	return "(u undo)"
}

// whatChanged says what the last edit did to the weight of the best fit, which
// is carat now; empty when there is nothing to compare with.
func (m *Model) whatChanged(carat float64) string {
	ref, ok := m.reference()
	if !ok || alike(ref, m.s.Stone()) {
		return ""
	}
	before, ok := m.outcomes.of(ref)
	if !ok || !before.Settled && !ended(before) {
		return "" // what an unfinished search had found says nothing of the edit
	}
	was := 0.0
	if f := heaviest(before); f != nil {
		was = f.Carat
	}
	what := namedChange(ref, m.s.Stone(), "the edit")
	if m.s.Undone() {
		what = "undoing " + what
	}
	if m.s.Searching && !m.s.Plan.Settled {
		return fmt.Sprintf("was %.2f before %s %s", was, what, m.undoHint())
	}
	switch change := carat - was; {
	case change <= -0.005: // less than what is shown is no change
		return fmt.Sprintf("was %.2f: %s took %.2f %s", was, what, -change, m.undoHint())
	case change >= 0.005:
		return fmt.Sprintf("was %.2f: %s gave %.2f %s", was, what, change, m.undoHint())
	default:
		return fmt.Sprintf("as before %s", what)
	}
}

// namedChange names the one thing that two stones differ in, or all as otherwise.
func namedChange(before, after planner.Stone, otherwise string) string {
	if changed := planner.Changed(before, after); len(changed) == 1 {
		return planner.Visible(changed[0])
	}
	return otherwise
}

// The widths of the progress bar.
const barWide, barNarrow = 14, 6

// progressLine is the right end of the answer line, in at most so many cells where
// it can be.
func (m *Model) progressLine(room int) string {
	s := m.s
	if !s.Searching {
		text := m.progress()
		if ansi.StringWidth(text)+2 > room {
			text = "" // the answer matters more
		}
		return s.Style.Paint(style.Faint, text)
	}
	stage := s.Plan.Stage
	if stage == "" || s.PlanOf != s.Revision() {
		stage = "searching"
	}
	figures := fmt.Sprintf("%3.0f%% %ds", 100*s.Progress, int(s.SearchTime.Seconds()))
	const gaps = 4 // before the bar, and before the whole
	left := room - gaps - ansi.StringWidth(figures)
	figures = s.Style.Paint(style.Faint, figures)
	named := s.Style.Paint(style.Faint, stage+" ")
	switch wide := ansi.StringWidth(stage); {
	case m.width >= 100 && left >= wide+barWide:
		return named + bar(s, barWide) + figures
	case left >= wide+barNarrow:
		return named + bar(s, barNarrow) + figures
	case left >= barNarrow:
		return bar(s, barNarrow) + figures
	}
	return figures
}

// bar is the progress of the search in so many cells. The library draws it; signs
// for terminals without blocks are put in with all others, at the end.
func bar(s *view.State, cells int) string {
	full, profile := s.Style.Termenv(style.Key)
	empty, _ := s.Style.Termenv(style.Faint)
	b := progress.New(progress.WithWidth(cells), progress.WithoutPercentage(), progress.WithColorProfile(profile))
	b.FullColor, b.EmptyColor = full, empty
	return b.ViewAs(s.Progress)
}
