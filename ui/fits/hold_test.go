package fits

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cabwright/planner"
	"cabwright/planner/search"
	"cabwright/ui/view"
	"cabwright/ui/widget"
)

// cuts names the fits of a list, in order.
func cuts(v *View, s *view.State) []string {
	var out []string
	for _, l := range v.lines(s) {
		out = append(out, view.Size(l.fit.Candidate)+" "+view.Shape(l.fit.Candidate)+" "+view.FaceUp(l.fit.Candidate))
	}
	return out
}

// TestTheListHoldsStill: before a key is pressed the list follows the search; from
// then on its lines stay where they are, only their figures follow, and it says
// that new fits wait until they are asked for.
func TestTheListHoldsStill(t *testing.T) {
	whole := plan(t)
	part := whole
	part.Fits = whole.Fits[10:20]
	v, s := newView(), stateOf(state(t).Stone(), part)
	before := cuts(v, s)
	part.Fits = whole.Fits[8:20]
	s.Take(part, s.Revision())
	assert.Len(t, v.lines(s), 12, "it follows while it is only looked at")
	assert.True(t, view.SameFit(part.Fits[0], *s.Chosen), "and so does the choice")

	press(t, v, s, "down", "up")
	held := cuts(v, s)
	assert.NotEqual(t, before, held)
	next := whole
	next.Fits = append([]search.Fit(nil), whole.Fits...)
	next.Fits[9].Clearance = 0.77
	s.Take(next, s.Revision())
	assert.Equal(t, held, cuts(v, s), "nothing slides from under the hand")
	assert.True(t, view.SameCut(whole.Fits[8].Candidate, s.Chosen.Candidate))
	assert.Equal(t, 0.77, v.lines(s)[1].fit.Clearance, "the figures follow")
	text := strings.Join(frame(t, v, s, 160, 46), "\n")
	assert.Contains(t, text, "12 fit: all, 34 new (a)")

	press(t, v, s, "a")
	assert.Len(t, v.lines(s), len(whole.Fits))
	assert.True(t, view.SameCut(whole.Fits[8].Candidate, s.Chosen.Candidate), "the choice is still the same")
	assert.Zero(t, v.shown.waiting)
	// Asking for the best takes what is new as well.
	press(t, v, s, "down")
	s.Take(part, s.Revision())
	s.Take(whole, s.Revision())
	press(t, v, s, "home")
	assert.True(t, view.SameFit(whole.Fits[0], *s.Chosen))
}

// TestAnEditEndsTheHold: the list of another stone is shown as it comes.
func TestAnEditEndsTheHold(t *testing.T) {
	v, s := newView(), state(t)
	press(t, v, s, "down")
	require.NoError(t, s.Do("Name", func(x planner.Stone) (planner.Stone, error) { x.Name = "other"; return x, nil }))
	assert.Contains(t, strings.Join(frame(t, v, s, 160, 46), "\n"), "being checked again")
	p := plan(t)
	p.Fits = p.Fits[:3]
	s.Take(p, s.Revision())
	assert.Len(t, v.lines(s), 3)
}

// TestAFormKeepsTheChoice: while a form is open no better fit takes the place of
// the one it may be about.
func TestAFormKeepsTheChoice(t *testing.T) {
	p := plan(t)
	part := p
	part.Fits = p.Fits[5:]
	s := stateOf(state(t).Stone(), part)
	s.Ask(&widget.Form{Title: "What?", Fields: []*widget.Field{{Label: "Length"}}})
	s.Take(p, s.Revision())
	assert.True(t, view.SameFit(p.Fits[5], *s.Chosen))
	s.Ask(nil)
	s.Take(p, s.Revision())
	assert.True(t, view.SameFit(p.Fits[0], *s.Chosen))
}

// TestVariantsFold: one line a size and face; the others unfold under it, and a
// chosen one shows its row unfolded.
func TestVariantsFold(t *testing.T) {
	double := fit(t, "oval", 14, 10, planner.Top, 2, true)
	single := fit(t, "oval", 14, 10, planner.Top, 1, true)
	low := single
	low.DomeStyle, low.Solid.Dome, low.Carat = "low", 2, single.Carat-0.3
	base := fit(t, "oval", 14, 10, planner.Base, 1, true)
	p := search.Plan{Tolerance: 0.05, Fits: []search.Fit{double, single, base, low}}
	v, s := newView(), stateOf(state(t).Stone(), p)
	lines := v.lines(s)
	require.Len(t, lines, 2)
	assert.Equal(t, 2, lines[0].more)
	assert.Contains(t, strings.Join(frame(t, v, s, 160, 46), "\n"), "+2")
	press(t, v, s, "v")
	lines = v.lines(s)
	require.Len(t, lines, 4)
	assert.True(t, lines[1].variant && lines[2].variant && !lines[3].variant)
	press(t, v, s, "down", "down")
	assert.Equal(t, "low", s.Chosen.DomeStyle)
	press(t, v, s, "v")
	assert.Len(t, v.lines(s), 2)
	assert.True(t, view.SameFit(double, *s.Chosen), "folding goes back to the row's own")
	s.Choose(low)
	assert.Len(t, v.lines(s), 4, "what is chosen can be seen")
}

// TestFreeformsAreOneRowAFace, whatever their sizes.
func TestFreeformsAreOneRowAFace(t *testing.T) {
	assert.Equal(t, 0, len(grouped(nil, nil, nil)))
	f := fit(t, "oval", 14, 10, planner.Top, 2, true)
	f.Solid.Outline.Shape, f.Solid.Outline.Polygon = "freeform", f.Solid.Outline.Points(40)
	g := f
	g.Solid.Outline.Length, g.Solid.Sides = 13.2, 1
	assert.Len(t, grouped([]search.Fit{f, g}, nil, nil), 1)
	assert.NotEqual(t, cutOf(f.Candidate), cutOf(g.Candidate), "single- and double-sided are two cuts")
}
