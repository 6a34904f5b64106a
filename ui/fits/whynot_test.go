package fits

import (
	"context"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cabwright/geometry"
	"cabwright/geometry/outline"
	"cabwright/geometry/solid"
	"cabwright/planner"
	"cabwright/planner/search"
	"cabwright/ui/view"
)

// slab is a level plate of 40 x 40 mm with a skin allowance of 0.5 mm.
func slab(thick float64) planner.Stone {
	return planner.Stone{
		Outline: []geometry.Vec2{{X: -20, Y: -20}, {X: 20, Y: -20}, {X: 20, Y: 20}, {X: -20, Y: 20}},
		Top:     []geometry.Vec3{{Z: thick}}, Base: []geometry.Vec3{{}},
		Allowances: planner.Allowances{Skin: 0.5, Crack: 1, SealedCrack: 0.3, Pocket: 0.8},
	}
}

func openSite(s planner.Stone) (view.Site, error) { return search.Open(s) }

// tall is a round of 10 mm that is 4.2 mm high, on a flat base.
func tall(t *testing.T) search.Candidate {
	o, err := outline.New("round", 10, 10)
	require.NoError(t, err)
	return search.Candidate{Face: planner.Top, DomeStyle: "high", BackStyle: "flat",
		Solid: solid.Cabochon{Outline: o, Wall: 1.2, WallLeanDeg: 10, Dome: 3, Sides: 1}}
}

// TestRemediesOnALevelSlab: 5 mm of slab less twice 0.5 mm of skin leaves 4 mm for a
// stone of 4.2 mm. By hand: 0.2 mm thicker, or a skin allowance of 0.4 mm, and
// nothing less, makes it fit.
func TestRemediesOnALevelSlab(t *testing.T) {
	stone, c := slab(5), tall(t)
	site, err := openSite(stone)
	require.NoError(t, err)
	start := search.Pose{Origin: geometry.Vec3{Z: 0.5}, Axes: geometry.Identity3()}
	r := settledNear(context.Background(), site, search.RuledOut{Candidate: c}, []search.Pose{start}, 0)
	assert.InDelta(t, -0.1, r.Clearance, 0.005, "in the middle it lacks 0.1 mm above and below")
	require.Len(t, r.Short, 1)
	assert.Equal(t, "skin", r.Short[0].ID)
	got := remedies(context.Background(), changes(stone, r.Short), -r.Clearance, clearanceIn(openSite, c, r.Pose, 0))
	require.Len(t, got, 2)
	assert.Regexp(t, `^skin allowance 0\.(4|39) instead of 0\.5$`, got[0])
	assert.Regexp(t, `^0\.2[0-2] mm thicker$`, got[1])

	done, cancel := context.WithCancel(context.Background())
	cancel()
	assert.Empty(t, remedies(done, changes(stone, r.Short), -r.Clearance, clearanceIn(openSite, c, r.Pose, 0)),
		"nobody waits for it any more")
}

// TestWhereNothingFitsAPoseIsFoundAllTheSame: with no fit to begin from, a size is laid
// where another one came nearest, else into the middle of the thickest place. A level
// plate of 5 mm: a stone of 4.2 mm in its middle keeps 0.4 mm above and below of the
// 0.5 that are wanted, whichever face is up.
func TestWhereNothingFitsAPoseIsFoundAllTheSame(t *testing.T) {
	stone, c := slab(5), tall(t)
	rough, err := planner.NewRough(stone)
	require.NoError(t, err)
	site, err := openSite(stone)
	require.NoError(t, err)
	for _, face := range []planner.Face{planner.Top, planner.Base} {
		c.Face = face
		near := starts(search.Plan{}, rough, c)
		require.NotEmpty(t, near)
		assert.InDelta(t, -0.1, site.Clearance(c.Solid, near[0]).Clearance, 0.005, face)
		r := settledNear(context.Background(), site, search.RuledOut{Candidate: c}, near, 0)
		require.NotEmpty(t, r.Short)
		assert.InDelta(t, 0.1, r.Short[0].MM, 0.005, face)
		other := search.RuledOut{Candidate: c, Pose: near[0], Short: []search.Shortfall{{ID: "skin", MM: 1}}}
		other.Pose.Origin.X++
		assert.Equal(t, []search.Pose{other.Pose}, starts(search.Plan{RuledOut: []search.RuledOut{other}}, rough, c))
	}
	assert.Empty(t, starts(search.Plan{}, nil, c), "the solid is still being made")
}

// byAllowance is a Site in which C1 and P1 keep off as their allowances and depths
// say, to be reckoned by hand.
type byAllowance struct{ stone planner.Stone }

