package fits

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"cabwright/planner"
	"cabwright/planner/search"
	"cabwright/ui/view"
)

// refusal is one size that does not fit, or is not decided: all that was asked
// about on one outline, the nearest to fitting first.
type refusal struct {
	variants []search.RuledOut
	fits     bool // in another way the size does fit
}

// nearest is the variant that comes nearest to fitting.
func (r refusal) nearest() search.RuledOut { return r.variants[0] }

// lacks returns by how many mm a candidate misses, as far as that is known: at the
// best pose known for it, or else at least; below 0 when nothing is known.
func lacks(r search.RuledOut) float64 {
	switch {
	case len(r.Short) > 0:
		return -r.Clearance
	case r.Verdict == search.CannotFit:
		return -r.Bound
	}
	return -1
}

// sizeAlone tells sizes apart whichever face is up.
func sizeAlone(c search.Candidate) size {
	k := sizeOf(c)
	k.face = ""
	return k
}

// refusals groups the candidates that pass a filter and do not fit: one entry a
// size, those that fit in no way before those that fit in another, what is proved
// before what is not decided, and the nearest to fitting first.
func refusals(plan search.Plan, f filter) []refusal {
	fit := map[size]bool{}
	for _, x := range plan.Fits {
		fit[sizeAlone(x.Candidate)] = true
	}
	at := map[size]int{}
	var out []refusal
	for _, x := range plan.RuledOut {
		if !f.passes(x.Candidate) {
			continue
		}
		k := sizeAlone(x.Candidate)
		i, there := at[k]
		if !there {
			i = len(out)
			at[k] = i
			out = append(out, refusal{fits: fit[k]})
		}
		out[i].variants = append(out[i].variants, x)
	}
	for _, r := range out {
		slices.SortStableFunc(r.variants, nearer)
	}
	slices.SortStableFunc(out, func(a, b refusal) int {
		if a.fits != b.fits {
			return order(a.fits, b.fits)
		}
		return nearer(a.nearest(), b.nearest())
	})
	return out
}

// nearer orders candidates: what is proved before what is not decided, those of
// which it is known where they come nearest before the others, these by what they
// lack there, and the others from the lightest: a proof that stops as soon as
// nothing fits says little of how far off it is.
func nearer(a, b search.RuledOut) int {
	unsure := func(r search.RuledOut) bool { return r.Verdict != search.CannotFit && len(r.Short) == 0 }
	first := cmp.Or(order(unsure(a), unsure(b)), order(len(a.Short) == 0, len(b.Short) == 0))
	if first == 0 && len(a.Short) > 0 {
		first = cmp.Compare(lacks(a), lacks(b))
	}
	return cmp.Or(first, cmp.Compare(a.Solid.Volume(), b.Solid.Volume()))
}

// order puts false before true.
func order(a, b bool) int {
	switch {
	case a == b:
		return 0
	case b:
		return -1
	}
	return 1
}

// bigger returns the sizes that would be heavier than a fit and fit in no way,
// the nearest to fitting first.
func bigger(all []refusal, than search.Fit) []refusal {
	var out []refusal
	for _, r := range all {
		if !r.fits && r.nearest().Solid.Volume() > than.Volume {
			out = append(out, r)
		}
	}
	return out
}

// shortWords says by how much each obstacle is in the way: "P1 0.41, P2 0.22 mm
// short" at the best pose known, else by how much at least, else what is known.
func shortWords(r search.RuledOut) string {
	if len(r.Short) > 0 {
		out := make([]string, len(r.Short))
		for i, s := range r.Short {
			out[i] = fmt.Sprintf("%s %.2f", planner.Visible(s.ID), up2(s.MM))
		}
		return strings.Join(out, ", ") + " mm short"
	}
	by := ""
	if len(r.LimitedBy) > 0 {
		by = limitWords(r.LimitedBy, "") + ", "
	}
	switch {
	case r.Verdict != search.CannotFit:
		return by + "not decided"
	case -r.Bound < 0.005: // nothing in hundredths
		return by + "just short"
	}
	return by + fmt.Sprintf("at least %.2f mm short", down2(-r.Bound))
}

// up2 and down2 round to hundredths of a mm.
func up2(v float64) float64   { return math.Ceil(v*100-1e-6) / 100 }
func down2(v float64) float64 { return math.Floor(v*100+1e-6) / 100 }

// verdictWords says how far it is decided that a candidate does not fit.
func verdictWords(r search.RuledOut) string {
	switch {
	case r.Verdict == search.CannotFit:
		return "Proved: no pose fits."
	case r.Bound > unbounded:
		return "Not decided yet."
	default:
		return fmt.Sprintf("Not decided: no pose has more than %.2f mm to spare.", up2(r.Bound))
	}
}

// unbounded is the clearance, in mm, above which a bound says nothing: no stone
// file holds a rough so large.
const unbounded = 1000

// variantWords names a variant of a size: "top up, double-sided, low dome, slight
// back".
func variantWords(c search.Candidate) string {
	return view.FaceUp(c) + " up, " + sidesWords(c) + ", " + formWords(c)
}
