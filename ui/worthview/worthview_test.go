package worthview

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cabwright/geometry"
	"cabwright/planner"
	"cabwright/planner/folder"
	"cabwright/planner/learn"
	"cabwright/planner/money"
	"cabwright/planner/odds"
	"cabwright/planner/planjson"
	"cabwright/planner/search"
	"cabwright/planner/worth"
	"cabwright/presets"
	"cabwright/ui/canvas"
	"cabwright/ui/keys"
	"cabwright/ui/view"
	"cabwright/ui/viewtest"
)

var update = flag.Bool("update", false, "write the golden frames anew")

func block(name string, scaleCt float64, cost *planner.Cost) planner.Stone {
	return planner.Stone{
		Name: name, Material: "jasper", SG: 2.5, ScaleCt: scaleCt, Cost: cost,
		Outline: []geometry.Vec2{{X: 0, Y: 0}, {X: 20, Y: 0}, {X: 20, Y: 10}, {X: 0, Y: 10}},
		Top:     []geometry.Vec3{{X: 10, Y: 5, Z: 5}}, Base: []geometry.Vec3{{X: 10, Y: 5, Z: 0}},
		Allowances: planner.Allowances{Skin: 0.5, Crack: 1, SealedCrack: 0.6, Pocket: 0.5},
	}
}

func sumOf(figures string) *money.Amount {
	a, err := money.ParseFigures(figures)
	if err != nil {
		panic(err)
	}
	return &a
}

// kettle is a lot of 60 ct for 100.00, with 2 of extras for each stone of it.
func kettle() *planner.Cost {
	return &planner.Cost{Currency: "EUR", Extra: sumOf("2"),
		Lot: &planner.Lot{Name: "Kettle", Carat: 60, Paid: sumOf("100.00")}}
}

// workbench is a view on a stone with two fits, of 4 and of 3 ct, priced at 8, 19
// and 30 a carat; the light one at ten times as much.
func workbench(t *testing.T, stone planner.Stone) (*View, *view.State) {
	t.Helper()
	set := *presets.Builtin()
	set.Prices = []presets.Price{
		{Name: "small", Carat: presets.Span{Low: 2, High: 3.5}, PerCarat: presets.Range{Low: 80, Typical: 190, High: 300},
			Currency: "EUR"},
		{Name: "any", PerCarat: presets.Range{Low: 8, Typical: 19, High: 30}, Currency: "EUR"},
	}
	set.RoughPrices = []presets.RoughPrice{{PerCarat: presets.Range{Low: 1, Typical: 2, High: 3}, Currency: "EUR"}}
	s := viewtest.State(t, stone, &set)
	s.Take(search.Plan{Fits: []search.Fit{viewtest.Oval(14, 4, 0.5), viewtest.Oval(12, 3, 0.5)}, Tolerance: 0.05},
		s.Revision())
	v := New()
	viewtest.Settle(v, s)
	return v, s
}

// neighbours puts two more stones of the lot into the folder, one of them planned at
// 5 ct, and what finished stones taught: a tenth lighter, from a fifth to nothing.
func neighbours(t *testing.T, s *view.State) {
	t.Helper()
	planned := block("Sedge", 25, kettle())
	planned.Diary = []planner.Entry{{Date: "2026-05-01", Stage: "bought",
		Planned: planjson.Fit(1, viewtest.Oval(15, 5, 0.5))}}
	other := kettle()
	other.Lot.Name = "Another"
	s.Folder = view.Folder{Number: 1, Own: &learn.Correction{Stones: 9, Low: 0.8, Middle: 0.9, High: 1},
		Stones: []folder.Stone{
			{File: "sedge.stone", Stone: planned},
			{File: "bare.stone", Stone: block("", 15, kettle())},
			{File: "else.stone", Stone: block("Elsewhere", 15, other)},
			{File: "bad.stone", Err: os.ErrInvalid},
		}}
}

