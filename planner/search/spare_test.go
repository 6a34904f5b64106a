package search

import (
	"context"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"cabwright/planner"
	"cabwright/planner/search/internal/certify"
	"cabwright/planner/search/internal/searchtest"
	"cabwright/presets"
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

// Asked for spare, no fit is lost, and as many have it as when nothing is asked, or more.
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
	require.GreaterOrEqual(t, have(with), have(without))
}

// A fit that was met where it keeps little is moved to where it has the spare, if there is
// such a place; and left alone where nothing was asked.
func TestFitsAreMovedToTheirSpare(t *testing.T) {
	stone := searchtest.Demo(t, "two-faces")
	rough, err := planner.NewRough(stone)
	require.NoError(t, err)
	opt := Options{Shapes: []string{"oval"}, Faces: []planner.Face{planner.Base}, Level: true}
	found, err := Run(context.Background(), stone, opt, nil)
	require.NoError(t, err)
	moved := 0
	for _, f := range found.Fits {
		if f.Clearance < 0.4 || moved == 5 {
			continue
		}
		for _, spare := range []float64{0, 0.3} {
			opt.Spare = spare
			r := newRun(context.Background(), stone, rough, presets.Builtin(), opt.filled())
			q := r.trials[slices.IndexFunc(r.trials, func(q *trial) bool {
				return q.volume == f.Volume && q.DomeStyle == f.DomeStyle && q.BackStyle == f.BackStyle
			})]
			p := r.prober(q, 0)
			q.at = q.model.CoordOf(f.Pose)
			for q.lower = f.Clearance; q.lower > 0.1; q.lower = p.Certify(q.at, math.Inf(1), certify.Resolution).Lower {
				q.at[0] += 0.02
			}
			q.verdict = Fits
			before := q.lower
			r.seekSpare(spareSought)
			if spare == 0 {
				require.Equal(t, before, q.lower)
				continue
			}
			require.GreaterOrEqual(t, q.lower, spare, "%v", q.Candidate)
			moved++
		}
	}
	require.Equal(t, 5, moved)
}
