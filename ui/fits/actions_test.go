package fits

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"cabwright/geometry"
	"cabwright/planner"
	"cabwright/planner/search"
	"cabwright/ui/canvas"
	"cabwright/ui/keys"
	"cabwright/ui/view"
)

func TestChoosingFollowsTheList(t *testing.T) {
	v, s := newView(), state(t)
	require.NotNil(t, s.Chosen, "the best is chosen at first")
	assert.True(t, view.SameFit(s.Plan.Fits[0], *s.Chosen))
	press(t, v, s, "down", "down", "up")
	assert.True(t, view.SameFit(s.Plan.Fits[1], *s.Chosen))
	assert.Equal(t, planner.Base, s.Face, "the fit is seen from the face its dome comes out of")
	press(t, v, s, "home")
	assert.True(t, view.SameFit(s.Plan.Fits[0], *s.Chosen))
	press(t, v, s, "up", "pgdown", "pgdown", "pgdown", "pgdown", "pgdown", "pgdown")
	assert.True(t, view.SameFit(s.Plan.Fits[len(s.Plan.Fits)-1], *s.Chosen))
}

// TestAStreamingListKeepsTheChoice: what was chosen stays chosen while better
// fits arrive above it, and follows its own better pose; what was moved by hand
// stays where it was put.
func TestAStreamingListKeepsTheChoice(t *testing.T) {
	v, s := newView(), state(t)
	press(t, v, s, "down", "down")
	kept := *s.Chosen
	next := plan(t)
	next.Fits[2].Pose.Origin.X += 0.4
	next.Fits[2].Clearance = 0.3
	next.Fits[0], next.Fits[1] = next.Fits[1], next.Fits[0]
	s.Take(next, s.Revision())
	assert.True(t, view.SameCut(kept.Candidate, s.Chosen.Candidate))
	assert.Equal(t, 0.3, s.Chosen.Clearance)

	press(t, v, s, "n", "left")
	moved := s.Chosen.Pose
	s.Take(plan(t), s.Revision())
	assert.Equal(t, moved, s.Chosen.Pose)
}

// fill gives the fields of the open form values, by label, and closes it.
func fill(t *testing.T, s *view.State, values map[string]string) {
	t.Helper()
	f := s.Asking()
	require.NotNil(t, f)
	for i, field := range f.Fields {
		if text, ok := values[field.Label]; ok {
			f.GoTo(i)
			field.With(text)
		}
	}
	require.NoError(t, f.Done(f))
	s.Ask(nil)
}

func TestFilters(t *testing.T) {
	v, s := newView(), state(t)
	press(t, v, s, "o")
	assert.Equal(t, []string{"any", "cushion", "octagon", "oval"}, s.Asking().Fields[0].Choices)
	fill(t, s, map[string]string{"Outline": "cushion"})
	assert.Equal(t, "cushion", v.filter.words())
	for _, l := range v.lines(s) {
		assert.Equal(t, "cushion", l.fit.Solid.Outline.Shape)
	}
	assert.Equal(t, "cushion", s.Chosen.Solid.Outline.Shape, "the best listed is chosen")
	press(t, v, s, "o")
	fill(t, s, map[string]string{"Sides": "single-sided", "Face up": "top up"})
	assert.Equal(t, "cushion, single-sided, top up", v.filter.words())
	press(t, v, s, "o")
	fill(t, s, map[string]string{"Face up": "base up"})
	assert.Empty(t, v.lines(s), "single-sided ones all have the top face up")
	assert.Contains(t, strings.Join(frame(t, v, s, 80, 20), "\n"), "None of these")
	press(t, v, s, "x")
	assert.Equal(t, "all", v.filter.words())

	press(t, v, s, "o")
	fill(t, s, map[string]string{"Length from": "10", "Length to": "12"})
	for _, l := range v.lines(s) {
		assert.True(t, l.fit.Solid.Outline.Length >= 10 && l.fit.Solid.Outline.Length <= 12)
	}
	assert.Equal(t, "10-12 mm", v.filter.words())
	press(t, v, s, "o")
	assert.Equal(t, "10", s.Asking().Text(1), "the menu begins with what holds now")
	s.Asking().Fields[2].With("9")
	assert.Error(t, s.Asking().Done(s.Asking()), "to a length less than from")
}

