package marks

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"cabwright/planner"
	"cabwright/ui/keys"
	"cabwright/ui/view"
)

func TestADepthTypedAsARange(t *testing.T) {
	b := newBench(t, marked()).keys("tab", "e", "2-3-5")
	rough, err := planner.NewRough(b.s.Stone())
	require.NoError(t, err)
	b.s.Rough = rough
	text, wrong := b.s.Asking().Fields[0].Remark()
	require.False(t, wrong)
	// Triangular between 2 and 5 with its peak at 3: passed with a chance of 1 in 3
	// at 5 - sqrt(1/3 * 3 * 2) = 3.586 (Johnson, Kotz, Balakrishnan 1995, 26.9).
	require.Equal(t, "= 2 to 5 mm, likely 3: 1 in 3 deeper than 3.6", text)
	b.keys("ctrl+s")
	require.Equal(t, 3.0, b.s.Stone().Cracks[0].Depth)
	require.Equal(t, &planner.Range{Least: 2, Most: 5}, b.s.Stone().Cracks[0].DepthRange)
	require.Contains(t, b.render(), "3.0 (2.0-5.0) mm deep")
	b.keys("e", "2-through", "ctrl+s")
	require.True(t, b.s.Stone().Cracks[0].Through)
	require.Equal(t, &planner.Range{Least: 2, Open: true}, b.s.Stone().Cracks[0].DepthRange)
	b.keys("e", "4", "ctrl+s")
	require.Nil(t, b.s.Stone().Cracks[0].DepthRange)
}

func TestOneKeyMakesAMarkUnsureAndSure(t *testing.T) {
	b := newBench(t, marked())
	a, ok := keys.Find(b.v.Actions(b.s), "n")
	require.True(t, ok)
	require.NotEmpty(t, a.Disabled, "nothing is selected")
	b.keys("tab", "n")
	require.Equal(t, &planner.Range{Least: 1.5, Most: 6}, b.s.Stone().Cracks[0].DepthRange)
	b.keys("n")
	require.Nil(t, b.s.Stone().Cracks[0].DepthRange)
	b.keys("tab", "tab")
	a, _ = keys.Find(b.v.Actions(b.s), "n")
	require.NotEmpty(t, a.Disabled, "a colour zone has no depth to be unsure of")
}

func TestCouldItBeLessOrMore(t *testing.T) {
	b := newBench(t, marked()).keys("tab", "N", "4", "ctrl+s")
	text, wrong := b.s.Asking().Fields[0].Remark()
	require.True(t, wrong)
	require.Contains(t, text, "more than the likely 3 mm")
	b.keys("ctrl+u", "2", "enter", "1", "ctrl+s")
	text, _ = b.s.Asking().Fields[1].Remark()
	require.Contains(t, text, "less than the likely 3 mm")
	b.keys("ctrl+u", "5", "enter", "40", "ctrl+s")
	k := b.s.Stone().Cracks[0]
	require.Equal(t, &planner.Range{Least: 2, Most: 5}, k.DepthRange)
	require.Equal(t, 0.4, *k.Chance)
	require.Contains(t, b.s.Status().Text, "1 in 3 deeper than 3.6")
	require.Contains(t, b.render(), "40% that it is there")
	b.keys("N", "ctrl+u", "enter", "ctrl+u", "enter", "ctrl+u", "enter")
	k = b.s.Stone().Cracks[0]
	require.Nil(t, k.DepthRange)
	require.Nil(t, k.Chance)
}

func TestAPocketSupposedWhereACrackEnds(t *testing.T) {
	b := newBench(t, marked()).keys("tab", "P", "ctrl+s")
	require.Len(t, b.s.Stone().Pockets, 2)
	p := b.s.Stone().Pockets[1]
	require.Equal(t, 0.5, *p.Chance)
	require.Equal(t, 3.0, p.Depth, "as deep as the crack")
	for _, q := range p.Outline {
		require.InDelta(t, 1, q.Sub(b.s.Stone().Cracks[0].Path[1]).Norm(), 0.06, "about the end of the crack")
	}
	b.s.Undo()
	require.Len(t, b.s.Stone().Pockets, 1)
}

// Looked to 2.0 and still there: that is the least from then on.
func TestLookedToIsTheLeast(t *testing.T) {
	b := newBench(t, marked()).keys("tab")
	a, ok := keys.Find(b.v.Actions(b.s), "W")
	require.True(t, ok)
	require.NotEmpty(t, a.Disabled, "its depth is known")
	b.keys("n", "W", "enter", "1", "ctrl+s")
	text, wrong := b.s.Asking().Fields[1].Remark()
	require.True(t, wrong)
	require.Contains(t, text, "1.5 mm deep at the least")
	b.keys("ctrl+u", "2", "ctrl+s")
	require.Equal(t, &planner.Range{Least: 2, Most: 6}, b.s.Stone().Cracks[0].DepthRange)
	require.Contains(t, b.s.Status().Text, "2 mm deep at the least")
	b.s.Undo()
	require.Equal(t, 1.5, b.s.Stone().Cracks[0].DepthRange.Least)
}

// All that is not sure of a mark stands in its line, and that of the chosen one is there in
// full however narrow the list is; a click on any of its lines means it.
func TestAllThatIsUnsureOfAMarkIsRead(t *testing.T) {
	stone := marked()
	half := 0.5
	k := &stone.Cracks[0]
	k.RunOn, k.RunOnRange = 1.2, &planner.Range{Least: 0, Most: 4}
	k.DepthRange, k.Chance, k.Lean = &planner.Range{Least: 1, Most: 6}, &half, 15
	p := &stone.Pockets[0]
	p.Face, p.Low, p.High = planner.Inside, 1, 3
	p.BottomRange, p.TopRange = &planner.Range{Least: 0.5, Most: 2}, &planner.Range{Least: 2.5, Most: 5}
	const crack = "C1  crack, top, 3.0 (1.0-6.0) mm deep, 50% that it is there, " +
		"leans 15° toward 0°, may run on 1.2 (0.0-4.0) mm"
	b := newBench(t, stone).keys("tab")
	b.v.area = place(60, 30, 3)
	list := strings.Join(b.v.list(b.s), "\n")
	require.Contains(t, strings.Join(strings.Fields(list), " "), strings.Join(strings.Fields(crack), " "))
	require.Contains(t, list, "heights 1.0 (0.5-2.0) to 3.0 (2.5-5.0…", "the others are cut short")
	for row, want := range []int{0, 0, 1, 2} {
		require.Less(t, row, len(b.v.listed), list)
		kinds := []view.Kind{view.Crack, view.Pocket, view.Zone}
		require.Equal(t, kinds[want], b.v.listed[row].Kind, "line %d of\n%s", row, list)
	}
	b.v.pick(b.s, view.Mouse{Row: b.v.area.listRow + 3})
	require.Equal(t, view.Pocket, b.s.Selected.Kind)

	open := stone.Cracks[0]
	open.Through, open.DepthRange = true, &planner.Range{Least: 2, Open: true}
	require.Contains(t, describeCrack(open), "right through or from 2.0 mm deep")
}
