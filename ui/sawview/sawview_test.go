package sawview

import (
	"errors"
	"math"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cabwright/geometry"
	"cabwright/geometry/outline"
	"cabwright/geometry/solid"
	"cabwright/planner"
	"cabwright/planner/diary"
	"cabwright/planner/search"
	"cabwright/presets"
	"cabwright/ui/canvas"
	"cabwright/ui/keys"
	"cabwright/ui/view"
	"cabwright/ui/viewtest"
)

// block is 40 x 20 x 8 mm with an upright crack across it at x = 30.
func block() planner.Stone {
	return planner.Stone{
		Name: "Block", Material: "opal-hydrophane", SG: 1.83,
		Outline: []geometry.Vec2{{X: 0, Y: 0}, {X: 40, Y: 0}, {X: 40, Y: 20}, {X: 0, Y: 20}},
		Top:     []geometry.Vec3{{X: 20, Y: 10, Z: 8}},
		Base:    []geometry.Vec3{{X: 20, Y: 10, Z: 0}},
		Cracks: []planner.Crack{{ID: "C1", Path: []geometry.Vec2{{X: 30, Y: -1}, {X: 30, Y: 21}}, Face: planner.Top,
			Through: true}},
		Allowances: planner.Allowances{Skin: 0.5, Crack: 1, SealedCrack: 0.6, Pocket: 0.5},
	}
}

// bench is a workbench on the block with an oval of 10 x 8 chosen, its cuts
// worked out.
func bench(t *testing.T) (*View, *view.State) {
	t.Helper()
	stone := block()
	s := viewtest.State(t, stone, presets.Builtin())
	o, err := outline.New("oval", 10, 8)
	require.NoError(t, err)
	c := search.Candidate{Solid: solid.Cabochon{Outline: o, Wall: 1.2, WallLeanDeg: 10, Dome: 2.4, Sides: 1},
		Face: planner.Top}
	s.Choose(search.Weigh(stone, s.Rough, s.Presets, c, search.Pose{Origin: geometry.Vec3{X: 12, Y: 10, Z: 2},
		Axes: geometry.Identity3()}))
	v := New()
	v.Today = func() time.Time { return time.Date(2026, 5, 1, 12, 0, 0, 0, time.UTC) }
	settle(t, v, s)
	return v, s
}

// settle works out what is asked until nothing is.
func settle(t *testing.T, v *View, s *view.State) {
	t.Helper()
	s.RoughOf = s.Revision()
	viewtest.Settle(v, s)
}

func press(t *testing.T, v *View, s *view.State, names ...string) {
	t.Helper()
	for _, name := range names {
		viewtest.Run(t, v, s, name)
		settle(t, v, s)
	}
}

func screen(v *View, s *view.State) string { return viewtest.Screen(v, s, 160, 48) }

func TestProposesTheCutsOfTheChosenFit(t *testing.T) {
	v, s := bench(t)
	said := screen(v, s)
	for _, want := range []string{"1 stone", "oval 10x8", "Cuts, proposed", "K1 free from C1", "past corner", "to spare"} {
		assert.Contains(t, said, want)
	}
	assert.Empty(t, s.Stone().Cuts, "nothing is written unasked")
	assert.Nil(t, v.Follow(s), "what is answered is not asked again")
}

func TestCutsAreMovedTurnedLeantKeptAndUndone(t *testing.T) {
	v, s := bench(t)
	before := planeOf(v.kept(s)[0])
	n := len(v.kept(s))
	press(t, v, s, "right")
	require.Len(t, s.Stone().Cuts, n, "a changed proposal is kept")
	moved := planeOf(s.Stone().Cuts[0])
	assert.InDelta(t, s.Step*before.Normal.X, moved.Height(before.Point)*-1, 1e-9)
	press(t, v, s, ",")
	turned := planeOf(s.Stone().Cuts[0])
	assert.InDelta(t, math.Cos(2*math.Pi/180), turned.Normal.Dot(moved.Normal), 1e-9)
	press(t, v, s, ">")
	assert.InDelta(t, 2, planeOf(s.Stone().Cuts[0]).LeanDeg(), 1e-9)
	assert.Contains(t, screen(v, s), "Cuts, kept")
	s.Undo()
	s.Undo()
	s.Undo()
	assert.Empty(t, s.Stone().Cuts)
	settle(t, v, s)
	press(t, v, s, "k", "x")
	assert.Len(t, s.Stone().Cuts, n-1)
	press(t, v, s, "C")
	assert.Empty(t, s.Stone().Cuts)
}

