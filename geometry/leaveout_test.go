package geometry

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// The slow twin lays a surface through the others, one reading at a time.
func TestWithoutEachIsASurfaceThroughTheOthers(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(3, 12).Draw(t, "n")
		var readings []Vec3
		for i := range n {
			// On a ring and askew, so that none are at one spot or all on a line.
			sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
			r := rapid.Float64Range(3, 12).Draw(t, "r")
			readings = append(readings, Vec3{r * cos, r * sin, rapid.Float64Range(0, 12).Draw(t, "z")})
		}
		got := WithoutEach(readings)
		require.Len(t, got, n)
		for i, p := range readings {
			others := append(append([]Vec3(nil), readings[:i]...), readings[i+1:]...)
			plate, err := FitThinPlate(others)
			if err != nil {
				require.True(t, math.IsNaN(got[i]), i)
				continue
			}
			want := plate.At(p.X, p.Y)
			require.InDelta(t, want, got[i], 1e-6*(1+math.Abs(want)), "%d of %v", i, readings)
		}
	})
}

func TestWithoutEachOfTooFew(t *testing.T) {
	require.Nil(t, WithoutEach(nil))
	require.Nil(t, WithoutEach([]Vec3{{}, {X: 1}}))
	require.Nil(t, WithoutEach([]Vec3{{}, {X: 1}, {X: 2}, {X: 3}}), "on one line")
	require.Nil(t, WithoutEach([]Vec3{{}, {X: 1}, {Y: 1}, {Y: 1, Z: 2}}), "one spot twice")
	for _, v := range WithoutEach([]Vec3{{}, {X: 1}, {Y: 1}}) {
		require.True(t, math.IsNaN(v), "two others make no surface")
	}
	got := WithoutEach([]Vec3{{X: -1}, {Z: 5}, {X: 1, Z: 2}, {Y: 3, Z: 4}})
	require.True(t, math.IsNaN(got[3]), "the others lie on one line")
	require.False(t, math.IsNaN(got[0]))
}
