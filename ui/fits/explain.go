package fits

import (
	"strings"

	"cabwright/ui/view"
)

// Explained says what the line of the list is that the cursor stands at: the chosen
// fit and what holds it, or what is in the way of what does not fit.
func (v *View) Explained(s *view.State, _ float64) string {
	switch {
	case v.mode == bets:
		return ""
	case v.mode == reasons:
		r, ok := v.lookedAt(s)
		if !ok {
			return ""
		}
		why := shortWords(v.known(s, r))
		return view.Sentence(strings.ToUpper(why[:1])+why[1:], sizeWords(r.Candidate)+", "+variantWords(r.Candidate))
	case s.Chosen == nil:
		return ""
	}
	f := *s.Chosen
	held := ""
	if by := limitSentence(s.Stone(), f.LimitedBy, skinPart(s.Scene().Nearest, rough(s), s.Stone(), f)); by != "" {
		held = "Held by " + by
	}
	proved := ""
	if v.hand.found == nil {
		proved = strings.TrimPrefix(provedWords(f, s.Plan.Tolerance), "fits; ")
	}
	what := sizeWords(f.Candidate) + ", " + faceWords(f.Face) + ", " + sidesWords(f.Candidate)
	return view.Sentence(held, proved, what, formWords(f.Candidate))
}
