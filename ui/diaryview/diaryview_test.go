package diaryview

import (
	"encoding/json"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cabwright/geometry"
	"cabwright/geometry/solid"
	"cabwright/planner"
	"cabwright/planner/diary"
	"cabwright/planner/search"
	"cabwright/presets"
	"cabwright/ui/canvas"
	"cabwright/ui/view"
	"cabwright/ui/viewtest"
	"cabwright/ui/widget"
)

var update = flag.Bool("update", false, "write the golden frames anew")

// block is a porous stone of 20 x 10 x 6 mm with a crack and a pocket.
func block() planner.Stone {
	return planner.Stone{
		Name: "Brook", Material: "opal-hydrophane", SG: 1.83, ScaleCt: 11,
		Outline: []geometry.Vec2{{X: 0, Y: 0}, {X: 20, Y: 0}, {X: 20, Y: 10}, {X: 0, Y: 10}},
		Top:     []geometry.Vec3{{X: 10, Y: 5, Z: 6}}, Base: []geometry.Vec3{{X: 10, Y: 5, Z: 0}},
		Cracks: []planner.Crack{{ID: "C1", Path: []geometry.Vec2{{X: 15, Y: 0}, {X: 15, Y: 4}}, Face: planner.Top, Depth: 2}},
		Pockets: []planner.Pocket{{ID: "P1", Outline: []geometry.Vec2{{X: 2, Y: 2}, {X: 4, Y: 2}, {X: 3, Y: 4}},
			Face:  planner.Top,
			Depth: 3, DepthRange: &planner.Range{Least: 2, Most: 4}}},
		Allowances: planner.Allowances{Skin: 0.5, Crack: 1, SealedCrack: 0.6, Pocket: 0.5},
	}
}

// inTheWay is a stone in which P1 is in the way of whatever is asked about.
type inTheWay struct{}

func (inTheWay) Clearance(solid.Cabochon, search.Pose) search.Reading {
	return search.Reading{Clearance: -0.3, LimitedBy: []string{"P1"}}
}

func (x inTheWay) Settle(c search.Candidate, p search.Pose, _ float64) (search.Pose, search.Reading) {
	return p, x.Clearance(c.Solid, p)
}

// workbench is a view on a stone whose best fit has 4 ct.
func workbench(t *testing.T, stone planner.Stone) (*View, *view.State) {
	t.Helper()
	set := *presets.Builtin()
	set.Prices = []presets.Price{{Name: "any", PerCarat: presets.Range{Low: 8, Typical: 19, High: 30}, Currency: "EUR"}}
	s := viewtest.State(t, stone, &set)
	v := New()
	v.Today = func() time.Time { return time.Date(2026, 5, 1, 12, 0, 0, 0, time.UTC) }
	planAgain(t, v, s, viewtest.Oval(14, 4, 0.2))
	return v, s
}

func planAgain(t *testing.T, v *View, s *view.State, fits ...search.Fit) {
	t.Helper()
	viewtest.Lay(t, s)
	s.Site = inTheWay{}
	s.Take(search.Plan{Fits: fits, Tolerance: 0.05}, s.Revision())
	viewtest.Settle(v, s)
}

// fill sets fields of the open form and ends it; the error is the form's.
func fill(t *testing.T, s *view.State, values map[int]string) error {
	t.Helper()
	f := s.Asking()
	require.NotNil(t, f)
	for i, text := range values {
		f.Fields[i].With(text)
	}
	err := f.Done(f)
	if err == nil {
		s.Ask(nil)
	}
	return err
}

// worked is a bench with three entries: bought, ground 0.7 mm off the top, sealed.
func worked(t *testing.T) (*View, *view.State) {
	v, s := workbench(t, block())
	viewtest.Press(t, v, s, "n")
	require.NoError(t, fill(t, s, map[int]string{date: "2026-05-01", carat: "11", note: "from the kettle lot"}))
	planAgain(t, v, s, viewtest.Oval(14, 4, 0.2))
	viewtest.Press(t, v, s, "n")
	require.NoError(t, fill(t, s, map[int]string{stage: "first grind", date: "2026-05-03", carat: "9.8", ground: "0.7",
		found: "P1.depth=3.6"}))
	planAgain(t, v, s, viewtest.Oval(12, 2.5, 0.2))
	return v, s
}

