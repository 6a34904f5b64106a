package keys

import (
	"testing"

	"github.com/charmbracelet/bubbles/key"
	"github.com/stretchr/testify/require"
)

var some = []Action{
	{
		Name:  "Undo: Move corner 3",
		Keys:  []string{"u"},
		Short: "undo",
		Help:  "take the latest edit back",
	},
	{
		Name:  "Add a corner",
		Keys:  []string{"a"},
		Short: "add corner",
		Help:  "at the cursor",
	},
	{
		Name:     "Delete corner 3",
		Keys:     []string{"d", "delete"},
		Short:    "delete",
		Help:     "the selected corner",
		Disabled: "nothing is selected",
	},
	{
		Name: "Zoom in",
		Keys: []string{"+"},
		Help: "about the cursor",
	},
	{Name: "Only in the list", Help: "it has no key", Short: "never"},
}

func TestFind(t *testing.T) {
	a, ok := Find(some, "delete")
	require.True(t, ok)
	require.Equal(t, "Delete corner 3", a.Name)
	_, ok = Find(some, "")
	require.False(t, ok)
	_, ok = Find(nil, "u")
	require.False(t, ok)
}

func names(actions []Action) (out []string) {
	for _, a := range actions {
		out = append(out, a.Name)
	}
	return out
}

func TestSearchFindsEveryWordAnywhere(t *testing.T) {
	require.Len(t, Search(some, ""), len(some))
	require.Len(t, Search(some, "  "), len(some))
	require.Equal(t, []string{"Undo: Move corner 3", "Add a corner", "Delete corner 3"}, names(Search(some, "CORNER")))
	require.Equal(t, []string{"Delete corner 3"}, names(Search(some, "corner sel")))
	require.Equal(t, []string{"Add a corner"}, names(Search(some, "add")))
	require.Empty(t, Search(some, "polish"))
	require.Equal(t, "Zoom in", Search(append([]Action{{Name: "Other", Help: "zoom"}}, some...), "zoom")[0].Name,
		"a name that begins with it comes first")
}

func words(hints []key.Binding) (out []string) {
	for _, h := range hints {
		out = append(out, h.Help().Key+" "+h.Help().Desc)
	}
	return out
}

func TestHintsShowWhatCanBeDoneAndFits(t *testing.T) {
	require.Equal(t, []string{"u undo", "a add corner"}, words(Hints(some, 80, false)))
	require.Equal(t, []string{"u undo"}, words(Hints(some, 19, false)), "u undo  a add corner takes 20 cells")
	require.Len(t, Hints(some, 20, false), 2)
	require.Empty(t, Hints(some, 5, false))
	require.Empty(t, Hints(nil, 80, false))
}

// Without arrows in the font, arrow keys are words: a v or a < reads as a letter.
func TestArrowKeysAreWordsWhereThereAreNoArrows(t *testing.T) {
	next := []Action{{Name: "Next", Keys: []string{"down"}, Short: "next", Run: Do(func() {})}}
	require.Equal(t, []string{"↓ next"}, words(Hints(next, 80, false)))
	require.Equal(t, []string{"down next"}, words(Hints(next, 80, true)))
	require.Empty(t, Hints(next, len("down nex"), true))
	require.Equal(t, []string{"up/down choose", "left/right choose"},
		words([]key.Binding{Spelled(Hint("↑↓", "choose")), Spelled(Hint("← →", "choose"))}))
}
