package poses

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"cabwright/geometry"
	"cabwright/geometry/geomtest"
)

func vectorsNear(t require.TestingT, want, got geometry.Mat3, by float64, what string) {
	for _, p := range [3][2]geometry.Vec3{{want.U, got.U}, {want.V, got.V}, {want.W, got.W}} {
		require.InDelta(t, 0, p[0].Sub(p[1]).Norm(), by, what)
	}
}

func drawCoord(t *rapid.T, tilt float64) Coord {
	c := Coord{}
	for j := range 3 {
		c[j] = rapid.Float64Range(-20, 20).Draw(t, "at")
	}
	c[Turn] = rapid.Float64Range(-math.Pi, math.Pi).Draw(t, "turn")
	c[Lean] = rapid.Float64Range(-tilt, tilt).Draw(t, "lean 1")
	c[Lean+1] = rapid.Float64Range(-tilt, tilt).Draw(t, "lean 2")
	return c
}

// linear is the matrix (p - m)/(2 h), entry by entry.
func linear(p, m geometry.Mat3, h float64) geometry.Mat3 {
	d := func(a, b geometry.Vec3) geometry.Vec3 { return a.Sub(b).Scale(1 / (2 * h)) }
	return geometry.Mat3{U: d(p.U, m.U), V: d(p.V, m.V), W: d(p.W, m.W)}
}

// The frame's derivatives are those of the rotation: central differences.
func TestFrameAgainstDifferences(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := drawCoord(t, 0.5)
		const h = 1e-5
		f := NewFrame(c, false)
		vectorsNear(t, c.Rotation(), f.R, 1e-14, "the frame itself")
		level := c
		level[Lean], level[Lean+1] = 0, 0
		lf := NewFrame(level, true)
		vectorsNear(t, level.Rotation(), lf.R, 1e-14, "the level frame")
		for j := range 3 {
			p, m := c, c
			p[Turn+j] += h
			m[Turn+j] -= h
			vectorsNear(t, linear(p.Rotation(), m.Rotation(), h), f.By[j], 1e-9, "first derivative")
			fp, fm := NewFrame(p, false), NewFrame(m, false)
			for k := range 3 {
				second := f.Twice[min(j, k)][max(j, k)]
				vectorsNear(t, linear(fp.By[k], fm.By[k], h), second, 1e-9, "second derivative")
			}
		}
		p, m := level, level
		p[Turn] += h
		m[Turn] -= h
		vectorsNear(t, linear(p.Rotation(), m.Rotation(), h), lf.By[0], 1e-9, "level, first")
		vectorsNear(t, linear(NewFrame(p, true).By[0], NewFrame(m, true).By[0], h), lf.Twice[0][0], 1e-9, "level, second")
	})
}

// A pose and its coordinates are the same thing, for either face.
func TestPoseAndBack(t *testing.T) {
	oval := geomtest.Cab("oval", 14, 10, 3, 1)
	for _, flip := range []bool{false, true} {
		m := NewModel(oval, flip)
		rapid.Check(t, func(t *rapid.T) {
			c := drawCoord(t, 0.5)
			p := m.Pose(c)
			back := m.CoordOf(p)
			for j := range Dims {
				d := back[j] - c[j]
				if j == Turn {
					d = math.Remainder(d, 2*math.Pi)
				}
				require.InDelta(t, 0, d, 1e-9, "coordinate %d", j)
			}
			// Right-handed unit axes, the dome on its own face, and the tilt as said.
			require.InDelta(t, 1, p.Axes.U.Cross(p.Axes.V).Dot(p.Axes.W), 1e-12)
			require.InDelta(t, 0, p.Axes.U.Dot(p.Axes.V), 1e-12)
			require.Equal(t, flip, p.Axes.W.Z < 0)
			require.InDelta(t, math.Acos(math.Abs(p.Axes.W.Z)), c.Tilt(), 1e-7)
			// The samples stand where the pose says.
			at := geometry.Vec3{X: 3, Y: -2, Z: 1.7}
			q := m.Pose(c).Local(m.Pose(c).Place(at))
			require.InDelta(t, 0, q.Sub(at).Norm(), 1e-12)
		})
	}
}

// Poses are pulled back to the limit, and no further than needed.
func TestTiltLimit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		limit := rapid.Float64Range(0.01, 0.4).Draw(t, "limit")
		c := drawCoord(t, 0.6)
		w := Within(c, limit)
		require.LessOrEqual(t, w.Tilt(), limit+1e-12)
		if c.Tilt() <= limit {
			require.Equal(t, c, w)
		} else {
			require.InDelta(t, limit, w.Tilt(), 1e-6)
			require.InDelta(t, 0, c[Lean]*w[Lean+1]-c[Lean+1]*w[Lean], 1e-9, "straight towards level")
		}
	})
}