// As they were looked at and found good: no entry yet, what the last entry did, an
// entry that was made, and two beside each other.
func TestGoldenFrames(t *testing.T) {
	for name, at := range map[string]func(t *testing.T) (*View, *view.State){
		"empty": func(t *testing.T) (*View, *view.State) { return workbench(t, block()) },
		"now":   worked,
		"entry": func(t *testing.T) (*View, *view.State) {
			v, s := worked(t)
			viewtest.Press(t, v, s, "up")
			return v, s
		},
		"beside": func(t *testing.T) (*View, *view.State) {
			v, s := worked(t)
			viewtest.Press(t, v, s, "up", "b", "up")
			return v, s
		},
	} {
		for _, size := range [][2]int{{80, 20}, {160, 46}, {50, 20}} {
			t.Run(fmt.Sprintf("%s-%dx%d", name, size[0], size[1]), func(t *testing.T) {
				v, s := at(t)
				golden(t, viewtest.Screen(v, s, size[0], size[1]))
			})
		}
	}
}

func golden(t *testing.T, frame string) {
	t.Helper()
	path := filepath.Join("testdata", filepath.Base(t.Name())+".txt")
	if *update {
		require.NoError(t, os.MkdirAll("testdata", 0o755))
		require.NoError(t, os.WriteFile(path, []byte(frame), 0o644))
	}
	want, err := os.ReadFile(path)
	require.NoError(t, err)
	require.Equal(t, string(want), frame, "-update writes the frames anew")
}

// An entry says what it did: best before and after, the carats and the likely worth
// lost, 1.5 ct at 19 a carat, and by which mark. Drawing works none of it out.
func TestAnEntrySaysWhatItChanged(t *testing.T) {
	v, s := workbench(t, block())
	viewtest.Press(t, v, s, "n")
	require.NoError(t, fill(t, s, map[int]string{stage: "first grind", ground: "0.7", found: "P1.depth=3.6"}))
	assert.Contains(t, viewtest.Screen(v, s, 160, 40), "Planning anew…")
	assert.InDelta(t, 5.3, s.Stone().Top[0].Z, 1e-9, "ground off the top")
	assert.InDelta(t, 3.6, s.Stone().Pockets[0].Depth, 1e-9, "what was found takes the place of what was thought")

	viewtest.Lay(t, s)
	s.Site = inTheWay{}
	s.Take(search.Plan{Fits: []search.Fit{viewtest.Oval(12, 2.5, 0.2)}}, s.Revision())
	assert.Contains(t, viewtest.Screen(v, s, 160, 40), "Planning anew…", "drawing does not compare")
	viewtest.Settle(v, s)
	said := strings.Join(strings.Fields(strings.Join(v.figures(s, 200), " ")), " ")
	for _, want := range []string{
		"P1 depth: found 3.6 mm, outside 1.3 to 3.3 (thought 2.3)",
		"Best now 2.50 ct, 12x8 oval; was 4.00, 14x8 oval: 1.50 ct lost, taken by P1.",
		"Likely worth now 47.50 EUR, was 76.00: 28.50 lost.",
	} {
		assert.Contains(t, said, want)
	}
	// It is of the entry alone: an edit takes it off the screen, undoing too.
	s.Undo()
	assert.NotContains(t, viewtest.Screen(v, s, 160, 40), "Best now")
}

