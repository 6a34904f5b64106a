package search

import (
	"context"
	"testing"

	"github.com/stretchr/testify/require"

	"cabwright/geometry/geomtest"
	"cabwright/planner"
	"cabwright/planner/search/internal/searchtest"
)

// Every fit that a demo stone's plan shows keeps the clearance it claims on a
// dense net over its skin, freeforms above all: their many corners are what is
// least like a calibrated outline. The short run asks for few shapes and level.
func TestEveryFitOfTheDemosOnADenseNet(t *testing.T) {
	t.Parallel()
	stones := []string{"one-crack"}
	opt := Options{Shapes: []string{"marquise", "heart", Freeform}, Level: true}
	if searchtest.Long {
		stones = []string{"nodule", "nugget", "one-crack", "seam", "slab", "two-faces"}
		opt = Options{}
	}
	for _, name := range stones {
		s := searchtest.Demo(t, name)
		p, err := Run(context.Background(), s, opt, nil)
		require.NoError(t, err)
		f := searchtest.FieldOf(t, s)
		freeforms := 0
		for _, fit := range p.Fits {
			if fit.Solid.Outline.Shape == Freeform {
				freeforms++
			}
			dense := searchtest.DenseClearance(f, geomtest.Skin(fit.Solid, 120), fit.Pose)
			require.GreaterOrEqual(t, dense, 0.0, "%s: %+v", name, fit.Candidate)
			if dense < 0.4 {
				// Further from all obstacles field.Lower gives away more than that.
				require.GreaterOrEqual(t, dense, fit.Clearance-1e-6, "%s: %+v", name, fit.Candidate)
			}
			require.Equal(t, fit.Face == planner.Top, fit.Pose.Axes.W.Z > 0)
		}
		require.GreaterOrEqual(t, freeforms, 4, name)
	}
}
