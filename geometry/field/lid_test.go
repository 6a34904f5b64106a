package field

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"cabwright/geometry"
)

// A pit's lid lies nowhere under the floor within the polygon, and comes as near
// to it somewhere as the steps of its table let it.
func TestLidLiesOverTheFloor(t *testing.T) {
	r := rand.New(rand.NewPCG(31, 1))
	lids := 0
	for seed := uint64(0); seed < 40; seed++ {
		w := draw(t, seed)
		for _, p := range w.f.prisms {
			if p.floor == nil {
				continue
			}
			lids++
			lo, hi := geometry.Bounds(p.Polygon)
			gap := math.Inf(1)
			for range 2000 {
				q := geometry.Vec2{X: uniform(r, lo.X, hi.X), Y: uniform(r, lo.Y, hi.Y)}
				if !geometry.InPolygon(p.Polygon, q) {
					continue
				}
				floor := p.floor.sign*p.floor.plate.At(q.X, q.Y) - p.depth
				over := p.lid.at + p.lid.slope.Dot(q) - floor
				require.GreaterOrEqual(t, over, -1e-9)
				gap = min(gap, over)
				require.LessOrEqual(t, p.lid.under+p.lid.slope.Dot(q), floor+1e-9)
			}
			require.Less(t, gap, p.floor.step)
		}
	}
	require.Greater(t, lids, 10)
}
