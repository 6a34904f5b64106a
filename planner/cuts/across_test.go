package cuts

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"cabwright/geometry"
)

// Of a large block, 100 x 80 x 30 mm, whose lattice is 0.6 mm wide: between an upright cut
// at x = 20 and one that leans by an angle to cut the base at x = at, the piece runs out in
// a wedge along the base, at - 20 wide.
func TestAcrossAWedgeExact(t *testing.T) {
	b := body(t, box(100, 80, 30))
	require.Greater(t, b.step, 0.5)
	rapid.Check(t, func(t *rapid.T) {
		at := rapid.Float64Range(40, 95).Draw(t, "at")
		s, c := math.Sincos(rapid.Float64Range(10, 60).Draw(t, "lean") * math.Pi / 180)
		leaning := half{geometry.Vec3{X: -c, Z: -s}, -c * at}
		assert.InDelta(t, at-20, b.across([]half{leaning, {geometry.Vec3{X: 1}, 20}}), 0.02)
	})
}

// Two blocks joined by a neck of 0.45 mm, narrower than the lattice is wide, are one lump,
// wherever the neck lies between the lattice's rows.
func TestANarrowNeckHoldsTogether(t *testing.T) {
	for y := 30.0; y < 30.6; y += 0.1 {
		s := box(1, 1, 10)
		s.Outline = []geometry.Vec2{
			{X: 0, Y: 0}, {X: 48, Y: 0}, {X: 48, Y: y}, {X: 52, Y: y}, {X: 52, Y: 0}, {X: 100, Y: 0},
			{X: 100, Y: 80}, {X: 52, Y: 80}, {X: 52, Y: y + 0.45}, {X: 48, Y: y + 0.45}, {X: 48, Y: 80}, {X: 0, Y: 80},
		}
		b := body(t, s)
		require.Greater(t, b.step, 0.5)
		assert.Equal(t, 1, b.lumps(nil), "neck at %g", y)
	}
}