func (x byAllowance) Clearance(solid.Cabochon, search.Pose) search.Reading {
	least := 1.0
	for _, k := range x.stone.Cracks {
		least = 0.595 - x.stone.Allowances.Crack
		if k.Sealed {
			least = 0.595 - x.stone.Allowances.SealedCrack
		}
	}
	for _, p := range x.stone.Pockets {
		least = min(least, 2.601-p.Depth)
	}
	return search.Reading{Clearance: least, LimitedBy: []string{"C1"}}
}

func (x byAllowance) Settle(c search.Candidate, p search.Pose, _ float64) (search.Pose, search.Reading) {
	return p, x.Clearance(c.Solid, p)
}

func openByAllowance(s planner.Stone) (view.Site, error) { return byAllowance{s}, nil }

// TestRemedyWords: what each kind of obstacle could be changed by, the smallest
// change first, and only what helps.
func TestRemedyWords(t *testing.T) {
	stone := slab(9)
	stone.Cracks = []planner.Crack{{ID: "C1", Face: planner.Top, Depth: 4, Path: []geometry.Vec2{{X: 0}, {X: 9}}}}
	stone.Pockets = []planner.Pocket{{ID: "P1", Face: planner.Base, Depth: 2.5, Outline: stone.Outline}}
	question := clearanceIn(openByAllowance, tall(t), search.Pose{Axes: geometry.Identity3()}, 0)
	ask := func(lacking float64, ids ...string) []string {
		var short []search.Shortfall
		for _, id := range ids {
			short = append(short, search.Shortfall{ID: id, MM: lacking})
		}
		return remedies(context.Background(), changes(stone, short), lacking, question)
	}
	assert.Equal(t, []string{"C1 sealed", "crack allowance 0.59 instead of 1", "without C1"}, ask(0.405, "C1"))
	assert.Empty(t, ask(0.405, "P1"), "P1 is not what is in the way")
	assert.Empty(t, ask(0.4))
	stone.Allowances.Crack, stone.Pockets[0].Depth = 0.5, 3
	assert.Equal(t, []string{"P1 0.4 mm less deep", "without P1"}, ask(0.4, "P1"))
	stone.Pockets[0].Face = planner.Through
	assert.Equal(t, []string{"without P1"}, ask(0.4, "P1"), "what runs through has no depth to lessen")
	stone.Cracks[0].Sealed, stone.Allowances.SealedCrack, stone.Pockets[0].Depth = true, 0.7, 1
	assert.Equal(t, []string{"sealed crack allowance 0.59 instead of 0.7", "without C1"}, ask(0.105, "C1"))
}

// drain does what commands ask for until nothing is left.
func drain(v *View, s *view.State, cmd tea.Cmd) {
	for range 20 {
		if cmd == nil {
			return
		}
		cmd = v.Update(s, cmd())
	}
}

// refusedState is a stone with one size that fits and others that do not.
func refusedState(t *testing.T) *view.State {
	good := fit(t, "oval", 10, 8, planner.Top, 1, true)
	p := search.Plan{Tolerance: 0.05, Fits: []search.Fit{good}}
	add := func(c search.Candidate, verdict search.Verdict, bound float64, short ...search.Shortfall) {
		r := search.RuledOut{Candidate: c, Verdict: verdict, Bound: bound, Pose: good.Pose, Short: short}
		if len(short) > 0 {
			r.Clearance = -short[0].MM
		}
		p.RuledOut = append(p.RuledOut, r)
	}
	oval := func(l, w float64, face planner.Face, sides int) search.Candidate {
		return fit(t, "oval", l, w, face, sides, true).Candidate
	}
	add(oval(22, 16, planner.Top, 1), search.Undecided, 0.3)
	add(oval(18, 13, planner.Top, 1), search.CannotFit, -0.1, search.Shortfall{ID: "P1", MM: 0.41},
		search.Shortfall{ID: "P2", MM: 0.22})
	add(oval(18, 13, planner.Base, 2), search.CannotFit, -0.1, search.Shortfall{ID: "C1", MM: 0.2})
	add(oval(20, 15, planner.Top, 1), search.CannotFit, -1e-6)
	add(oval(10, 8, planner.Base, 2), search.CannotFit, -0.1, search.Shortfall{ID: "C1", MM: 0.01})
	s := stateOf(state(t).Stone(), p)
	s.OpenSite = func(planner.Stone) (view.Site, error) { return site{geometry.Vec3{X: 1, Y: 1, Z: 3}}, nil }
	return s
}

