package search

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"cabwright/geometry"
)

func vectorsNear(t require.TestingT, want, got geometry.Mat3, by float64, what string) {
	for _, p := range [3][2]geometry.Vec3{{want.U, got.U}, {want.V, got.V}, {want.W, got.W}} {
		require.InDelta(t, 0, p[0].Sub(p[1]).Norm(), by, what)
	}
}

func drawCoord(t *rapid.T, tilt float64) coord {
	c := coord{}
	for j := range 3 {
		c[j] = rapid.Float64Range(-20, 20).Draw(t, "at")
	}
	c[turn] = rapid.Float64Range(-math.Pi, math.Pi).Draw(t, "turn")
	c[lean] = rapid.Float64Range(-tilt, tilt).Draw(t, "lean 1")
	c[lean+1] = rapid.Float64Range(-tilt, tilt).Draw(t, "lean 2")
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
		f := newFrame(c, false)
		vectorsNear(t, c.rotation(), f.r, 1e-14, "the frame itself")
		level := c
		level[lean], level[lean+1] = 0, 0
		lf := newFrame(level, true)
		vectorsNear(t, level.rotation(), lf.r, 1e-14, "the level frame")
		for j := range 3 {
			p, m := c, c
			p[turn+j] += h
			m[turn+j] -= h
			vectorsNear(t, linear(p.rotation(), m.rotation(), h), f.by[j], 1e-9, "first derivative")
			fp, fm := newFrame(p, false), newFrame(m, false)
			for k := range 3 {
				second := f.twice[min(j, k)][max(j, k)]
				vectorsNear(t, linear(fp.by[k], fm.by[k], h), second, 1e-9, "second derivative")
			}
		}
		p, m := level, level
		p[turn] += h
		m[turn] -= h
		vectorsNear(t, linear(p.rotation(), m.rotation(), h), lf.by[0], 1e-9, "level, first")
		vectorsNear(t, linear(newFrame(p, true).by[0], newFrame(m, true).by[0], h), lf.twice[0][0], 1e-9, "level, second")
	})
}

// A pose and its coordinates are the same thing, for either face.
func TestPoseAndBack(t *testing.T) {
	oval := cab(t, "oval", 14, 10, 3, 1)
	for _, flip := range []bool{false, true} {
		m := newModel(oval, flip)
		rapid.Check(t, func(t *rapid.T) {
			c := drawCoord(t, 0.5)
			p := m.pose(c)
			back := m.coordOf(p)
			for j := range dims {
				d := back[j] - c[j]
				if j == turn {
					d = math.Remainder(d, 2*math.Pi)
				}
				require.InDelta(t, 0, d, 1e-9, "coordinate %d", j)
			}
			// Right-handed unit axes, the dome on its own face, and the tilt as said.
			require.InDelta(t, 1, p.Axes.U.Cross(p.Axes.V).Dot(p.Axes.W), 1e-12)
			require.InDelta(t, 0, p.Axes.U.Dot(p.Axes.V), 1e-12)
			require.Equal(t, flip, p.Axes.W.Z < 0)
			require.InDelta(t, math.Acos(math.Abs(p.Axes.W.Z)), c.tilt(), 1e-7)
			// The samples stand where the pose says.
			at := geometry.Vec3{X: 3, Y: -2, Z: 1.7}
			q := m.pose(c).Local(m.pose(c).Place(at))
			require.InDelta(t, 0, q.Sub(at).Norm(), 1e-12)
		})
	}
}

// Poses are pulled back to the limit, and no further than needed; a box is only
// dropped when no pose of it keeps the limit.
func TestTiltLimit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		limit := rapid.Float64Range(0.01, 0.4).Draw(t, "limit")
		c := drawCoord(t, 0.6)
		w := within(c, limit)
		require.LessOrEqual(t, w.tilt(), limit+1e-12)
		if c.tilt() <= limit {
			require.Equal(t, c, w)
		} else {
			require.InDelta(t, limit, w.tilt(), 1e-6)
			require.InDelta(t, 0, c[lean]*w[lean+1]-c[lean+1]*w[lean], 1e-9, "straight towards level")
		}
		box := cell{at: c}
		box.half[lean] = rapid.Float64Range(0, 0.2).Draw(t, "half 1")
		box.half[lean+1] = rapid.Float64Range(0, 0.2).Draw(t, "half 2")
		any := false
		for i := range 21 {
			for k := range 21 {
				q := box.at
				q[lean] += box.half[lean] * (float64(i)/10 - 1)
				q[lean+1] += box.half[lean+1] * (float64(k)/10 - 1)
				any = any || q.tilt() <= limit
			}
		}
		if any {
			require.True(t, allowed(&box, limit), "a box with an allowed pose")
		}
		nearest := box.at
		for j := lean; j < dims; j++ {
			nearest[j] = math.Copysign(max(0, math.Abs(nearest[j])-box.half[j]), nearest[j])
		}
		if nearest.tilt() > limit+1e-9 {
			require.False(t, allowed(&box, limit), "a box with none")
		}
	})
}

// Whatever way a square stone lies within the tilt limit, one of the ways that
// look the same has its turn within the range that is searched.
func TestTurnRangeMissesNoOrientation(t *testing.T) {
	const tilt = 15 * math.Pi / 180
	for shape, length := range map[string]float64{"square": 12, "triangle": 12, "oval": 16, "pear": 16} {
		p := newProber(nil, newModel(cab(t, shape, length, 12, 3, 0), false), tilt)
		half, widest := p.turnRange()/2, 0.0
		ways := int(math.Round(2 * math.Pi / p.model.period))
		rapid.Check(t, func(t *rapid.T) {
			c := coord{}
			axis, by := rapid.Float64Range(-math.Pi, math.Pi).Draw(t, "axis"), rapid.Float64Range(0, tilt).Draw(t, "by")
			c[lean] = math.Asin(math.Sin(by) * math.Sin(axis))
			c[lean+1] = math.Atan2(math.Sin(by)*math.Cos(axis), math.Cos(by))
			c[turn] = rapid.Float64Range(-math.Pi, math.Pi).Draw(t, "turn")
			nearest := math.Inf(1)
			for k := range ways {
				at := geometry.Vec3{Z: -p.model.pivot} // about the pivot
				pose := Pose{Origin: at, Axes: c.rotation().Mul(geometry.RotZ(float64(k) * p.model.period))}
				nearest = min(nearest, math.Abs(p.model.coordOf(pose)[turn]))
			}
			widest = max(widest, nearest)
			require.LessOrEqual(t, nearest, half+1e-9)
		})
		require.Greater(t, widest, 0.75*half, "a range this wide is searched in vain")
	}
}