// TestRanks: the same fits in another order; by colour what counts is the carats
// that have it.
func TestRanks(t *testing.T) {
	p := plan(t)
	for i := range p.Fits {
		p.Fits[i].Clearance = float64(i*7%len(p.Fits)) / 100
		p.Fits[i].Colour = float64(i*5%len(p.Fits)) / float64(len(p.Fits))
	}
	v, s := newView(), stateOf(state(t).Stone(), p)
	press(t, v, s, "o")
	fill(t, s, map[string]string{"Best first by": "spare"})
	fits := v.filter.listed(v.shown.fits)
	require.Len(t, fits, len(p.Fits))
	for i := 1; i < len(fits); i++ {
		require.GreaterOrEqual(t, fits[i-1].Clearance, fits[i].Clearance)
	}
	assert.Equal(t, "all, by spare", v.filter.words())
	press(t, v, s, "o")
	fill(t, s, map[string]string{"Best first by": "colour"})
	assert.Equal(t, "all, by colour", v.filter.words())
	assert.Equal(t, plan(t).Fits[0].Candidate, s.Plan.Fits[0].Candidate, "the plan's own order is left alone")
}

// TestSpareWanted: the list says which fits have it and puts them first, and lists
// only them if asked to; hardly any spare carries a mark of its own.
func TestSpareWanted(t *testing.T) {
	p := plan(t)
	for i := range p.Fits {
		p.Fits[i].Clearance = 0.21
	}
	p.Fits[0].Clearance, p.Fits[1].Clearance, p.Fits[2].Clearance = 0, 0.049, 0.3
	before := slices.Clone(p.Fits)
	v, s := newView(), stateOf(state(t).Stone(), p)
	press(t, v, s, "o")
	fill(t, s, map[string]string{"Spare wanted": "0.3"})
	assert.Equal(t, 0.3, s.Options().Spare, "the search is asked for it, as by the command")
	assert.Equal(t, 1, s.Searches(), "and begins anew")
	fits := v.filter.listed(v.shown.fits)
	require.Len(t, fits, len(before))
	assert.Equal(t, before[2].Candidate, fits[0].Candidate, "the one that has it")
	assert.Equal(t, before[0].Candidate, fits[1].Candidate, "then the rest as they were")
	assert.Equal(t, before[1].Candidate, fits[2].Candidate)
	assert.Equal(t, before[0].Candidate, s.Plan.Fits[0].Candidate, "the plan's own order is left alone")
	lines := frame(t, v, s, 160, 46)
	row := func(i int) string { return lines[listHead+i] }
	assert.Contains(t, row(0), "0.30✓")
	assert.Contains(t, strings.Join(lines, "\n"), "1 have 0.3 mm to spare (✓)")
	assert.Contains(t, strings.Join(frame(t, v, s, 80, 24), "\n"), "2✓", "in few words too")
	assert.Contains(t, row(1), "0.00!")
	assert.NotContains(t, row(1), "✓")
	assert.Contains(t, row(2), "0.04!", "rounded down: it is not 0.05")
	assert.Contains(t, row(3), "0.21")
	assert.NotContains(t, row(3), "✓")
	press(t, v, s, "o")
	fill(t, s, map[string]string{"List": "only with the spare wanted"})
	assert.Len(t, v.lines(s), 1)
	assert.Equal(t, "0.30 mm to spare", v.filter.words())
	assert.Equal(t, 1, s.Searches(), "the spare is the same: nothing to search for")
	press(t, v, s, "x")
	assert.Zero(t, s.Options().Spare)
	assert.Equal(t, 2, s.Searches())
}