func TestWhyNoCutCanBeWorkedOn(t *testing.T) {
	v, s := bench(t)
	why := func(key string) string {
		a, ok := keys.Find(v.Actions(s), key)
		require.True(t, ok)
		return a.Disabled
	}
	assert.Empty(t, why("d"))
	known := v.answer
	v.answer = nil
	for _, key := range []string{"d", "k", "x"} {
		assert.Contains(t, why(key), "being worked out", key)
	}
	failed := *known
	failed.layouts, failed.err = nil, errors.New("too thin to saw")
	v.answer = &failed
	assert.Contains(t, why("d"), "a adds one")
	assert.Contains(t, screen(v, s), "too thin to saw")
	v.answer = known
	press(t, v, s, "k")
	assert.Equal(t, "they are kept already", why("k"))
	s.Chosen = nil
	assert.Contains(t, why("d"), "no stone is chosen")
}

func TestACutIsAddedThroughTheCursor(t *testing.T) {
	v, s := bench(t)
	s.Cursor = geometry.Vec2{X: 25, Y: 10}
	n := len(v.kept(s))
	press(t, v, s, "a")
	require.Len(t, s.Stone().Cuts, n+1)
	k := s.Stone().Cuts[n]
	assert.Equal(t, geometry.Vec3{X: 1}, k.Normal, "away from the stone")
	assert.Equal(t, 25.0, k.Point.X)
	assert.Equal(t, n, v.at)
}

func TestADoneCutClipsTheOutline(t *testing.T) {
	v, s := bench(t)
	press(t, v, s, "k")
	first := planeOf(s.Stone().Cuts[0])
	n := len(s.Stone().Cuts)
	press(t, v, s, "d")
	for _, p := range s.Stone().Outline {
		assert.LessOrEqual(t, first.Height(geometry.Vec3{X: p.X, Y: p.Y}), -0.15+1e-9)
	}
	assert.Empty(t, s.Stone().Cracks, "the crack is off")
	assert.Len(t, s.Stone().Cuts, n-1, "the other cuts stay")
	s.Undo()
	assert.Len(t, s.Stone().Cracks, 1)
}

// A cut that is put through the stone says by how much it is too near, not that so much
// less than nothing is to spare.
func TestACutThroughTheStoneIsTooNear(t *testing.T) {
	v, s := bench(t)
	s.Cursor = v.fits(s)[0].Pose.Origin.XY().Add(geometry.Vec2{X: 1})
	press(t, v, s, "a")
	settle(t, v, s)
	assert.Regexp(t, `: \d+\.\d\d mm too near`, screen(v, s))
	assert.NotRegexp(t, `-\d+\.\d\d mm`, screen(v, s))
}

// A drag moves the cut under the pointer, and shows it moving.
func TestACutIsDragged(t *testing.T) {
	v, s := bench(t)
	const width, height = 160, 48
	cols, _ := view.Columns(width)
	rows := planRows(height)
	k := v.kept(s)[0]
	col, row := v.plane(s, cols, rows).Cell(cols, rows, k.Point.XY())
	m := view.Mouse{Kind: view.Press, Col: int(math.Round(col)), Row: int(math.Round(row)), Width: width, Height: height}
	v.Mouse(s, m)
	require.NotNil(t, v.drag, "the cut is taken hold of")
	m.Kind, m.Col = view.Drag, m.Col+4
	v.Mouse(s, m)
	assert.NotEqual(t, k.Point, v.drawn(s)[v.at].Point)
	assert.Contains(t, screen(v, s), "the rest is being worked out")
	m.Kind = view.Release
	v.Mouse(s, m)
	require.NotEmpty(t, s.Stone().Cuts)
	assert.NotEqual(t, k.Point, s.Stone().Cuts[v.at].Point)
}

