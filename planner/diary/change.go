package diary

import (
	"fmt"
	"strings"

	"cabwright/geometry/solid"
	"cabwright/planner"
	"cabwright/planner/search"
)

// Change is what a step did to the plan: the best fit before and after, and what is
// in the way of the one before.
type Change struct {
	Before, After *search.Fit // nil: none was known, or nothing fits
	By            []string    // marks and "skin" that the fit before no longer keeps clear of; nil: it still does
}

// Measurer tells the clearance of a solid at a pose in the stone as it is now;
// search.Site is one.
type Measurer interface {
	Clearance(body solid.Cabochon, pose search.Pose) search.Reading
}

// Compare says what became of the fit that was planned. now may be nil: then it is
// not asked what is in its way.
func Compare(before, after *search.Fit, now Measurer) Change {
	c := Change{Before: before, After: after}
	if before == nil || now == nil || before.Pose.Axes.W.Norm() == 0 {
		return c
	}
	if reading := now.Clearance(before.Solid, before.Pose); reading.Clearance < 0 {
		c.By = reading.LimitedBy
	}
	return c
}

// Lost is by how many carats the best fit is lighter than before; negative when it
// is heavier. false: there was none before.
func (c Change) Lost() (carats float64, known bool) {
	if c.Before == nil {
		return 0, false
	}
	if c.After == nil {
		return c.Before.Carat, true
	}
	return c.Before.Carat - c.After.Carat, true
}

// leastCarats is the difference of weight that is worth a word: a hundredth is
// what is shown.
const leastCarats = 0.005

// Text says it in a sentence. name gives a fit's name.
func (c Change) Text(name func(search.Fit) string) string {
	var b strings.Builder
	switch {
	case c.After == nil && c.Before == nil:
		return "Nothing fits."
	case c.After == nil:
		fmt.Fprintf(&b, "Nothing fits any more; the best was %.2f ct, %s", c.Before.Carat, name(*c.Before))
	case c.Before == nil:
		return fmt.Sprintf("Best now %.2f ct, %s.", c.After.Carat, name(*c.After))
	default:
		fmt.Fprintf(&b, "Best now %.2f ct, %s; was %.2f, %s", c.After.Carat, name(*c.After), c.Before.Carat, name(*c.Before))
	}
	switch lost, _ := c.Lost(); {
	case lost >= leastCarats:
		fmt.Fprintf(&b, ": %.2f ct lost", lost)
		if len(c.By) > 0 {
			fmt.Fprintf(&b, ", taken by %s", planner.Visible(strings.Join(c.By, " and ")))
		}
	case lost <= -leastCarats:
		fmt.Fprintf(&b, ": %.2f ct gained", -lost)
	}
	return b.String() + "."
}
