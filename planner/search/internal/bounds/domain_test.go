package bounds

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"cabwright/geometry"
	"cabwright/geometry/geomtest"
	"cabwright/planner/search/internal/poses"
)

// A box is only dropped when no pose of it keeps the tilt limit.
func TestAllowed(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		limit := rapid.Float64Range(0.01, 0.4).Draw(t, "limit")
		box := Box{}
		for j := poses.Lean; j < poses.Dims; j++ {
			box.At[j] = rapid.Float64Range(-0.6, 0.6).Draw(t, "tilt")
		}
		box.Half[poses.Lean] = rapid.Float64Range(0, 0.2).Draw(t, "half 1")
		box.Half[poses.Lean+1] = rapid.Float64Range(0, 0.2).Draw(t, "half 2")
		any := false
		for i := range 21 {
			for k := range 21 {
				q := box.At
				q[poses.Lean] += box.Half[poses.Lean] * (float64(i)/10 - 1)
				q[poses.Lean+1] += box.Half[poses.Lean+1] * (float64(k)/10 - 1)
				any = any || q.Tilt() <= limit
			}
		}
		if any {
			require.True(t, Allowed(&box, limit), "a box with an allowed pose")
		}
		nearest := box.At
		for j := poses.Lean; j < poses.Dims; j++ {
			nearest[j] = math.Copysign(max(0, math.Abs(nearest[j])-box.Half[j]), nearest[j])
		}
		if nearest.Tilt() > limit+1e-9 {
			require.False(t, Allowed(&box, limit), "a box with none")
		}
	})
}

// Whatever way a square stone lies within the tilt limit, one of the ways that
// look the same has its turn within the range that is searched.
func TestTurnRangeMissesNoOrientation(t *testing.T) {
	const tilt = 15 * math.Pi / 180
	for shape, length := range map[string]float64{"square": 12, "triangle": 12, "oval": 16, "pear": 16} {
		p := NewProber(nil, poses.NewModel(geomtest.Cab(shape, length, 12, 3, 0), false), tilt)
		half, widest := p.turnRange()/2, 0.0
		ways := int(math.Round(2 * math.Pi / p.Model.Period))
		rapid.Check(t, func(t *rapid.T) {
			c := poses.Coord{}
			axis, by := rapid.Float64Range(-math.Pi, math.Pi).Draw(t, "axis"), rapid.Float64Range(0, tilt).Draw(t, "by")
			c[poses.Lean] = math.Asin(math.Sin(by) * math.Sin(axis))
			c[poses.Lean+1] = math.Atan2(math.Sin(by)*math.Cos(axis), math.Cos(by))
			c[poses.Turn] = rapid.Float64Range(-math.Pi, math.Pi).Draw(t, "turn")
			nearest := math.Inf(1)
			for k := range ways {
				at := geometry.Vec3{Z: -p.Model.Pivot} // about the pivot
				pose := poses.Pose{Origin: at, Axes: c.Rotation().Mul(geometry.RotZ(float64(k) * p.Model.Period))}
				nearest = min(nearest, math.Abs(p.Model.CoordOf(pose)[poses.Turn]))
			}
			widest = max(widest, nearest)
			require.LessOrEqual(t, nearest, half+1e-9)
		})
		require.Greater(t, widest, 0.75*half, "a range this wide is searched in vain")
	}
}
