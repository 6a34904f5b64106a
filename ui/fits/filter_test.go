package fits

import (
	"testing"

	"github.com/stretchr/testify/require"

	"cabwright/geometry/outline"
	"cabwright/geometry/solid"
	"cabwright/planner"
	"cabwright/planner/search"
)

// A filter's ends belong to what is listed, and nothing beyond either does.
func TestAFilterHoldsBothItsEnds(t *testing.T) {
	passes := func(f filter, length float64) bool {
		o, err := outline.New("oval", length, 5)
		require.NoError(t, err)
		return f.passes(search.Candidate{Solid: solid.Cabochon{Outline: o, Sides: 1}, Face: planner.Top})
	}
	for _, c := range []struct {
		name   string
		filter filter
		length float64
		want   bool
	}{
		{"no limits", filter{}, 40, true},
		{"below the lower end", filter{from: 10, to: 12}, 9.9, false},
		{"at the lower end", filter{from: 10, to: 12}, 10, true},
		{"between", filter{from: 10, to: 12}, 11, true},
		{"at the upper end", filter{from: 10, to: 12}, 12, true},
		{"above the upper end", filter{from: 10, to: 12}, 12.1, false},
		{"only an upper end", filter{to: 12}, 5, true},
		{"above the only end", filter{to: 12}, 13, false},
		{"no upper end", filter{from: 10}, 100, true},
		{"one length", filter{from: 12, to: 12}, 12, true},
	} {
		require.Equal(t, c.want, passes(c.filter, c.length), c.name)
	}
}