// As they were looked at and found good: nothing said, all there is to say, a bet.
func TestGoldenFrames(t *testing.T) {
	for name, make := range map[string]func(t *testing.T) (*View, *view.State){
		"bare": func(t *testing.T) (*View, *view.State) { return workbench(t, block("Brook", 0, nil)) },
		"lot": func(t *testing.T) (*View, *view.State) {
			v, s := workbench(t, block("Brook", 20, kettle()))
			neighbours(t, s)
			viewtest.Settle(v, s)
			return v, s
		},
		"bet": func(t *testing.T) (*View, *view.State) {
			v, s := workbench(t, block("Brook", 20, &planner.Cost{Currency: "EUR", Paid: sumOf("24.40")}))
			left := viewtest.Oval(11, 1.5, 0.5)
			s.Bets = view.Bets{Of: s.Revision(), Known: true, Answer: odds.Answer{Places: []odds.Place{{Fit: s.Plan.Fits[0],
				Odds: 0.625, IfNot: &left}}}}
			viewtest.Settle(v, s)
			return v, s
		},
	} {
		for _, size := range [][2]int{{80, 20}, {160, 46}, {50, 20}} {
			t.Run(fmt.Sprintf("%s-%dx%d", name, size[0], size[1]), func(t *testing.T) {
				v, s := make(t)
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

// 4 ct (3.5 to 4.5) at 8, 19, 30 and 3 ct (2.5 to 3.5) at ten times that; the cost of
// 24.40 comes back at 6.10 and at 8.13 a carat.
func TestTheListIsPricedAndSorted(t *testing.T) {
	v, s := workbench(t, block("Brook", 20, &planner.Cost{Currency: "EUR", Paid: sumOf("24.40")}))
	said := viewtest.Screen(v, s, 160, 40)
	for _, want := range []string{"28.00", "76.00", "135.00", "6.10", "200.00", "570.00", "1050.00", "8.13", "68%",
		"20.00 - 60.00"} {
		assert.Contains(t, said, want)
	}
	assert.Equal(t, 4.0, v.fits()[0].Carat)
	viewtest.Press(t, v, s, "w")
	assert.Equal(t, 3.0, v.fits()[0].Carat, "the dearest first")
	assert.Contains(t, viewtest.Screen(v, s, 160, 40), "By likely worth")
	viewtest.Press(t, v, s, "w")
	assert.Equal(t, 4.0, v.fits()[0].Carat)

	// Chosen with keys, wheel and pointer, and held in sight.
	require.Equal(t, 0, v.at(s))
	viewtest.Press(t, v, s, "down", "down")
	assert.Equal(t, 1, v.at(s), "it stops at the end")
	v.Mouse(s, view.Mouse{Kind: view.WheelUp})
	assert.Equal(t, 0, v.at(s))
	v.Mouse(s, view.Mouse{Kind: view.Press, Row: listHead + 1})
	assert.Equal(t, 1, v.at(s))
	v.Mouse(s, view.Mouse{Kind: view.Press, Row: listHead + 7})
	assert.Equal(t, 1, v.at(s), "there is nothing there")
	assert.Contains(t, viewtest.Screen(v, s, 80, listHead+1), "▸ 12x8 oval")
}

// 100.00 by 20, 25 and 15 of 60 ct is 33.33, 41.67 and 25.00, each with 2 of extras:
// as the command has it for the three files together.
func TestTheStonesOfALotShareWhatWasPaid(t *testing.T) {
	v, s := workbench(t, block("Brook", 20, kettle()))
	require.Empty(t, v.latest().lot)
	assert.Contains(t, viewtest.Screen(v, s, 160, 40), "No other stone of it lies in this folder.")
	assert.Equal(t, "35.33", v.latest().stone.Cost.Text(money.Currency{Digits: 2}))
	neighbours(t, s)
	viewtest.Settle(v, s)
	euro := money.Currency{Code: "EUR", Digits: 2}
	sum := money.Amount{}
	var shares []string
	for _, l := range v.latest().lot {
		sum, shares = sum.Plus(*l.cost), append(shares, l.cost.Text(euro))
	}
	assert.Equal(t, []string{"35.33", "43.67", "27.00"}, shares)
	assert.Equal(t, "106.00", sum.Text(euro))
	lot := v.latest().lot
	assert.Equal(t, "bare.stone", lot[2].name, "a stone without a name goes by its file's")
	assert.Equal(t, "95.00", lot[1].value.Likely.Text(euro), "the 5 ct of its diary, at 19")
	assert.Nil(t, lot[2].value)
	// 135 at its best pays for the 100; 30 x 5.5 = 165 does too.
	assert.Equal(t, worth.PaysAtHigh, lot[0].pays)
	assert.Equal(t, worth.PaysAtHigh, lot[1].pays)
	said := viewtest.Screen(v, s, 160, 40)
	for _, want := range []string{"paid", "100.00 for 60.00 ct", "together", "106.00", "171.00",
		"Brook alone may pay for the lot.", "1 of them not planned"} {
		assert.Contains(t, said, want)
	}
}

// What a cutter's own stones say stands beside what is planned, which stays.
func TestByOnesOwnStones(t *testing.T) {
	v, s := workbench(t, block("Brook", 20, kettle()))
	assert.NotContains(t, viewtest.Screen(v, s, 160, 40), "By your own stones")
	neighbours(t, s)
	viewtest.Settle(v, s)
	said := viewtest.Screen(v, s, 160, 40)
	for _, want := range []string{"By your own stones", "3.20 - 4.00", "25.60 - 120.00",
		"your 9 finished stones came out 10% lighter", "76.00"} {
		assert.Contains(t, said, want)
	}
}

// A price that is typed counts in place of the presets', here and wherever fits are
// priced.
func TestATypedPriceCounts(t *testing.T) {
	v, s := workbench(t, block("Brook", 20, nil))
	s.Typed = &worth.Span{Low: money.Of(10), High: money.Of(20)}
	viewtest.Settle(v, s)
	said := viewtest.Screen(v, s, 160, 40)
	for _, want := range []string{"35.00", "60.00", "90.00", "as typed", "price typed", "10 - 20"} {
		assert.Contains(t, said, want)
	}
	viewtest.Press(t, v, s, "p")
	assert.Equal(t, "10", s.Asking().Text(0), "what counts now is there to be changed")
}

// Drawing works nothing out: it shows what was, and says of which stone that is.
func TestWhatIsShownIsOfTheStoneBefore(t *testing.T) {
	v, s := workbench(t, block("Brook", 20, nil))
	require.NoError(t, s.Do("Set the cost", func(st planner.Stone) (planner.Stone, error) {
		return planner.SetCost(st, &planner.Cost{Currency: "EUR", Paid: sumOf("77.77")})
	}))
	said := viewtest.Screen(v, s, 160, 40)
	assert.NotContains(t, said, "77.77")
	assert.Contains(t, said, "of the stone before the last edit")
	s.PlanOf = s.Revision()
	viewtest.Settle(v, s)
	assert.Contains(t, viewtest.Screen(v, s, 160, 40), "77.77")
	assert.NotContains(t, viewtest.Screen(v, s, 160, 40), "before the last edit")
	assert.Nil(t, v.Follow(s), "what is known is not worked out again")
}

// Without a stone, a fit or a price, at any size, nothing breaks and nothing is too
// wide.
func TestAnySizeAndNothingToShow(t *testing.T) {
	v, s := workbench(t, block("Brook", 20, kettle()))
	neighbours(t, s)
	viewtest.Settle(v, s)
	empty := view.NewState(planner.NewHistory(planner.Stone{}), presets.Builtin(), s.Style, canvas.ASCII)
	for _, c := range []struct {
		v *View
		s *view.State
	}{{v, s}, {New(), s}, {New(), empty}} {
		for range 2 { // before anything is worked out, and after
			for _, size := range [][2]int{{0, 0}, {1, 1}, {29, 7}, {40, 10}, {59, 18}, {60, 18}, {80, 21}, {160, 48}} {
				lines := c.v.Render(c.s, size[0], size[1])
				assert.LessOrEqual(t, len(lines), size[1])
				for _, l := range lines {
					assert.LessOrEqual(t, view.Width(l), size[0], "%q", l)
				}
			}
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
}

// Whatever the width, no figure of the list is cut short: a column has room in full
// or is left out.
func TestFiguresAreNeverCutShort(t *testing.T) {
	v, s := workbench(t, block("Brook", 20, &planner.Cost{Currency: "EUR", Paid: sumOf("24.40")}))
	for width := 30; width < 130; width++ {
		line := v.list(s, v.latest(), width, 10)[listHead]
		for _, word := range strings.Fields(line)[1:] {
			if strings.Contains(word, "…") {
				assert.NotRegexp(t, `\d\D*…`, strings.TrimPrefix(word, "14x8"), "at %d: %q", width, line)
			}
		}
		assert.LessOrEqual(t, view.Width(line), width)
	}
	for width, heads := range map[int]string{40: "fit, mm ct worth low", 52: "fit, mm ct worth low high even at",
		77: "fit, mm face ct worth low likely high even at"} {
		assert.Equal(t, heads, strings.Join(strings.Fields(v.list(s, v.latest(), width, 10)[1]), " "), "%d", width)
	}
}

// Where marks are not sure the odds are a key away; where all are, the key says so.
func TestOddsAreAskedFor(t *testing.T) {
	v, s := workbench(t, block("Brook", 20, nil))
	a, ok := keys.Find(v.Actions(s), "o")
	require.True(t, ok)
	assert.Equal(t, "every mark is sure", a.Disabled)
	unsure := block("Brook", 20, nil)
	unsure.Pockets = []planner.Pocket{{ID: "P1", Outline: []geometry.Vec2{{X: 2, Y: 2}, {X: 4, Y: 2}, {X: 3, Y: 4}},
		Face:  planner.Top,
		Depth: 3, DepthRange: &planner.Range{Least: 2, Most: 4}}}
	v, s = workbench(t, unsure)
	assert.Contains(t, viewtest.Screen(v, s, 160, 40), "Marks are not sure: o weighs the odds.")
	a, _ = keys.Find(v.Actions(s), "o")
	require.Empty(t, a.Disabled)
	assert.Equal(t, view.WeighMsg{}, a.Run()())
	s.Bets.Wanted = true
	assert.NotContains(t, viewtest.Screen(v, s, 160, 40), "o weighs the odds")
}
