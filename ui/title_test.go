package ui

import (
	"fmt"
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"
	"github.com/stretchr/testify/require"

	"cabwright/planner"
)

// A long name is cut off, but keeps off the names of the views.
func TestTitleKeepsTheStonesNameApart(t *testing.T) {
	for _, width := range []int{80, 84, 88, 90, 100, 120, 160} {
		m := settled(t, "slab.stone", width, 24)
		require.NoError(t, m.s.Do("Name it", func(stone planner.Stone) (planner.Stone, error) {
			stone.Name = "Quillan Dig, the seventh of the second lot, and what is left of it"
			return stone, nil
		}))
		settle(t, m)
		title := strings.SplitN(frameOf(t, m), "\n", 2)[0]
		before, _, found := strings.Cut(title, "Quillan")
		require.True(t, found, "%q", title)
		require.True(t, strings.HasSuffix(before, "  "), "%q", title)
		require.Equal(t, width, ansi.StringWidth(title), "%q", title)
	}
}

// At every width a drawing has, and in every view, the title line tells each
// view's key and name, the stone's name and how it is kept, and a click on a
// view's name opens that view.
func TestTitleKeepsTheStonesName(t *testing.T) {
	for _, width := range []int{80, 90, 100, 120, 160} {
		for at := range settled(t, "slab.stone", width, 24).views {
			m := settled(t, "slab.stone", width, 24)
			require.NoError(t, m.s.Do("Name it", func(stone planner.Stone) (planner.Stone, error) {
				stone.Name = "River 1"
				return stone, nil
			}))
			settle(t, m)
			press(t, m, fmt.Sprint(at+1))
			title := strings.SplitN(frameOf(t, m), "\n", 2)[0]
			require.True(t, strings.HasSuffix(title, "  River 1  not saved"), "%q", title)
			for i, v := range m.views {
				word := fmt.Sprintf("%d %s", i+1, strings.Fields(v.Name())[0])
				before, _, found := strings.Cut(title, word)
				require.True(t, found, "no %s in %q", word, title)
				m.clickTitle(ansi.StringWidth(before))
				require.Equal(t, i, m.at, "clicked on %s in %q", word, title)
				press(t, m, fmt.Sprint(at+1))
			}
		}
	}
}
