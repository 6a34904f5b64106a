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
		for _, p := range w.f.prisms() {
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

// In front of a wall whose floor climbs towards it, the foot of the perpendicular
// is under the floor although the point is above the floor's plane: the edge, 2 mm
// off and 0.4 mm up, is what is nearest.
func TestRowsBesideAClimbingFloor(t *testing.T) {
	top := plate(t, 9, 9, func(x, _ float64) float64 { return 10 + 0.3*x })
	f := New(Body{Polygon: square(8), Top: Uncut(top), Base: Uncut(level(t, 0)), Low: 0, High: 14})
	f.AddPit([]geometry.Vec2{{X: 2, Y: -2}, {X: 4, Y: -2}, {X: 4, Y: 2}, {X: 2, Y: 2}}, true, 2, 0)
	span := Span{N: 3, By: [Moves]geometry.Vec3{{X: 0.01}, {Y: 0.01}, {Z: 0.01}}}
	seen := 0
	for _, row := range f.Rows(geometry.Vec3{Z: 8.2}, Reach{Plan: 0.015, Rise: 0.01}, &span, math.Inf(1), nil) {
		if row.Obstacle == 1 {
			seen++
			require.GreaterOrEqual(t, row.Value+row.Slack, math.Hypot(2, 0.4)-1e-3)
		}
	}
	require.Equal(t, 1, seen)
}
