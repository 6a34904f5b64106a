package fits

import (
	"fmt"
	"strings"

	"github.com/charmbracelet/x/ansi"

	"cabwright/planner"
	"cabwright/planner/search"
	"cabwright/ui/style"
	"cabwright/ui/view"
)

// wrap breaks text into lines of at most width cells, at spaces where it can.
func wrap(text string, width int) []string {
	if width <= 0 {
		return nil
	}
	return strings.Split(ansi.Wrap(text, width, ""), "\n")
}

// refusalLine is one line of the list of what does not fit: a size, or, under it
// when they are unfolded, one of its variants.
type refusalLine struct {
	of      search.RuledOut
	variant bool
	fits    bool // the size fits in another way
	more    int  // variants folded away
}

// refused returns the sizes that do not fit, made anew only for a newer list. The
// line that is looked at stays the same one, wherever it stands then.
func (v *View) refused(s *view.State) []refusal {
	k := refusedKey{s.Plans(), v.filter}
	if v.refusedOf == k {
		return v.refusedAll
	}
	was, looking := v.lookedAtOf(v.refusedAll)
	v.refusedOf, v.refusedAll = k, refusals(s.Plan, v.filter)
	if looking {
		v.at = whereIs(v.linesOf(v.refusedAll), was.Candidate, v.at)
	}
	return v.refusedAll
}

// whereIs returns the line of a candidate, or of its size, else the line it was.
func whereIs(lines []refusalLine, c search.Candidate, was int) int {
	for i, l := range lines {
		if view.SameCut(l.of.Candidate, c) {
			return i
		}
	}
	for i, l := range lines {
		if sizeAlone(l.of.Candidate) == sizeAlone(c) {
			return i
		}
	}
	return was
}

// refusedKey is what the list of refusals was made from.
type refusedKey struct {
	plans  int
	filter filter
}

// refusalLines is the list of what does not fit as it stands on the screen.
func (v *View) refusalLines(s *view.State) []refusalLine { return v.linesOf(v.refused(s)) }

func (v *View) linesOf(all []refusal) []refusalLine {
	var out []refusalLine
	for _, r := range all {
		n := r.nearest()
		if !v.unfoldedRefused[sizeAlone(n.Candidate)] {
			out = append(out, refusalLine{of: n, fits: r.fits, more: len(r.variants) - 1})
			continue
		}
		for i, x := range r.variants {
			out = append(out, refusalLine{of: x, variant: i > 0, fits: r.fits})
		}
	}
	return out
}

// unfoldRefused shows the variants of the size that the list stands at, or folds
// them away.
func (v *View) unfoldRefused(s *view.State) {
	r, ok := v.lookedAt(s)
	if !ok {
		return
	}
	k := sizeAlone(r.Candidate)
	v.unfoldedRefused[k] = !v.unfoldedRefused[k]
	for i, l := range v.refusalLines(s) {
		if sizeAlone(l.of.Candidate) == k {
			v.at = i
			return
		}
	}
}

// reasons lists what does not fit, or is not decided, and says of the line it is
// at what is in the way and what would help.
func (v *View) reasons(s *view.State, width, height int) []string {
	lines := v.refusalLines(s)
	v.at = max(0, min(v.at, len(lines)-1))
	out := []string{
		s.Style.Paint(style.Faint, view.Fit(reasonHeading(v.refused(s), width), width)),
		s.Style.Paint(style.Faint, view.Fit(reasonHead(width), width)),
	}
	rows := v.reasonRows(height)
	v.topRefused = scrolled(v.topRefused, v.at, len(lines), rows)
	for i := v.topRefused; i < len(lines) && i < v.topRefused+rows; i++ {
		out = append(out, reasonRow(s, lines[i], i == v.at, width))
	}
	for len(out) < rows+listHead {
		out = append(out, "")
	}
	if len(lines) == 0 {
		return append(out, wrapped(s, style.Text, "Nothing is ruled out here.", width)...)
	}
	return append(out, v.explanation(s, width)...)
}

// reasonRows is how many rows the list of refusals has above its explanation.
func (v *View) reasonRows(height int) int {
	const explained = 16 // lines that are enough for most
	return max(1, (height-listHead)*2/5, height-listHead-explained)
}

// reasonHeading counts what does not fit and what is not decided, in few words where
// the list is narrow.
func reasonHeading(all []refusal, width int) string {
	no, open, other := 0, 0, 0
	for _, r := range all {
		switch {
		case r.fits:
			other++
		case r.nearest().Verdict == search.CannotFit:
			no++
		default:
			open++
		}
	}
	if full := width >= fullList; !full && open > 0 {
		return fmt.Sprintf("%d can't fit, %d are open", no, open)
	}
	out := fmt.Sprintf("%d sizes cannot fit", no)
	if open > 0 {
		out += fmt.Sprintf(", %d not decided", open)
	}
	if other > 0 {
		out += fmt.Sprintf(", %d in part", other)
	}
	return out
}

