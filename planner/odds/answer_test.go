package odds

import (
	"context"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"cabwright/planner"
	"cabwright/planner/search"
	"cabwright/presets"
)

// While better places are looked for, the plan's own of solids that have none yet stay in
// the answer; every place of the last one has been looked for, and what is left if it fails.
func TestAnswersOnTheWay(t *testing.T) {
	s := slab(10)
	s.Pockets = []planner.Pocket{basePocket("P1", 0)}
	var fits []search.Fit
	for _, dome := range []float64{4, 3, 2} {
		f := cabochon(t, 2.6)
		f.Solid.Dome = dome
		f.Volume = f.Solid.Volume()
		f.Carat = planner.Carat(f.Volume, 2.6)
		fits = append(fits, f)
	}
	find := func(_ context.Context, stone planner.Stone, _ search.Options, _ func(search.Plan)) (search.Plan, error) {
		if stone.Pockets[0].Depth > 2 {
			return search.Plan{Stone: stone}, nil // nothing known to be sure
		}
		return search.Plan{Stone: stone, Fits: fits}, nil
	}
	q := Question{
		Plan: search.Plan{Stone: s, Fits: fits}, Options: search.Options{Level: true}, Presets: presets.Builtin(),
		Search: find,
	}
	emitted := 0
	answer, err := Ask(context.Background(), q, func(a Answer) {
		emitted++
		sure := BestSure(a.Places)
		for _, f := range fits {
			found := 0
			for _, p := range a.Places {
				if keyOf(p.Fit) == keyOf(f) {
					found++
				}
			}
			if f.Carat >= sure {
				require.Equal(t, 1, found, "answer %d", emitted)
			}
		}
	})
	require.NoError(t, err)
	require.Greater(t, emitted, len(fits))
	// The pocket at its most leaves 5 mm between 4.5 and the skin: enough for a wall of 1.2
	// and a dome of 3, while one of 4 has room over it up to 3.8 mm. If that fails, what is
	// left of it is no lighter than the dome of 3, which has its outline.
	require.GreaterOrEqual(t, answer.BestSure, fits[1].Carat)
	i := slices.IndexFunc(answer.Places, func(p Place) bool { return p.Carat == fits[0].Carat })
	require.GreaterOrEqual(t, i, 0)
	risky := answer.Places[i]
	require.InDelta(t, 3.8, risky.Limits[0].UpTo, Grid)
	require.InDelta(t, Triangular{1, 2, 4}.Below(3.8), risky.Odds, 0.01)
	require.NotNil(t, risky.IfNot)
	require.GreaterOrEqual(t, risky.IfNot.Carat, fits[1].Carat)
}
