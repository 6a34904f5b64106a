package planner

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func TestSlips(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want int
	}{
		{"", "", 0}, {"", "opal", 4}, {"opal", "", 4}, {"opal", "opal", 0},
		{"opel", "opal", 1}, {"opl", "opal", 1}, {"opaal", "opal", 1}, {"poal", "opal", 1},
		// The textbook's own: kitten, sitten, sittin, sitting.
		{"kitten", "sitting", 3}, {"jaspar", "jasper", 1}, {"ca", "abc", 3}, {"über", "uber", 1},
	} {
		require.Equal(t, c.want, editDistance(c.a, c.b), "%s, %s", c.a, c.b)
		require.Equal(t, c.want, editDistance(c.b, c.a), "%s, %s", c.b, c.a)
	}
}

func TestNearest(t *testing.T) {
	known := []string{"opal", "opal-boulder", "pyrope", "jasper", "jade", "agate"}
	for word, want := range map[string][]string{
		"opel": {"opal"}, "OPAL": {"opal",
			"opal-boulder"}, "jaspar": {"jasper"}, "opal-b": {"opal-boulder"}, "agata": {"agate"}, "": nil, "zzz": nil,
		"granite": nil,
	} {
		require.Equal(t, want, Nearest(word, known), word)
	}
	require.Equal(t, "; did you mean opal?", DidYouMean("opel", known))
	require.Empty(t, DidYouMean("granite", known))
}