func TestMovingByHand(t *testing.T) {
	v, s := newView(), state(t)
	start := *s.Chosen
	press(t, v, s, "n")
	press(t, v, s, "left")
	assert.InDelta(t, start.Pose.Origin.X-s.Step, s.Chosen.Pose.Origin.X, 1e-12)
	assert.Equal(t, s.Site.Clearance(s.Chosen.Solid, s.Chosen.Pose).Clearance, s.Chosen.Clearance,
		"the clearance is that of the place")
	assert.False(t, s.Chosen.Proved)
	assert.Equal(t, start.Carat, s.Chosen.Carat, "moving takes no weight off")
	press(t, v, s, "right", "up", "down", "pgup", "pgdown")
	assert.InDelta(t, 0, s.Chosen.Pose.Origin.Sub(start.Pose.Origin).Norm(), 1e-12)

	press(t, v, s, ",")
	_, before := angles(start.Pose)
	_, after := angles(s.Chosen.Pose)
	assert.InDelta(t, s.Step/8*180/math.Pi, after-before, 0.2, "the end of 16 mm moves by one step")
	press(t, v, s, ".", "l", "h", "k", "j")
	for _, d := range []geometry.Vec3{
		s.Chosen.Pose.Origin.Sub(start.Pose.Origin), s.Chosen.Pose.Axes.U.Sub(start.Pose.Axes.U),
		s.Chosen.Pose.Axes.W.Sub(start.Pose.Axes.W),
	} {
		assert.InDelta(t, 0, d.Norm(), 1e-9, "each turn and tilt has one that takes it back")
	}
	press(t, v, s, "left", "o")
	assert.Equal(t, start.Pose, s.Chosen.Pose, "put back")
	press(t, v, s, "esc", "down")
	assert.False(t, v.hand.on)
}

// TestColourFollowsTheHand: a fit laid wholly over one zone has that zone's grade as
// its share, over none it has nothing, and half over it half: the share is of the
// upper side's area as the contract has it.
func TestColourFollowsTheHand(t *testing.T) {
	stone := state(t).Stone()
	half := []geometry.Vec2{{X: 0, Y: -50}, {X: 50, Y: -50}, {X: 50, Y: 50}, {X: 0, Y: 50}}
	stone.Colour = []planner.Zone{{ID: "Z9", Face: planner.Top, Outline: half, Grade: 4}}
	round := fit(t, "round", 8, 8, planner.Top, 1, true)
	round.Pose = search.Pose{Origin: geometry.Vec3{Z: 3}, Axes: geometry.Identity3()}
	v, s := newView(), stateOf(stone, search.Plan{Fits: []search.Fit{round}})
	s.Step = 5
	press(t, v, s, "n", "right")
	assert.InDelta(t, 0.8, s.Chosen.Colour, 1e-9)
	press(t, v, s, "left")
	assert.InDelta(t, 0.4, s.Chosen.Colour, 1e-6)
	press(t, v, s, "left")
	assert.InDelta(t, 0, s.Chosen.Colour, 1e-9)
	press(t, v, s, "o")
	assert.InDelta(t, round.Colour, s.Chosen.Colour, 1e-9, "put back, it is as it was found")
}

// TestTurningKeepsTheMiddle: the middle of the solid stays where it is, also for
// a pear, whose origin is not its middle.
func TestTurningKeepsTheMiddle(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := fit(t, rapid.SampledFrom([]string{"pear", "oval", "heart"}).Draw(t, "shape"), 12, 10, planner.Top, 2, true)
		lo, hi := f.Solid.Outline.Extent()
		mid := geometry.Vec3{X: (lo.X + hi.X) / 2, Y: (lo.Y + hi.Y) / 2, Z: f.Solid.CentreOfHeight()}
		angle := rapid.Float64Range(-1, 1).Draw(t, "angle")
		turn := rapid.SampledFrom([]func(float64) geometry.Mat3{geometry.RotX, geometry.RotY, geometry.RotZ}).Draw(t, "about")
		p := swing(f, turn(angle))(f.Pose)
		if d := p.Place(mid).Sub(f.Pose.Place(mid)).Norm(); d > 1e-9 {
			t.Fatalf("the middle moved by %g mm", d)
		}
		a := p.Axes
		if math.Abs(a.U.Norm()-1) > 1e-12 || math.Abs(a.U.Dot(a.W)) > 1e-12 || a.U.Cross(a.V).Sub(a.W).Norm() > 1e-12 {
			t.Fatalf("axes no longer right-handed unit vectors: %v", a)
		}
	})
}

func TestTiltHasALimit(t *testing.T) {
	v, s := newView(), state(t)
	s.Step = 5
	press(t, v, s, "n")
	for range 20 {
		press(t, v, s, "l")
		tilt, _ := angles(s.Chosen.Pose)
		require.LessOrEqual(t, tilt, float64(tiltMost)+1e-9)
	}
	assert.Contains(t, s.Status().Text, "tilted by hand")
}

