package search

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"cabwright/geometry"
	"cabwright/geometry/geomtest"
	"cabwright/planner/search/internal/certify"
	"cabwright/planner/search/internal/searchtest"
)

// A yes or no agrees with the certified clearance of each mark at random poses, except
// within the fineness asked for.
func TestKeepsMarksAgreesWithTheClearance(t *testing.T) {
	const fine = 0.001
	yes, no := 0, 0
	for seed := range uint64(60) {
		r := searchtest.Random(seed)
		s := searchtest.SmallStone(r)
		site, err := Open(s)
		require.NoError(t, err)
		c := geomtest.Cab("oval", 6, 4, 1.2, 0)
		pose := Pose{
			Origin: geometry.Vec3{
				X: searchtest.Between(r, -8, 8), Y: searchtest.Between(r, -6, 6), Z: searchtest.Between(r, 0, 6),
			},
			Axes: geometry.RotZ(searchtest.Between(r, 0, 6)).Mul(geometry.RotX(searchtest.Between(r, -0.2, 0.2))),
		}
		least, lower := math.Inf(1), math.Inf(1)
		for k := 1; k < site.field.Obstacles(); k++ {
			one := certify.Only(site.field, k, c, pose, math.Inf(1))
			least, lower = min(least, one.Least), min(lower, one.Lower)
		}
		keeps := site.KeepsMarks(c, pose, fine)
		if lower >= 0 {
			require.True(t, keeps, "seed %d: keeps %.4f to %.4f", seed, lower, least)
			yes++
		}
		if least < -fine {
			require.False(t, keeps, "seed %d: keeps %.4f to %.4f", seed, lower, least)
			no++
		}
	}
	require.Greater(t, yes, 5)
	require.Greater(t, no, 5)
}

// A site with other marks answers as one opened on the stone with these.
func TestOtherMarksOnOneRough(t *testing.T) {
	a, b := searchtest.Demo(t, "nodule"), searchtest.Demo(t, "nodule")
	b.Cracks, b.Pockets = nil, b.Pockets[:1]
	b.Pockets[0].Depth++
	site, err := Open(a)
	require.NoError(t, err)
	fresh, err := Open(b)
	require.NoError(t, err)
	c := geomtest.Cab("oval", 14, 10, 3, 0)
	pose := Pose{Origin: geometry.Vec3{X: 1, Y: -1, Z: 2.5}, Axes: geometry.RotZ(0.3)}
	require.Equal(t, fresh.Clearance(c, pose), site.With(b).Clearance(c, pose))
	require.Equal(t, fresh.KeepsMarks(c, pose, 0.001), site.With(b).KeepsMarks(c, pose, 0.001))
}