// TestRefusals: one row a size, the nearest to fitting first; what fits in another
// way and what is not decided comes last.
func TestRefusals(t *testing.T) {
	s := refusedState(t)
	all := refusals(s.Plan, filter{})
	var names []string
	for _, r := range all {
		names = append(names, view.Size(r.nearest().Candidate))
	}
	assert.Equal(t, []string{"18x13", "20x15", "22x16", "10x8"}, names)
	assert.Equal(t, planner.Base, all[0].nearest().Face, "0.2 mm short is nearer than 0.41")
	assert.Len(t, all[0].variants, 2)
	assert.True(t, all[3].fits)
	assert.Len(t, bigger(all, s.Plan.Fits[0]), 3)
	assert.Empty(t, refusals(s.Plan, filter{shape: "pear"}))

	assert.Equal(t, "P1 0.41, P2 0.22 mm short", shortWords(all[0].variants[1]))
	assert.Equal(t, "just short", shortWords(all[1].nearest()), "never short by at least 0.00")
	assert.Equal(t, "not decided", shortWords(all[2].nearest()))
	assert.Equal(t, "Not decided: no pose has more than 0.30 mm to spare.", verdictWords(all[2].nearest()))
	assert.Equal(t, "Proved: no pose fits.", verdictWords(all[1].nearest()))
	assert.Equal(t, "Not decided yet.", verdictWords(search.RuledOut{Bound: 1e9}))
	assert.Equal(t, "P1, skin, at least 0.12 mm short",
		shortWords(search.RuledOut{Verdict: search.CannotFit, Bound: -0.1299, LimitedBy: []string{"P1", "skin"}}))
}

// TestReasons: the list of what does not fit, its variants, the pose that is drawn,
// and what would help, worked out away from the event loop.
func TestReasons(t *testing.T) {
	v, s := newView(), refusedState(t)
	a := key(t, v, s, "r")
	drain(v, s, a())
	text := strings.Join(strings.Fields(strings.Join(frame(t, v, s, 160, 46), " ")), " ")
	for _, want := range []string{
		"2 sizes cannot fit, 1 not decided, 1 in part", "▸18x13 oval 0.20 C1", "Proved: no pose fits.",
		"Nearest known: C1 0.20 mm short.", "It would fit with one of:",
	} {
		assert.Contains(t, text, want)
	}
	f := v.impossible(s)
	require.NotNil(t, f)
	assert.Equal(t, -0.2, f.Clearance)
	assert.Equal(t, planner.Base, s.Face, "it is seen from the face its dome would come out of")
	press(t, v, s, "v")
	assert.Len(t, v.refusalLines(s), 5)
	press(t, v, s, "v")
	assert.Len(t, v.refusalLines(s), 4)
	// Of the next no pose is known: one is looked for near the fits' own.
	drain(v, s, key(t, v, s, "down")())
	require.NotNil(t, v.why.answer)
	assert.True(t, v.why.answer.done)
	// A newer list moves the line that is looked at, not what is looked at.
	was, _ := v.lookedAt(s)
	p := s.Plan
	p.RuledOut = append([]search.RuledOut(nil), p.RuledOut...)
	for i := range p.RuledOut {
		p.RuledOut[i].Short = nil
	}
	s.Take(p, s.Revision())
	now, ok := v.lookedAt(s)
	assert.True(t, ok && view.SameCut(was.Candidate, now.Candidate))
	// Another variant of the size may be the nearest by now: that is asked about anew.
	p.RuledOut = append([]search.RuledOut(nil), p.RuledOut...)
	for i := range p.RuledOut {
		if p.RuledOut[i].Solid.Outline.Length == 20 {
			p.RuledOut[i].DomeStyle = "high"
		}
	}
	s.Take(p, s.Revision())
	assert.NotContains(t, strings.Join(frame(t, v, s, 160, 46), "\n"), "It would fit",
		"what was worked out is about another")
	drain(v, s, v.Update(s, view.PlanTaken{}))
	now, _ = v.lookedAt(s)
	assert.True(t, v.isAbout(s, now))
	press(t, v, s, "esc")
	assert.Equal(t, planner.Top, s.Face, "back at the fit that is chosen")
}

// TestAnAnswerTooLateIsDropped: what is worked out for a candidate left since does
// not show for another.
func TestAnAnswerTooLateIsDropped(t *testing.T) {
	v, s := newView(), refusedState(t)
	ask := v.Update(s, key(t, v, s, "r")()())
	require.NotNil(t, ask)
	key(t, v, s, "down")()
	late := ask()
	assert.Nil(t, v.Update(s, late))
	assert.False(t, v.why.answer.done)
	require.NoError(t, s.Do("Name", func(x planner.Stone) (planner.Stone, error) { x.Name = "other"; return x, nil }))
	assert.Contains(t, strings.Join(frame(t, v, s, 160, 46), "\n"), "Being checked again")
}

// key returns what a key does.
func key(t *testing.T, v *View, s *view.State, name string) func() tea.Cmd {
	for _, a := range v.Actions(s) {
		for _, k := range a.Keys {
			if k == name {
				require.Empty(t, a.Disabled)
				return a.Run
			}
		}
	}
	t.Fatalf("no action on %s", name)
	return nil
}