// What is compared is best with best, whichever fit was chosen to be kept.
func TestAChosenFitIsKeptAndTheBestIsCompared(t *testing.T) {
	v, s := workbench(t, block())
	planAgain(t, v, s, viewtest.Oval(14, 4, 0.2), viewtest.Oval(10, 1, 0.2))
	s.Choose(s.Plan.Fits[1])
	viewtest.Press(t, v, s, "n")
	require.NoError(t, fill(t, s, map[int]string{stage: "dry"}))
	planAgain(t, v, s, viewtest.Oval(14, 4, 0.2))
	assert.Contains(t, strings.Join(v.figures(s, 200), " "), "Best now 4.00 ct, 14x8 oval; was 4.00, 14x8 oval.")
	var kept struct{ Carat float64 }
	require.NoError(t, json.Unmarshal(s.Stone().Diary[0].Planned, &kept))
	assert.Equal(t, 1.0, kept.Carat)
}

// Entries are walked with keys, wheel and pointer; the one that stays beside is passed
// over; undo takes an entry and the choice with it.
func TestEntriesAreChosen(t *testing.T) {
	v, s := worked(t)
	require.Equal(t, 2, v.at)
	viewtest.Press(t, v, s, "up")
	assert.Equal(t, 1, v.at)
	viewtest.Press(t, v, s, "b")
	assert.Equal(t, []int{1, 2}, []int{v.beside, v.at}, "what is chosen stays, and another is taken")
	viewtest.Press(t, v, s, "up")
	assert.Equal(t, 0, v.at, "past the one that stays")
	v.Mouse(s, view.Mouse{Kind: view.WheelDown, Height: 20})
	assert.Equal(t, 2, v.at)
	v.Mouse(s, view.Mouse{Kind: view.Press, Row: listHead, Height: 20})
	assert.Equal(t, 0, v.at)
	v.Mouse(s, view.Mouse{Kind: view.Press, Row: 15, Height: 20})
	assert.Equal(t, 0, v.at, "the drawing is no list")
	viewtest.Press(t, v, s, "b")
	assert.Equal(t, alone, v.beside)
	viewtest.Press(t, v, s, "down", "down", "down")
	assert.Equal(t, 2, v.at, "it stops at the stone of now")
	s.Undo()
	s.Undo()
	assert.Contains(t, viewtest.Screen(v, s, 80, 20), "No entry yet")
	assert.Equal(t, 0, v.at)
}

// What an entry keeps is read beside the event loop, once, and said to be on its way.
func TestAPastStoneIsReadOnce(t *testing.T) {
	v, s := worked(t)
	v.pasts = map[key]past{}
	v.at = 0
	assert.Contains(t, viewtest.Screen(v, s, 80, 20), "being read…")
	cmd := v.Follow(s)
	require.NotNil(t, cmd)
	assert.Nil(t, v.followPasts(s), "one at a time")
	v.Update(s, cmd())
	assert.NotContains(t, viewtest.Screen(v, s, 80, 20), "being read…")
	assert.InDelta(t, 6, v.pasts[keyOf(s.Stone().Diary[0])].stone.Top[0].Z, 1e-9, "the stone as it was")
	viewtest.Settle(v, s)
	assert.Len(t, v.pasts, 1)
}

// Wrong values are said in the form, at their field, and change nothing.
func TestWrongEntriesAreRefusedInTheForm(t *testing.T) {
	v, s := workbench(t, block())
	for name, c := range map[string]struct {
		values map[int]string
		field  int
		says   string
	}{
		"no date":           {map[int]string{date: "yesterday"}, date, "is not a date"},
		"weighs nothing":    {map[int]string{carat: "0"}, carat, "a stone weighs something"},
		"ground to nothing": {map[int]string{stage: "first grind", ground: "60"}, ground, "leaves nothing"},
		"found nonsense":    {map[int]string{found: "P1"}, found, "write a mark, what of it and its mm"},
		"found no number":   {map[int]string{found: "P1.depth=deep"}, found, "write a mark"},
		"no such mark":      {map[int]string{found: "P9.depth=2"}, found, "P9"},
		"no such crack":     {map[int]string{stage: "sealed", seal: "C9"}, seal, "no crack C9 to seal"},
	} {
		t.Run(name, func(t *testing.T) {
			viewtest.Press(t, v, s, "n")
			err := fill(t, s, c.values)
			var wrong widget.Wrong
			require.ErrorAs(t, err, &wrong)
			assert.Equal(t, c.field, wrong.Field)
			assert.ErrorContains(t, wrong.Err, c.says)
			assert.Empty(t, s.Stone().Diary)
			s.Ask(nil)
		})
	}
}

