package search

import (
	"context"
	"testing"

	"cabwright/planner"
	"cabwright/planner/search/internal/searchtest"

	"github.com/stretchr/testify/require"
)

func TestSpareFirstKeepsTheOrderOtherwise(t *testing.T) {
	of := func(clearances ...float64) (fits []Fit) {
		for i, c := range clearances {
			fits = append(fits, Fit{Clearance: c, Volume: float64(i)})
		}
		return fits
	}
	order := func(fits []Fit) (out []float64) {
		for _, f := range fits {
			out = append(out, f.Volume)
		}
		return out
	}
	fits := of(0.1, 0.3, 0, 0.5, 0.29)
	SpareFirst(fits, 0.3)
	require.Equal(t, []float64{1, 3, 0, 2, 4}, order(fits))
	fits = of(0.1, 0.3, 0)
	SpareFirst(fits, 0)
	require.Equal(t, []float64{0, 1, 2}, order(fits), "nothing asked, nothing moved")
	SpareFirst(nil, 1)
}

// Asked for spare, fits are moved to where they have it: more of them do than when nothing
// is asked, none keeps less than before by more than the resolution, and all still fit.
func TestSpareIsLookedFor(t *testing.T) {
	s := searchtest.Demo(t, "two-faces")
	opt := Options{Shapes: []string{"pear"}, Faces: []planner.Face{planner.Base}, Level: true}
	without, err := Run(context.Background(), s, opt, nil)
	require.NoError(t, err)
	opt.Spare = 0.2
	with, err := Run(context.Background(), s, opt, nil)
	require.NoError(t, err)
	have := func(p Plan) (n int) {
		for _, f := range p.Fits {
			require.GreaterOrEqual(t, f.Clearance, 0.0)
			if f.HasSpare(opt.Spare) {
				n++
			}
		}
		return n
	}
	require.Len(t, with.Fits, len(without.Fits))
	t.Logf("%d of %d fits have the spare, %d where it was not asked for", have(with), len(with.Fits), have(without))
	require.Greater(t, have(with), have(without))
}
