package drawing

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cabwright/planner"
)

// What is remembered is only used for the same fit in the same rough: after each
// change the answer is that of Nearest, which is looked for once.
func TestTheLastNearestIsThatOfTheFitItIsAskedFor(t *testing.T) {
	var last LastNearest
	stone := slab()
	rough, err := planner.NewRough(stone)
	require.NoError(t, err)
	f := level(t, "oval", 10, 8, 1, v3(0, 0, 2))
	same := func() {
		t.Helper()
		want := Nearest(rough, stone, f)
		for range 2 {
			require.Equal(t, want, last.Of(rough, stone, f))
		}
	}
	same()
	assert.Zero(t, testing.AllocsPerRun(10, func() { last.Of(rough, stone, f) }), "looked for once")
	f.Pose.Origin.X += 2
	same()
	f = level(t, "oval", 12, 8, 1, v3(2, 0, 2))
	same()
	f.Solid.Dome -= 0.5
	same()
	if stone, err = planner.MoveCorner(stone, 0, stone.Outline[0].Add(v2(0.5, 0.5))); err != nil {
		t.Fatal(err)
	}
	same()
	if rough, err = planner.NewRough(stone); err != nil {
		t.Fatal(err)
	}
	same()
	f = nil
	same()
	var none *LastNearest
	f = level(t, "oval", 10, 8, 1, v3(0, 0, 2))
	require.Equal(t, Nearest(rough, stone, f), none.Of(rough, stone, f))
}
