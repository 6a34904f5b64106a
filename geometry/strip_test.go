package geometry_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"cabwright/geometry"
)

// The best strip of a shape in closed form: of a rectangle any, of a triangle the one along
// its base, of a disc the middle one, with 2 (a sqrt(1-a^2) + asin a) r^2 of its area for a
// width of 2 a r; the origin stays inside by the margin, though a strip elsewhere holds more.
func TestStripHoldsMost(t *testing.T) {
	up := geometry.Vec2{Y: 1}
	rectangle := []geometry.Vec2{{X: -10, Y: -3}, {X: 10, Y: -3}, {X: 10, Y: 5}, {X: -10, Y: 5}}
	require.Equal(t, rectangle, geometry.Strip(rectangle, up, 8, 1), "no wider: as it is")
	require.InDelta(t, 20*5, geometry.Area(geometry.Strip(rectangle, up, 5, 1)), 1e-9)

	triangle := []geometry.Vec2{{X: -6, Y: -2}, {X: 6, Y: -2}, {X: 0, Y: 10}}
	along := 12 * 12. / 2 * (1 - 0.25*0.25) // without the tip, a quarter as high
	got := geometry.Strip(triangle, up, 9, 1)
	require.InDelta(t, along, geometry.Area(got), 0.02*along)

	disc := make([]geometry.Vec2, 360)
	for i := range disc {
		s, c := math.Sincos(2 * math.Pi * float64(i) / 360)
		disc[i] = geometry.Vec2{X: 5 * c, Y: 5 * s}
	}
	const a = 0.6
	middle := 2 * (a*math.Sqrt(1-a*a) + math.Asin(a)) * 25
	require.InDelta(t, middle, geometry.Area(geometry.Strip(disc, up, 2*a*5, 1)), 0.01*middle)

	// With its base far below, a strip that keeps the origin inside can't lie along it.
	for i := range triangle {
		triangle[i].Y -= 7
	}
	got = geometry.Strip(triangle, up, 4, 1.5)
	least, most := geometry.Across(got, up)
	require.InDelta(t, 4, most-least, 1e-9)
	require.GreaterOrEqual(t, most, 1.5-1e-9)
	require.LessOrEqual(t, least, -1.5+1e-9)
}