func TestSettling(t *testing.T) {
	v, s := newView(), state(t)
	press(t, v, s, "n", "left")
	a, _ := keys.Find(v.Actions(s), "g")
	answer := a.Run()()
	again, _ := keys.Find(v.Actions(s), "g")
	assert.NotEmpty(t, again.Disabled, "one settling at a time")
	v.Update(s, answer)
	assert.Equal(t, s.Site.(site).best, s.Chosen.Pose.Origin)
	assert.InDelta(t, 0.5, s.Chosen.Clearance, 1e-12)

	// An answer about a place the fit has left since is dropped.
	a, _ = keys.Find(v.Actions(s), "g")
	answer = a.Run()()
	press(t, v, s, "right", "right")
	here := s.Chosen.Pose
	v.Update(s, answer)
	assert.Equal(t, here, s.Chosen.Pose)
	a, _ = keys.Find(v.Actions(s), "g")
	answer = a.Run()()
	press(t, v, s, "esc", "down")
	other := *s.Chosen
	v.Update(s, answer)
	assert.True(t, view.SameFit(other, *s.Chosen), "and one about another fit")
}

func TestDraggedByMouse(t *testing.T) {
	v, s := newView(), state(t)
	start := s.Chosen.Pose.Origin
	m := view.Mouse{Kind: view.Press, Col: 20, Row: 10, Width: 80, Height: 21}
	drag := m
	drag.Kind, drag.Col, drag.Row = view.Drag, 23, 9
	v.Mouse(s, m)
	v.Mouse(s, drag)
	assert.Equal(t, start, s.Chosen.Pose.Origin, "a fit that is not in hand stays")
	press(t, v, s, "n")
	v.Mouse(s, m)
	v.Mouse(s, drag)
	p := s.Plane(52, 21)
	want := p.At(52, 21, 23, 9).Sub(p.At(52, 21, 20, 10))
	assert.InDelta(t, start.X+want.X, s.Chosen.Pose.Origin.X, 1e-9)
	assert.InDelta(t, start.Y+want.Y, s.Chosen.Pose.Origin.Y, 1e-9)
	drag.Kind = view.Release
	v.Mouse(s, drag)
	drag.Kind, drag.Col = view.Drag, 40
	there := s.Chosen.Pose.Origin
	v.Mouse(s, drag)
	assert.Equal(t, there, s.Chosen.Pose.Origin, "after the release it stays")
	// A click on the fourth row of the list chooses what stands there.
	frame(t, v, s, 80, 21)
	v.Mouse(s, view.Mouse{Kind: view.Press, Col: 60, Row: listHead + 3, Width: 80, Height: 21})
	assert.True(t, view.SameFit(s.Plan.Fits[3], *s.Chosen))
}

func TestPinsAndComparison(t *testing.T) {
	v, s := newView(), state(t)
	press(t, v, s, "p", "down", "p", "p")
	require.Len(t, s.Pinned, 1)
	press(t, v, s, "b")
	got := v.compared(s)
	require.Len(t, got, 2)
	assert.True(t, view.SameFit(got[0].Fit, *s.Chosen) && view.SameFit(got[1].Fit, s.Plan.Fits[0]))
	lines := strings.Join(frame(t, v, s, 80, 20), "\n")
	// The octagon, 7.58 ct, beside the cushion, 7.13: both doubles of one height.
	assert.Contains(t, lines, "≠ 7.58 ct (6.85-8.40) +0.46", "the difference is marked")
	assert.Contains(t, lines, "base, left-right mirrored", "and what is mirrored is named")
	// A click on the second makes it the chosen one and loses neither.
	v.Mouse(s, view.Mouse{Kind: view.Press, Col: 60, Row: 3, Width: 80, Height: 20})
	assert.True(t, view.SameFit(s.Plan.Fits[0], *s.Chosen))
	assert.Len(t, v.compared(s), 2)
	press(t, v, s, "esc")
	assert.Equal(t, alone, v.mode)
}