// Without a fit, without a cut, at any size, nothing breaks.
func TestAnySizeAndNothingToShow(t *testing.T) {
	v, s := bench(t)
	empty := view.NewState(planner.NewHistory(planner.Stone{}), presets.Builtin(), s.Style, canvas.ASCII)
	for _, st := range []*view.State{s, empty} {
		for _, size := range [][2]int{{0, 0}, {1, 1}, {40, 10}, {80, 21}, {160, 48}} {
			lines := v.Render(st, size[0], size[1])
			assert.LessOrEqual(t, len(lines), size[1])
			for _, l := range lines {
				assert.LessOrEqual(t, view.Width(l), size[0])
			}
		}
	}
	for _, a := range New().Actions(empty) {
		if a.Disabled == "" && a.Name != "Add a cut" {
			assert.NotPanics(t, func() { a.Run() }, a.Name)
		}
	}
	var none tea.Msg
	assert.Nil(t, v.Update(empty, none))
}

// What to beware of at the chosen cut stands in the status line, where a short screen
// has no room for it beside the drawing: of porous rough and an open crack the dust.
func TestTheStatusLineWarnsOfTheChosenCut(t *testing.T) {
	v, s := bench(t)
	v.layout(s).Steps[0].SealFirst = []string{"C1"} // as where a cut runs into it
	require.Contains(t, v.Explained(s, 0.5), dustCaution, "the stone is hydrophane opal")
	require.NoError(t, s.Do("Material", func(st planner.Stone) (planner.Stone, error) {
		st.Material = "jasper"
		return st, nil
	}))
	settle(t, v, s)
	v.layout(s).Steps[0].SealFirst = []string{"C1"}
	require.NotContains(t, v.Explained(s, 0.5), dustCaution)
	require.Contains(t, v.Explained(s, 0.5), "Seal C1 first")
}

// One key seals what the chosen cut runs into, and the diary says so.
func TestOneKeySealsTheCracksOfTheCut(t *testing.T) {
	v, s := bench(t)
	a, _ := keys.Find(v.Actions(s), "g")
	assert.NotEmpty(t, a.Disabled, "the proposed cuts run into no crack")
	require.NoError(t, s.Do("A cut across the crack", func(st planner.Stone) (planner.Stone, error) {
		return planner.AddCut(st, planner.Cut{Point: geometry.Vec3{X: 20, Y: 17}, Normal: geometry.Vec3{Y: 1}, Kerf: 0.3})
	}))
	settle(t, v, s)
	require.Equal(t, []string{"C1"}, v.open(s))
	press(t, v, s, "g")
	assert.True(t, s.Stone().Cracks[0].Sealed)
	require.Len(t, s.Stone().Diary, 1)
	assert.Equal(t, "2026-05-01", s.Stone().Diary[0].Date)
	assert.Equal(t, []string{"cyanoacrylate glue in C1"}, s.Stone().Diary[0].Treatments)
	m, _ := s.Presets.Material(s.Stone().Material)
	assert.Contains(t, strings.Join(diary.Disclosures(s.Stone(), m), " "), "filled with glue")
	settle(t, v, s)
	assert.Empty(t, v.open(s))
	s.Undo()
	assert.False(t, s.Stone().Cracks[0].Sealed)
}

// The other piece of a cut that is done is offered as a stone of its own.
func TestTheOtherPieceIsOffered(t *testing.T) {
	v, s := bench(t)
	press(t, v, s, "k")
	a, ok := keys.Find(v.Actions(s), "d")
	require.True(t, ok)
	cmd := a.Run()
	require.NotNil(t, cmd)
	offered, ok := cmd().(view.NewStoneMsg)
	require.True(t, ok)
	assert.Equal(t, "Block, offcut", offered.Stone.Name)
	require.Empty(t, planner.Validate(offered.Stone, s.Presets))
	for _, p := range offered.Stone.Outline {
		assert.Greater(t, p.X, 18.0, "right of the stone")
	}
}

// In few rows the chosen cut's marks are to be read, whichever it is, and
// a click on the list takes the cut under it.
func TestMarksStayInSightOnASmallScreen(t *testing.T) {
	v, s := bench(t)
	n := len(v.kept(s))
	require.Greater(t, n, 1)
	for range n {
		k, at, _ := v.chosen(s)
		said := viewtest.Screen(v, s, 60, 11)
		assert.Contains(t, said, k.ID)
		assert.Contains(t, said, "past corner")
		i, ok := v.listed(s, v.listRow+at-v.listFrom)
		assert.True(t, ok)
		assert.Equal(t, at, i)
		press(t, v, s, "tab")
	}
}
