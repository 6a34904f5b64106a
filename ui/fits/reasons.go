package fits

import (
	"fmt"
	"strings"

	"github.com/charmbracelet/x/ansi"

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

// reasons lists what does not fit, or is not decided, and says of the row it is
// at what rules it out.
func (v *View) reasons(s *view.State, width, height int) []string {
	refused := v.filter.refused(s.Plan)
	at := min(v.at, len(refused)-1)
	undecided := 0
	for _, r := range refused {
		if r.Verdict == search.Undecided {
			undecided++
		}
	}
	heading := fmt.Sprintf("%d cannot fit", len(refused)-undecided)
	if undecided > 0 {
		heading += fmt.Sprintf(", %d not decided", undecided)
	}
	lines := []string{s.Style.Paint(style.Faint, view.Fit(heading, width))}
	rows := listRows(height)
	from := first(at, len(refused), rows)
	for i := from; i < len(refused) && i < from+rows; i++ {
		lines = append(lines, reasonRow(s, refused[i], i == at, width))
	}
	for len(lines) < rows+1 {
		lines = append(lines, "")
	}
	if at < 0 {
		return append(lines, wrapped(s, style.Text, "Nothing is ruled out here.", width)...)
	}
	return append(lines, wrapped(s, style.Text, reasonWords(refused[at]), width)...)
}

// reasonRow is one line: size, outline, face and sides, and what is in the way.
func reasonRow(s *view.State, r search.RuledOut, chosen bool, width int) string {
	mark, role := " ", style.Text
	if chosen {
		mark, role = ">", style.Selected
	}
	sign := "x"
	if r.Verdict == search.Undecided {
		sign = "?"
	}
	o, by := r.Solid.Outline, ""
	if len(r.LimitedBy) > 0 {
		by = limitWords(r.LimitedBy, "")
	}
	text := fmt.Sprintf("%s%s %-5s %-9s %s %s", mark, sign, fmt.Sprintf("%.0fx%.0f", o.Length, o.Width),
		shapeWord(r.Candidate), shortFace(r.Candidate), by)
	return s.Style.Paint(role, view.Fit(text, width))
}

// unbounded is the clearance, in mm, above which a bound says nothing: no stone
// file holds a rough so large.
const unbounded = 1000

// reasonWords says what rules a candidate out, and by how much at least.
func reasonWords(r search.RuledOut) string {
	what := fmt.Sprintf("%s, %s, %s, %s: ", sizeWords(r.Candidate), faceWords(r.Face), sidesWords(r.Candidate), formWords(r.Candidate))
	switch {
	case r.Verdict == search.Undecided && r.Bound > unbounded:
		return what + "not decided yet."
	case r.Verdict == search.Undecided:
		return what + fmt.Sprintf("not decided. No place gives more than %.2f mm clearance.", r.Bound)
	}
	return what + fmt.Sprintf("short by at least %.2f mm wherever it lies. In the way: %s.", -r.Bound, limitWords(r.LimitedBy, ""))
}