// TestOnlyRealDifferencesAreMarked: what the search or a caliper cannot tell apart
// is no difference, nor is the order of names.
func TestOnlyRealDifferencesAreMarked(t *testing.T) {
	s := state(t)
	a := s.Plan.Fits[0]
	b := a
	b.Clearance, b.LimitedBy, b.Proved, b.Colour = a.Clearance+0.04, []string{"skin", "C1"}, !a.Proved, a.Colour+0.004
	assert.NotContains(t, strings.Join(figures(s, b, a, false, false), "\n"), "≠")
	b.Clearance, b.Colour, b.Carat, b.LimitedBy = a.Clearance+0.1, a.Colour-0.2, a.Carat-0.5, []string{"skin"}
	text := strings.Join(figures(s, b, a, false, false), "\n")
	for _, want := range []string{"≠ spare 0.31 +0.10", "≠ colour share 43% -20", " -0.50", "≠ held by skin"} {
		assert.Contains(t, text, want)
	}
	assert.NotContains(t, strings.Join(figures(s, b, a, true, false), "\n"), "≠", "the first is what is compared with")
}

func TestAcross(t *testing.T) {
	for width, want := range map[int][2]int{29: {1, 29}, 60: {2, 29}, 80: {2, 39}, 120: {3, 38}, 160: {4, 38},
		300: {4, 73}} {
		n, each := across(width, 9)
		assert.Equal(t, want, [2]int{n, each}, "%d columns", width)
		assert.LessOrEqual(t, n*each+2*(n-1), width)
	}
	n, each := across(160, 2)
	assert.Equal(t, [2]int{2, 79}, [2]int{n, each}, "two fits have the whole width")
}

func TestReadyComparisons(t *testing.T) {
	p := plan(t)
	got := twoFaces.tiles(p.Fits, &p.Fits[7])
	require.Len(t, got, 4)
	assert.Equal(t, "best of all top up", got[0].as)
	assert.True(t, view.SameFit(got[1].Fit, p.Fits[0]), "the best of all come first")
	for _, f := range p.Fits {
		assert.True(t, f.Face == planner.Base || f.Carat <= got[0].Carat)
	}
	assert.Equal(t, "the chosen size, base up", got[3].as)
	assert.Equal(t, sizeAlone(p.Fits[7].Candidate), sizeAlone(got[2].Candidate))
	assert.Equal(t, sizeAlone(p.Fits[7].Candidate), sizeAlone(got[3].Candidate))
	assert.Len(t, oneOrTwoSides.tiles(p.Fits, &p.Fits[0]), 2, "nothing stands there twice")
	assert.Len(t, setOrFree.tiles(p.Fits, nil), 1, "no freeform in the list")
	assert.Empty(t, twoFaces.tiles(nil, nil))
	for r := noReady + 1; r < readyCount; r++ {
		v, s := newView(), state(t)
		press(t, v, s, r.key())
		assert.Equal(t, beside, v.mode)
		frame(t, v, s, 80, 20)
	}
}

func TestSummary(t *testing.T) {
	s := state(t)
	stone := s.Stone()
	stone.Name = "Bad\x1b[31m name"
	f := fit(t, "oval", 16, 12, planner.Base, 2, true)
	text := Summary(stone, s.Rough, f)
	for _, want := range []string{
		"Bad^[[31m name: 16 x 12 mm oval", "base up, double-sided, medium dome, slight back",
		"Heights: 6.6 mm in all, dome 3.6 mm, wall 1.2 mm leaning in 10 degrees, back 1.8 mm",
		"Weight: 6.34 ct (5.72 to 7.02)", "Cut away: loss 76% of 26.3 ct (scale)",
		"Clearance: 0.21 mm, limited by C1, skin (", "Colour share: 63%",
		"Girdle centre at x 0.50, y -0.50, z 6.20 mm; tilt 2.3°",
	} {
		assert.Contains(t, text, want)
	}
	assert.NotContains(t, text, "\x1b")
	assert.NotContains(t, Summary(stone, nil, f), "loss")
}

