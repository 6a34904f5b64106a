package command

import (
	"testing"

	"github.com/stretchr/testify/require"

	"cabwright/geometry"
	"cabwright/geometry/outline"
	"cabwright/geometry/solid"
	"cabwright/planner/search"
)

func TestFreeformRemark(t *testing.T) {
	of := func(o outline.Outline, err error, carat float64) search.Fit {
		require.NoError(t, err)
		return search.Fit{Candidate: search.Candidate{Solid: solid.Cabochon{Outline: o}}, Carat: carat}
	}
	free, err := outline.Freeform([]geometry.Vec2{{X: -4, Y: -4}, {X: 4, Y: -4}, {X: 4, Y: 4}, {X: -4, Y: 4}})
	freeform := of(free, err, 2)
	oval, err := outline.New("oval", 10, 8)
	round := of(oval, err, 3)
	marquise, err := outline.New("marquise", 10, 5)
	sharp := of(marquise, err, 3)
	for _, c := range []struct {
		name string
		fits []search.Fit
		opt  search.Options
		want string
	}{
		{"nothing fits", nil, search.Options{}, ""},
		{"freeforms not asked for", []search.Fit{round}, search.Options{NoFreeform: true}, ""},
		{"other shapes asked for", []search.Fit{round}, search.Options{Shapes: []string{"oval"}}, ""},
		{"the freeform is heavier", []search.Fit{{Candidate: freeform.Candidate, Carat: 4}, round}, search.Options{}, ""},
		{"none found", []search.Fit{round}, search.Options{}, "No freeform"},
		{"a sharper size is heavier", []search.Fit{sharp, freeform}, search.Options{}, "sharper corner than\nthe 1.5 mm"},
		{"a round size is heavier", []search.Fit{round, freeform}, search.Options{CornerRadius: 4}, "not a proof"},
	} {
		got := planText{plan: search.Plan{Fits: c.fits}, opt: c.opt}.freeformRemark()
		if c.want == "" {
			require.Empty(t, got, c.name)
		} else {
			require.Contains(t, got, c.want, c.name)
		}
	}
}