// The form asks for what a stage can have: no grinding while it is bought, no glue but
// when it is sealed.
func TestTheFormAsksWhatTheStageCanHave(t *testing.T) {
	v, s := workbench(t, block())
	viewtest.Press(t, v, s, "n")
	f := s.Asking()
	for stageName, want := range map[string][2]bool{"bought": {false, false}, "first grind": {true, false},
		"sealed": {false, true}} {
		f.Fields[stage].With(stageName)
		assert.Equal(t, want, [2]bool{f.Asked(ground), f.Asked(seal)}, stageName)
	}
	require.NoError(t, fill(t, s, map[int]string{stage: "sealed", seal: "C1", treatments: "smoke, dye"}))
	assert.True(t, s.Stone().Cracks[0].Sealed)
	assert.Equal(t, []string{"smoke", "dye", "cyanoacrylate glue in C1"}, s.Stone().Diary[0].Treatments)
	said := strings.Join(v.figures(s, 200), " ")
	assert.Contains(t, said, "Tell the buyer")
	assert.Contains(t, said, "dyed")
}

func TestNextStage(t *testing.T) {
	at := func(stages ...string) planner.Stone {
		var s planner.Stone
		for _, st := range stages {
			s.Diary = append(s.Diary, planner.Entry{Stage: st})
		}
		return s
	}
	assert.Equal(t, "bought", nextStage(planner.Stone{}))
	assert.Equal(t, "dry", nextStage(at("bought")))
	assert.Equal(t, "sold", nextStage(at("bought", "polished")))
	assert.Equal(t, "sold", nextStage(at("sold")))
	assert.Equal(t, "bought", nextStage(at("a word of one's own")))
}

// Without a stone or an entry, at any size, nothing breaks and nothing is too wide.
func TestAnySizeAndNothingToShow(t *testing.T) {
	v, s := worked(t)
	viewtest.Press(t, v, s, "up", "b")
	empty := view.NewState(planner.NewHistory(planner.Stone{}), presets.Builtin(), s.Style, canvas.ASCII)
	broken := s.Stone()
	broken.Diary = []planner.Entry{{Stage: "bought", Stone: json.RawMessage(`{"format": "none"}`)}, {Stage: "dry"}}
	odd := view.NewState(planner.NewHistory(broken), s.Presets, s.Style, canvas.Braille)
	for _, c := range []struct {
		v *View
		s *view.State
	}{{v, s}, {New(), s}, {New(), empty}, {New(), odd}} {
		for range 3 {
			for _, size := range [][2]int{{0, 0}, {1, 1}, {29, 7}, {40, 10}, {60, 18}, {80, 21}, {160, 48}} {
				lines := c.v.Render(c.s, size[0], size[1])
				assert.LessOrEqual(t, len(lines), size[1])
				for _, l := range lines {
					assert.LessOrEqual(t, view.Width(l), size[0], "%q", l)
				}
			}
			c.v.move(c.s, -1)
			viewtest.Settle(c.v, c.s)
		}
	}
	for _, a := range New().Actions(empty) {
		if a.Disabled == "" {
			assert.NotPanics(t, func() { a.Run() }, a.Name)
		}
	}
	var none tea.Msg
	assert.Nil(t, v.Update(empty, none))
	assert.Equal(t, []string{"a", "b"}, listed(" a, ,b,"))
	assert.Equal(t, "dry, 0.5 mm off the base, gone: C1",
		said(diary.Step{Stage: "dry", Ground: &planner.Grinding{Face: planner.Base, MM: 0.5}},
			diary.Done{Ground: planner.Ground{Gone: []string{"C1"}}}))
}
