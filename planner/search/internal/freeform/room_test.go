package freeform

import (
	"context"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"cabwright/geometry"
	"cabwright/planner"
	"cabwright/planner/search/internal/poses"
	"cabwright/planner/search/internal/searchtest"
	"cabwright/presets"
)

// shaperFor looks for single-sided freeforms with a medium dome, of the presets' wall.
func shaperFor(t *testing.T, stone planner.Stone, flip bool) *Shaper {
	set := presets.Builtin()
	wall, _ := set.Wall(set.Defaults.Wall)
	return &Shaper{
		Ctx: context.Background(), Field: searchtest.FieldOf(t, stone), Flip: flip, Radius: 1.5,
		Back: set.BackStyles[0], Style: set.DomeStyles[1], Wall: wall, Detail: RoughDetail,
	}
}

func disc(radius float64) []geometry.Vec2 {
	out := make([]geometry.Vec2, 90)
	for k := range out {
		s, c := math.Sincos(2 * math.Pi * float64(k) / 90)
		out[k] = geometry.Vec2{X: radius * c, Y: radius * s}
	}
	return out
}

// In a disc thick enough for any dome the largest freeform is round and known: the bound
// is above it, by no more than the cells' own width adds all round.
func TestRoomOfADisc(t *testing.T) {
	const radius, skin = 10.0, 0.5
	ff := shaperFor(t, searchtest.Slab(disc(radius), 0, 14, skin), false)
	r := radius - skin
	exact := math.Pi * r * r * ff.fullness(2*r)
	most := NewRoom(ff.Field, 2).Most(ff)
	require.Greater(t, most, exact)
	wide := r + 2*leastCell
	require.Less(t, most, math.Pi*wide*wide*ff.fullness(2*wide))
}

// In a thin disc the height holds: a freeform wider than the dome that fits under the top
// has no more than a low one.
func TestRoomOfAThinDisc(t *testing.T) {
	const radius, skin, thick = 10.0, 0.5, 4.0
	ff := shaperFor(t, searchtest.Slab(disc(radius), 0, thick, skin), false)
	width := (thick - 2*skin - ff.Wall.Height) / ff.Style.HeightByWidth
	r := radius - skin
	most := NewRoom(ff.Field, 2).Most(ff)
	require.Greater(t, most, math.Pi*r*r*ff.fullness(width)*0.99)
	deeper := (thick - 2*skin + 2*leastCell - ff.Wall.Height) / ff.Style.HeightByWidth
	wide := r + 2*leastCell
	require.Less(t, most, math.Pi*wide*wide*ff.fullness(deeper))
}

// No freeform that is found holds more than the bound, on any stone and face; nothing has
// room where nothing fits.
func TestRoomHoldsWhatIsFound(t *testing.T) {
	r := searchtest.Random(61)
	found := 0
	for k := range 6 {
		stone := searchtest.SmallStone(r)
		ff := shaperFor(t, stone, k%2 == 0)
		most := NewRoom(ff.Field, 1).Most(ff)
		for _, d := range ff.Field.Deepest(4, 2) {
			spot := ff.Rough(Spot{At: poses.Coord{d.X, d.Y, d.Z}, Width: 5}, 0)
			if s := ff.Finish(spot); s != nil && s.Fits {
				found++
				require.LessOrEqual(t, s.Solid.Volume(), most, "stone %d at %v", k, s.At)
			}
		}
	}
	require.Greater(t, found, 5)
	ff := shaperFor(t, searchtest.Slab(disc(3), 0, 2, 1.2), false)
	require.Zero(t, NewRoom(ff.Field, 1).Most(ff))
}

// A convex outline in a square with its middle cell blocked lies on one side of it: it
// covers about half. With nothing blocked it covers all.
func TestConvexMost(t *testing.T) {
	var all []spotInPlan
	for i := range 21 {
		for j := range 21 {
			if i != 10 || j != 10 {
				all = append(all, spotInPlan{i, j})
			}
		}
	}
	require.Zero(t, convexMost(nil, all, 3))
	require.Equal(t, 440.0, convexMost(all, nil, 3))
	half := convexMost(all, []spotInPlan{{10, 10}}, 3)
	require.GreaterOrEqual(t, half, 220.0+10, "a side with its share of the row in the middle")
	require.Less(t, half, 300.0)
	require.LessOrEqual(t, convexMost(all, []spotInPlan{{10, 10}, {5, 10}}, 3), half)
}
