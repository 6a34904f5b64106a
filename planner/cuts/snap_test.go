package cuts

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"cabwright/geometry"
)

// The nearest corner and the nearest round figures within 0.3 mm, each on its edge.
func TestEasierPoints(t *testing.T) {
	outline := []geometry.Vec2{{X: 0, Y: 0}, {X: 40, Y: 0}, {X: 40, Y: 20}, {X: 0, Y: 20}}
	b := body(t, box(40, 20, 8))
	for along, want := range map[float64][]float64{
		0.2: {0.2, 0, 0.5}, 0.35: {0.35, 0.5}, 7.1: {7.1, 7}, 7.75: {7.75, 7.5, 8}, 20: {20, 20},
	} {
		var got []float64
		for _, p := range easier(outline, b.mark(0, along/40)) {
			require.InDelta(t, 0, p.at.Y, 1e-12)
			got = append(got, p.at.X)
		}
		assert.InDeltaSlice(t, want, got, 1e-9)
	}
}

// A snapped cut has both marks on a corner or on a half or whole millimetre, moved by
// 0.3 mm at most, and keeps the skin, half its room and, at a trim, what the saw leaves.
func TestSnappedKeepsWhatTheCutKept(t *testing.T) {
	b := body(t, domed())
	const asSawn = 1.25
	moved := 0
	rapid.Check(t, func(t *rapid.T) {
		f := placed(t, "oval", 8, 6, 1.8, rapid.Float64Range(-1, 1).Draw(t, "x"), rapid.Float64Range(0, 2).Draw(t, "y"), 2,
			"-")
		beyond := rapid.Float64Range(1.4, 3).Draw(t, "beyond")
		deg := rapid.Float64Range(0, 360).Draw(t, "deg")
		c := upcut(0, 0, deg, 0.3)
		c.Kind = Trim
		c.Point = c.Normal.Scale(reach(f.Fit, c.Normal) + beyond)
		if len(b.marks(c, nil, 4)) != 2 || b.stripOf(c, nil) < leastStrip {
			t.Skip("it misses the stone, or leaves a strip")
		}
		out := b.snapped([]Cut{c}, []Placed{f}, asSawn)[0]
		had, has := c.Room(f.Fit, -1, asSawn), out.Room(f.Fit, -1, asSawn)
		require.GreaterOrEqual(t, has, had/2-1e-9)
		require.GreaterOrEqual(t, b.stripOf(out, nil), leastStrip)
		if out == c {
			return
		}
		moved++
		before, after := b.marks(c, nil, 4), b.marks(out, nil, 4)
		round := 0
		for i := range after {
			require.LessOrEqual(t, before[i].At.Sub(after[i].At).Norm(), snapReach+1e-9)
			if r := 2 * after[i].Along; math.Abs(r-math.Round(r)) < 1e-6 {
				round++
			}
		}
		require.Positive(t, round)
	})
	assert.Positive(t, moved)
}

// One that has no room to give, on either side, is moved to nothing nearer.
func TestSnappedLeavesATightCut(t *testing.T) {
	b := body(t, box(40, 20, 8))
	c := upcut(0, 0, 3, 0.3)
	f, g := placed(t, "round", 10, 10, 3, 12, 10, 2, "-"), placed(t, "round", 10, 10, 3, 0, 0, 2, "+")
	c.Kind = Part
	c.Point = c.Normal.Scale(reach(f.Fit, c.Normal) + 0.65)
	g.Pose.Origin = f.Pose.Origin.Add(c.Normal.Scale(11.3))
	out := b.snapped([]Cut{c}, []Placed{f, g}, 1.25)[0]
	assert.GreaterOrEqual(t, out.Room(f.Fit, -1, 0.5), -1e-9)
	assert.GreaterOrEqual(t, out.Room(g.Fit, 1, 0.5), -1e-9)
}
