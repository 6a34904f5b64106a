package field

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"cabwright/geometry"
)

// A notch lies outside its polygon, holds the corner that bends inwards, and so
// its distance bounds that to the outside, which it is beside the notch.
func TestNotchesLieOutside(t *testing.T) {
	r := rand.New(rand.NewPCG(51, 1))
	for name, poly := range map[string][]geometry.Vec2{
		"an L":   {{X: 0, Y: 0}, {X: 2, Y: 0}, {X: 2, Y: 1}, {X: 1, Y: 1}, {X: 1, Y: 2}, {X: 0, Y: 2}},
		"a dent": {{X: -9, Y: -5}, {X: -2, Y: -4}, {X: 1, Y: -3.5}, {X: 9, Y: -5}, {X: 9, Y: 5}, {X: -9, Y: 5}},
		"a slot": {
			{X: -9, Y: -5}, {X: 9, Y: -5}, {X: 9, Y: 5}, {X: 0.2, Y: 5}, {X: 0.1, Y: 0}, {X: -0.1, Y: 0}, {X: -0.2, Y: 5},
			{X: -9, Y: 5},
		},
		"a hook round it": {
			{X: 0, Y: 0}, {X: 6, Y: 0}, {X: 6, Y: 5}, {X: 1, Y: 5}, {X: 1, Y: 4}, {X: 5, Y: 4}, {X: 5, Y: 1}, {X: 0, Y: 1},
		},
	} {
		lo, hi := geometry.Bounds(poly)
		ring := newRing(poly, lo, hi, 1)
		ring.addNotches()
		require.NotEmpty(t, ring.notches, name)
		touched := 0
		for range 4000 {
			q := geometry.Vec2{X: uniform(r, lo.X-1, hi.X+1), Y: uniform(r, lo.Y-1, hi.Y+1)}
			out := ring.signed(q)
			for _, c := range ring.notches {
				d := c.part.outside(q)
				if out > 0 {
					require.GreaterOrEqual(t, d, out-1e-9, "%s: %v", name, q)
					if d < out+1e-9 {
						touched++
					}
				}
			}
		}
		require.Greater(t, touched, 20, name)
		for i := range ring.edges {
			next := (i + 1) % len(ring.edges)
			if ring.edges[i].d.Cross(ring.edges[next].d) < 0 {
				k := ring.notchOf[i]
				require.GreaterOrEqual(t, k, int32(0), name)
				corner := ring.edges[next].a
				require.LessOrEqual(t, ring.notches[k].part.outside(corner), 1e-9, "%s: %v", name, corner)
			}
		}
	}
	square := newRing([]geometry.Vec2{{}, {X: 1}, {X: 1, Y: 1}, {Y: 1}}, geometry.Vec2{}, geometry.Vec2{X: 1, Y: 1}, 1)
	square.addNotches()
	require.Empty(t, square.notches)
	require.Nil(t, square.notchOf)
}