// TestLossAddsUp: the weight said to be cut from and the share lost give back
// the finished weight.
func TestLossAddsUp(t *testing.T) {
	s := state(t)
	for _, f := range s.Plan.Fits {
		stone := s.Stone()
		for _, scale := range []float64{0, 17.5} { // what was weighed goes before what was drawn
			stone.ScaleCt = scale
			share, from, ok := loss(f, stone, s.Rough)
			require.True(t, ok)
			want := scale
			if scale == 0 {
				want = planner.Carat(s.Rough.Volume(), 1.83)
			}
			assert.InDelta(t, want, from, 1e-9)
			assert.InDelta(t, f.Carat, want*(1-share), 1e-9)
		}
	}
	_, _, ok := loss(search.Fit{}, s.Stone(), s.Rough)
	assert.False(t, ok)
}

// TestAnyKeysAnySize: whatever is pressed and clicked, in any mode and size, the
// frame holds, nothing from the file reaches the screen raw, and nothing panics.
func TestAnyKeysAnySize(t *testing.T) {
	whole := plan(t)
	hostile := state(t).Stone()
	hostile.Cracks = append([]planner.Crack(nil), hostile.Cracks...)
	hostile.Cracks[0].ID = "\x1b[31m中文\u202e👨‍👩‍👧"
	rapid.Check(t, func(t *rapid.T) {
		p := whole
		switch rapid.IntRange(0, 3).Draw(t, "plan") {
		case 0:
			p = search.Plan{}
		case 1:
			p.Fits = append([]search.Fit(nil), p.Fits...)
			p.Fits[0].LimitedBy = []string{hostile.Cracks[0].ID}
			p.Fits[0].DomeStyle = "\x1b]0;title\x07"
		}
		v, s := newView(), stateOf(hostile, p)
		s.Glyphs = canvas.Mode(rapid.IntRange(0, 2).Draw(t, "glyphs"))
		w, h := rapid.IntRange(0, 200).Draw(t, "w"), rapid.IntRange(0, 60).Draw(t, "h")
		for range rapid.IntRange(0, 12).Draw(t, "n") {
			actions := v.Actions(s)
			if a := actions[rapid.IntRange(0, len(actions)-1).Draw(t, "action")]; a.Disabled == "" {
				if cmd := a.Run(); cmd != nil {
					v.Update(s, cmd())
				}
			}
			v.Mouse(s, view.Mouse{
				Kind: view.MouseKind(rapid.IntRange(0, 5).Draw(t, "kind")),
				Col:  rapid.IntRange(0, max(1, w)).Draw(t, "col"), Row: rapid.IntRange(0, max(1, h)).Draw(t,
					"row"), Width: w, Height: h,
			})
		}
		for _, l := range frame(t, v, s, w, h) {
			if strings.ContainsAny(l, "\x1b\x07\u202e") {
				t.Fatalf("raw text reached the screen: %q", l)
			}
		}
	})
}

// TestKeysAreBoundOnce: no two actions of a mode share a key.
func TestKeysAreBoundOnce(t *testing.T) {
	v, s := newView(), state(t)
	for _, hand := range []bool{false, true} {
		v.hand.on = hand
		seen := map[string]string{}
		for _, a := range v.Actions(s) {
			for _, k := range a.Keys {
				assert.Empty(t, seen[k], "%s is %q and %q", k, seen[k], a.Name)
				seen[k] = a.Name
			}
		}
	}
}

// BenchmarkRender is a frame of each mode at both designed sizes.
func BenchmarkRender(b *testing.B) {
	for size, wh := range bodies {
		for name, m := range map[string]mode{"alone": alone, "beside": beside, "reasons": reasons} {
			b.Run(name+"-"+size, func(b *testing.B) {
				v, s := newView(), state(b)
				s.Pinned = s.Plan.Fits[1:4]
				v.mode = m
				for b.Loop() {
					v.Render(s, wh[0], wh[1])
				}
			})
		}
	}
}

// TestComparedWithoutDrawings: where there is no room to draw, and in plain text,
// the figures stand under each other, differences marked.
func TestComparedWithoutDrawings(t *testing.T) {
	v, s := newView(), state(t)
	press(t, v, s, "F")
	lines := frame(t, v, s, 59, 40)
	require.Len(t, lines, 2*(tileHead+mostFigures-1))
	assert.Contains(t, lines[tileHead], "top up")
	assert.Contains(t, lines[2*tileHead+mostFigures-1], "≠ base up")
	assert.Len(t, frame(t, v, s, 59, 5), 5)
}