// reasonRow is one line: the size, and what is in the way by how much.
func reasonRow(s *view.State, l refusalLine, chosen bool, width int) string {
	mark, role := " ", style.Text
	switch {
	case chosen:
		mark, role = "▸", style.Selected
	case l.fits:
		role = style.Faint
	}
	text := mark + reasonName(l, width) + fmt.Sprintf(" %5s %s", lackText(l.of), inTheWay(l.of, width))
	if l.more > 0 && width >= fullList {
		text = view.Fit(text, width-4) + fmt.Sprintf(" +%d", l.more)
	}
	return s.Style.Paint(role, view.Fit(text, width))
}

// reasonHead names the columns of the list of refusals.
func reasonHead(width int) string {
	if width < fullList {
		return fmt.Sprintf(" %-5s %-6s %5s %s", "size", "shape", "short", "by")
	}
	return fmt.Sprintf(" %-9s %-11s %5s %s", "size", "outline", "short", "in the way")
}

// reasonName is the first columns of a line: the size, or what sets a variant apart.
func reasonName(l refusalLine, width int) string {
	c := l.of.Candidate
	switch {
	case l.variant && width < fullList:
		return view.Fit(fmt.Sprintf(" · %s %s", view.FaceUp(c), view.Sides(c)), 12)
	case l.variant:
		return view.Fit(fmt.Sprintf(" · %s %s %s", view.FaceUp(c), view.Sides(c), planner.Visible(c.DomeStyle)), 21)
	case width < fullList:
		return fmt.Sprintf("%-5s %-6s", shortSize(c), shortShape(c))
	}
	return fmt.Sprintf("%-9s %-11s", view.Size(c), view.Shape(c))
}

// lackText is by how many mm a candidate misses, with a sign before it where that is
// only known to be the least.
func lackText(r search.RuledOut) string {
	switch l := lacks(r); {
	case l < 0:
		return "?"
	case len(r.Short) > 0:
		return fmt.Sprintf("%.2f", up2(l))
	case l < 0.005: // nothing in hundredths
		return ""
	default:
		return fmt.Sprintf("≥%.2f", down2(l))
	}
}

// inTheWay names what is in the way, the most first.
func inTheWay(r search.RuledOut, width int) string {
	if len(r.Short) == 0 {
		switch {
		case len(r.LimitedBy) == 0 && width < fullList:
			return "open"
		case len(r.LimitedBy) == 0:
			return "not decided"
		}
		return limitWords(r.LimitedBy, "")
	}
	names := make([]string, len(r.Short))
	for i, x := range r.Short {
		names[i] = x.ID
	}
	return limitWords(names, "")
}

// explanation says why the candidate looked at does not fit, and what would make it.
func (v *View) explanation(s *view.State, width int) []string {
	r, ok := v.lookedAt(s)
	if !ok {
		return nil
	}
	r = v.known(s, r)
	out := []string{s.Style.Paint(style.Selected, view.Fit(sizeWords(r.Candidate), width))}
	out = append(out, wrapped(s, style.Text, variantWords(r.Candidate), width)...)
	out = append(out, wrapped(s, style.Text, verdictWords(r), width)...)
	if len(r.Short) > 0 {
		out = append(out, wrapped(s, style.Bad, "Nearest known: "+shortWords(r)+".", width)...)
	} else if len(r.LimitedBy) > 0 {
		out = append(out, wrapped(s, style.Bad, "In the way: "+shortWords(r)+".", width)...)
	}
	if s.PlanOf == s.Revision() && !v.isAbout(s, r) {
		return out
	}
	return append(out, v.remedyLines(s, width)...)
}

// known returns a candidate with what has been worked out about it.
func (v *View) known(s *view.State, r search.RuledOut) search.RuledOut {
	if v.isAbout(s, r) {
		return v.why.answer.of
	}
	return r
}

// remedyLines says what would make the candidate fit.
func (v *View) remedyLines(s *view.State, width int) []string {
	a := v.why.answer
	switch {
	case s.PlanOf != s.Revision():
		return wrapped(s, style.Faint, "Being checked again after the edit.", width)
	case !a.done && v.why.asked:
		return wrapped(s, style.Faint, "Working out what would make it fit…", width)
	case !a.done:
		return nil
	case len(a.remedies) == 0 && len(a.of.Short) > 0:
		return wrapped(s, style.Text, "No change of one thing makes it fit there.", width)
	case len(a.remedies) == 0:
		return nil
	}
	out := []string{s.Style.Paint(style.Key, view.Fit("It would fit with one of:", width))}
	for _, r := range a.remedies {
		for i, l := range wrap(r, width-2) {
			lead := "  "
			if i == 0 {
				lead = "• "
			}
			out = append(out, s.Style.Paint(style.Text, lead+l))
		}
	}
	return out
}

// impossible is the candidate looked at as a fit to draw, where a pose is known for
// it: what it breaks is drawn so.
func (v *View) impossible(s *view.State) *search.Fit {
	r, ok := v.lookedAt(s)
	if !ok {
		return nil
	}
	r = v.known(s, r)
	if len(r.Short) == 0 {
		return nil
	}
	f := &search.Fit{Candidate: r.Candidate, Pose: r.Pose, Clearance: r.Clearance}
	for _, x := range r.Short {
		f.LimitedBy = append(f.LimitedBy, x.ID)
	}
	return f
}
