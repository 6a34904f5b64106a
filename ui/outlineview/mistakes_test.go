package outlineview

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"cabwright/geometry"
	"cabwright/planner"
	"cabwright/presets"
)

// laid gives the bench the solid of its stone, or what is wrong with it.
func (b *bench) laid() *bench {
	stone := b.s.Stone()
	b.s.RoughOf = b.s.Revision()
	problems := planner.Validate(stone, presets.Builtin())
	if b.s.TakeMistakes(problems); len(problems) > 0 {
		b.s.Rough = nil
		return b
	}
	b.s.Rough, b.s.RoughErr = planner.NewRough(stone)
	require.NoError(b.t, b.s.RoughErr)
	b.s.Remark(planner.Remarks(stone, b.s.Rough, presets.Builtin()))
	return b
}

func (b *bench) screen(width, height int) []string { return b.v.Render(b.s, width, height) }

// A height typed on the wrong side of the other face is refused beside the field,
// with both heights, and the text stays.
func TestAHeightOnTheWrongSideIsRefusedWhereItIsTyped(t *testing.T) {
	b := newBench(t, square()).laid().keys("b", "12", "enter")
	text, wrong := b.s.Asking().Fields[0].Remark()
	require.True(t, wrong)
	require.Contains(t, text, "12 mm lies at or above the top, which is at 8.00 mm there")
	require.Equal(t, "12", b.s.Asking().Text(0))
	require.Equal(t, square(), b.s.Stone())
	b.keys("ctrl+u", "7.9", "enter")
	require.Len(t, b.s.Stone().Base, 2)

	b = newBench(t, square()).laid().keys("t", "0,0,0", "enter") // of the reading at the cursor
	text, wrong = b.s.Asking().Fields[0].Remark()
	require.True(t, wrong)
	require.Contains(t, text, "0 mm lies at or below the base, which is at 0.00 mm there")
}

// While a stone is wrong it is marked where, with what to do, and any height can be
// typed, so that it can be put right in any order.
func TestAReadingOnTheWrongSideIsMarkedAndNamed(t *testing.T) {
	stone := square()
	stone.Base = []geometry.Vec3{{X: 1}, {X: 5, Y: 5, Z: 12}, {X: -5, Y: 5}}
	b := newBench(t, stone).laid()
	for _, size := range [][2]int{{80, 21}, {160, 47}} {
		lines := b.screen(size[0], size[1])
		all := strings.Join(strings.Fields(strings.Join(lines, " ")), " ")
		require.Contains(t, all, "base reading 2: 12 mm lies")
		col, row := b.at(geometry.Vec2{X: 5, Y: 5})
		require.Equal(t, "!", string([]rune(lines[row])[col]))
	}
	require.Contains(t, b.s.Status().Text, "base reading 2: 12 mm lies at or above the top, which is at 8.00 mm there")
	b.keys("t", "0,0,30", "enter")
	require.Nil(t, b.s.Asking())
	require.Equal(t, 30.0, b.s.Stone().Top[0].Z)
	b.laid()
	require.Empty(t, b.s.Mistakes)
}

// A reading that was typed far outside is not in sight: where the way to it leaves the
// window it is marked, also with the stone turned over.
func TestAReadingBeyondTheWindowIsMarkedAtItsEdge(t *testing.T) {
	stone := square()
	stone.Top = []geometry.Vec3{{Z: 8}, {X: 5, Z: 8}, {Y: 5, Z: 8}, {X: 70, Y: 1, Z: 8}}
	b := newBench(t, stone).laid()
	marked := func() int {
		lines := b.screen(80, 21)
		_, row := b.at(geometry.Vec2{X: 70, Y: 1})
		require.Contains(t, lines[row], "beyond")
		return strings.IndexRune(lines[row], '!')
	}
	right := marked()
	require.Greater(t, right, 40)
	b.keys("f")
	require.Zero(t, marked())
}
