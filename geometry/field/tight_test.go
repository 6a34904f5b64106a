package field

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"cabwright/geometry"
)

// sampled is the distance from p to the places of a surface in a square about it that are
// wanted, on a net a fiftieth of a millimetre wide: too high by at most a step's half.
func sampled(p geometry.Vec3, half float64, height func(x, y float64) float64, wanted func(x, y float64) bool) float64 {
	const step = 0.02
	least := math.Inf(1)
	for x := p.X - half; x <= p.X+half; x += step {
		for y := p.Y - half; y <= p.Y+half; y += step {
			if wanted(x, y) {
				least = min(least, p.Sub(geometry.Vec3{X: x, Y: y, Z: height(x, y)}).Norm())
			}
		}
	}
	return least
}

// Two readings a third of a millimetre apart and 1.6 mm different in height make a pit
// whose sides turn too fast for one tangent plane: the bound divides the square there,
// and does not call what is under it outside.
func TestLowerBesideCloseReadings(t *testing.T) {
	top, err := geometry.FitThinPlate([]geometry.Vec3{
		{X: -7, Y: -7, Z: 7}, {X: 7, Y: -7, Z: 6.5}, {X: 7, Y: 7, Z: 7}, {X: -7, Y: 7, Z: 6.6},
		{X: 0, Y: 0, Z: 5.6}, {X: -0.3, Y: -0.2, Z: 7.2},
	})
	require.NoError(t, err)
	f := New(Body{Polygon: square(8), Top: Uncut(top), Base: Uncut(level(t, -9)), Low: -9, High: 12})
	r := rand.New(rand.NewPCG(5, 0))
	for range 60 {
		x, y := 2*r.Float64()-1, 2*r.Float64()-1
		p := geometry.Vec3{X: x, Y: y, Z: min(top.At(x, y), 5.5) - 0.2 - r.Float64()}
		d := sampled(p, 2.5, top.At, func(float64, float64) bool { return true })
		require.LessOrEqual(t, f.Lower(p, math.Inf(1)), d+1e-6, "%v", p)
		require.GreaterOrEqual(t, f.Lower(p, math.Inf(1)), d-0.03, "%v", p)
	}
}

// Beside a pit in a lumpy face the floor would be nearer if it went on: only what is over
// the polygon counts, to within a fortieth of a millimetre.
func TestLowerOfAFloorEndsAtThePolygon(t *testing.T) {
	top := plate(t, 9, 9, func(x, y float64) float64 { return 10 + 0.9*math.Sin(1.3*x)*math.Cos(1.1*y) })
	f := New(Body{Polygon: square(9), Top: Uncut(top), Base: Uncut(level(t, -9)), Low: -9, High: 14})
	f.AddPit(square(1), true, 2, 0.25)
	p := f.parts[len(f.parts)-1]
	inside := func(x, y float64) bool { return max(math.Abs(x), math.Abs(y)) <= 1 }
	floor := func(x, y float64) float64 { return top.At(x, y) - 2 }
	r := rand.New(rand.NewPCG(6, 0))
	for range 60 {
		x, y := 3*r.Float64()-1.5, 3*r.Float64()-1.5
		q := geometry.Vec3{X: x, Y: y, Z: floor(x, y) - 0.1 - 0.8*r.Float64()}
		d := sampled(q, 3, floor, inside) - 0.25
		require.LessOrEqual(t, p.lower(q, math.Inf(1)), d+0.001, "%v", q)
		require.GreaterOrEqual(t, p.lower(q, math.Inf(1)), d-0.025, "%v", q)
	}
}
