package edit

import (
	"testing"

	"pgregory.net/rapid"

	"cabwright/geometry"
)

func TestCrossesPathAgreesWithTheEdgesPairByPair(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		path := make([]geometry.Vec2, rapid.IntRange(2, 8).Draw(t, "n"))
		for i := range path {
			path[i] = onGrid(t)
		}
		p := onGrid(t)
		edge, crosses := crossesPath(path, p)
		twin := -1
		for i := 0; i+2 < len(path); i++ {
			if segmentsMeet(path[i], path[i+1], path[len(path)-1], p) {
				twin = i
				break
			}
		}
		if crosses != (twin >= 0) || crosses && edge != twin {
			t.Fatalf("%v to %v: %d %v, by solving for the point %d", path, p, edge, crosses, twin)
		}
	})
}

// onGrid draws a point of a grid: products of its numbers are exact, so that both
// ways to the answer see the same degenerate cases.
func onGrid(t *rapid.T) geometry.Vec2 {
	return geometry.Vec2{X: float64(rapid.IntRange(-9, 9).Draw(t, "x")), Y: float64(rapid.IntRange(-9, 9).Draw(t, "y"))}
}

// segmentsMeet solves for the common point of two lines.
func segmentsMeet(a, b, c, d geometry.Vec2) bool {
	u, v := b.Sub(a), d.Sub(c)
	det := u.Cross(v)
	if det == 0 {
		return false
	}
	s, t := c.Sub(a).Cross(v)/det, c.Sub(a).Cross(u)/det
	return s > 0 && s < 1 && t > 0 && t < 1
}
