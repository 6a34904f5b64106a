package odds

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"cabwright/geometry"
	"cabwright/geometry/outline"
	"cabwright/geometry/solid"
	"cabwright/planner/search"
)

// What keeps the distance from the grown polygon is the old one: a point of the old
// one is at least so far from every edge, and one outside it nearer to some edge.
func TestGrownByExactlyTheSkin(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var pts []geometry.Vec2
		for range rapid.IntRange(3, 9).Draw(t, "corners") {
			pts = append(
				pts, geometry.Vec2{X: rapid.Float64Range(-9, 9).Draw(t, "x"), Y: rapid.Float64Range(-9, 9).Draw(t, "y")},
			)
		}
		poly := geometry.ConvexHull(pts)
		if len(poly) < 3 || geometry.Area(poly) < 1 {
			t.Skip("no area")
		}
		by := rapid.Float64Range(0.01, 2).Draw(t, "by")
		big := grown(poly, by)
		away := func(p geometry.Vec2) float64 {
			d := math.Inf(1)
			for i, a := range big {
				d = min(d, geometry.ToSegment(p, a, big[(i+1)%len(big)]))
			}
			if !geometry.InPolygon(big, p) {
				return -d
			}
			return d
		}
		for i, p := range poly {
			require.GreaterOrEqual(t, away(p), by-1e-6, "a corner")
			q := poly[(i+1)%len(poly)]
			mid := p.Add(q).Scale(0.5)
			d := q.Sub(p)
			out := geometry.Vec2{X: d.Y, Y: -d.X}.Scale(0.01 / d.Norm())
			require.Less(t, away(mid.Add(out)), by, "0.01 mm beyond an edge")
			require.GreaterOrEqual(t, away(mid), by-1e-6)
		}
		require.True(t, insideOf(big, poly))
		require.False(t, insideOf(poly, big))
	})
}

// The outline in plan lies inside the true one: every point has a gauge of at most
// 1, tilted too.
func TestOutlineInPlanStaysInside(t *testing.T) {
	for _, shape := range outline.Shapes() {
		o, err := outline.New(shape, 12, 12)
		if err != nil || shape == "pear" || shape == "marquise" {
			o, err = outline.New(shape, 15, 10)
		}
		require.NoError(t, err, shape)
		c := solid.Cabochon{Outline: o, Wall: 1, Dome: 3, Sides: 1}
		pose := search.Pose{Origin: geometry.Vec3{X: 3, Y: -2, Z: 5}, Axes: geometry.RotZ(1).Mul(geometry.RotX(0.2))}
		poly := inPlan(c, pose)
		u, v := pose.Axes.U.XY(), pose.Axes.V.XY()
		for _, p := range poly {
			d := p.Sub(pose.Origin.XY())
			det := u.Cross(v)
			require.LessOrEqual(t, o.Gauge(d.Cross(v)/det, u.Cross(d)/det), 1+1e-9, shape)
		}
		require.Greater(t, geometry.Area(poly), 0.8*o.Area()*math.Cos(0.2), shape)
	}
}
