package geometry

import (
	"encoding/json"
	"math"
	"math/rand/v2"
	"os"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestFitThinPlateOnDegenerateReadings(t *testing.T) {
	far := 1e6
	for _, c := range []struct {
		name     string
		readings []Vec3
		want     error
	}{
		{"none", nil, ErrNoReadings},
		{"two", []Vec3{{}, {X: 1}}, ErrCollinear},
		{"three on a line", []Vec3{{}, {X: 1, Y: 1, Z: 3}, {X: 2, Y: 2}}, ErrCollinear},
		{"five on a steep line, far off", []Vec3{{far, far, 0}, {far + 1, far + 3, 0}, {far + 2, far + 6, 0},
			{far + 3, far + 9, 0}, {far + 4, far + 12, 0}}, ErrCollinear},
		{"a nanometre off a line", []Vec3{{}, {X: 10}, {X: 5, Y: 1e-6}}, ErrCollinear},
		{"less than a millionth of the extent off a line", []Vec3{{}, {X: 10}, {X: 5, Y: 4e-6}}, ErrCollinear},
		{"so off a longer line", []Vec3{{}, {X: 1000}, {X: 500, Y: 4e-4}}, ErrCollinear},
		{"so off a line, next to its first reading", []Vec3{{}, {X: 1e-6, Y: 1e-6}, {X: 10}, {X: 20}}, ErrCollinear},
		{"one spot three times", []Vec3{{1, 1, 0}, {1, 1, 1}, {1, 1, 2}}, ErrSameSpot},
		{"a spot twice among others", []Vec3{{}, {X: 5}, {Y: 5}, {X: 5, Z: 2}}, ErrSameSpot},
	} {
		s, err := FitThinPlate(c.readings)
		require.ErrorIs(t, err, c.want, c.name)
		require.Nil(t, s, c.name)
	}
}

// What is off a line by more than a millionth of the readings' extent makes a
// surface through them, however large the stone.
func TestReadingsJustOffALineMakeASurface(t *testing.T) {
	for _, size := range []float64{1e-3, 1, 1e3} {
		for _, off := range []float64{1.5e-6, 1e-5, 1e-3} {
			readings := []Vec3{{Z: 1}, {X: 2 * size, Z: 2}, {X: size, Y: off * size, Z: 1.5}}
			s, err := FitThinPlate(readings)
			require.NoError(t, err, "%g off %g", off, size)
			for _, p := range readings {
				require.InDelta(t, p.Z, s.At(p.X, p.Y), 1e-6, "%g off %g", off, size)
			}
		}
	}
}

// One reading alone is a level surface (the stone file's contract).
func TestOneReadingIsLevel(t *testing.T) {
	s, err := FitThinPlate([]Vec3{{X: 3, Y: -4, Z: 7}})
	require.NoError(t, err)
	for _, p := range []Vec2{{}, {3, -4}, {-1e6, 1e6}} {
		z, zx, zy := s.Slope(p.X, p.Y)
		require.Equal(t, [4]float64{7, 7, 0, 0}, [4]float64{s.At(p.X, p.Y), z, zx, zy})
	}
}

// Readings on a plane give that plane: the surface of least bending bends nowhere.
func TestReadingsOnAPlaneGiveThePlane(t *testing.T) {
	for _, off := range []float64{0, 1000, 1e6} {
		var readings []Vec3
		plane := func(x, y float64) float64 { return 2 + 0.3*(x-off) - 0.7*(y-off) }
		for _, p := range []Vec2{{0, 0}, {9, 1}, {4, 8}, {-5, 3}, {2, -7}} {
			readings = append(readings, Vec3{off + p.X, off + p.Y, plane(off+p.X, off+p.Y)})
		}
		s, err := FitThinPlate(readings)
		require.NoError(t, err)
		// A coordinate of 1e6 is written to 1e-10, and its kernel is a hundred times as steep.
		require.InDelta(t, plane(off+20, off-15), s.At(off+20, off-15), 1e-8, "offset %g", off)
		at, change := s.Curvature(off+3, off+3, 1)
		require.InDelta(t, 0, math.Abs(at.ZXX)+math.Abs(at.ZXY)+math.Abs(at.ZYY)+change, 1e-8, "offset %g", off)
	}
}

// Heights of SciPy's RBFInterpolator (kernel "thin_plate_spline", degree 1), as
// made by testdata/thinplate.py.
func TestHeightsAgreeWithSciPy(t *testing.T) {
	text, err := os.ReadFile("testdata/thinplate.json")
	require.NoError(t, err)
	var file struct {
		Cases []struct {
			Readings [][3]float64
			At       [][2]float64
			Z        []float64
		}
	}
	require.NoError(t, json.Unmarshal(text, &file))
	require.Len(t, file.Cases, 8)
	for i, c := range file.Cases {
		var readings []Vec3
		for _, r := range c.Readings {
			readings = append(readings, Vec3{r[0], r[1], r[2]})
		}
		s, err := FitThinPlate(readings)
		require.NoError(t, err)
		for k, p := range c.At {
			require.InDelta(t, c.Z[k], s.At(p[0], p[1]), 1e-6, "case %d at %v", i, p)
		}
	}
}

// randomPlate lays a surface through 3 to 12 readings over 20 x 20 mm.
func randomPlate(t *testing.T, r *rand.Rand) (*ThinPlate, []Vec3) {
	for {
		var readings []Vec3
		for range 3 + r.IntN(10) {
			readings = append(readings, Vec3{20*r.Float64() - 10, 20*r.Float64() - 10, 4 * r.Float64()})
		}
		s, err := FitThinPlate(readings)
		if err == nil {
			return s, readings
		}
		require.ErrorIs(t, err, ErrCollinear)
	}
}

func TestSurfacesGoThroughTheirReadings(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 1))
	for range 100 {
		s, readings := randomPlate(t, r)
		for _, p := range readings {
			require.InDelta(t, p.Z, s.At(p.X, p.Y), 1e-7)
		}
	}
}

// Slopes and second derivatives against central differences, away from the
// readings (where the second ones have no limit).
func TestDerivativesAgainstDifferences(t *testing.T) {
	r := rand.New(rand.NewPCG(2, 2))
	const h = 1e-4 // mm: h^2 times a third derivative of about 1, and 1e-12/h, stay below 1e-7
	for range 200 {
		s, readings := randomPlate(t, r)
		x, y := 24*r.Float64()-12, 24*r.Float64()-12
		scale := 0.0
		for i, p := range readings {
			d := math.Hypot(p.X-x, p.Y-y)
			scale += math.Abs(s.weights[i]) / math.Min(1, d*d)
			if d < 0.2 {
				x += 0.5
			}
		}
		z, zx, zy := s.Slope(x, y)
		require.InDelta(t, s.At(x, y), z, 1e-12)
		require.InDelta(t, (s.At(x+h, y)-s.At(x-h, y))/(2*h), zx, 1e-7*(1+scale))
		require.InDelta(t, (s.At(x, y+h)-s.At(x, y-h))/(2*h), zy, 1e-7*(1+scale))
		at, _ := s.Curvature(x, y, 0.1)
		require.InDelta(t, z, at.Z, 1e-12)
		require.InDelta(t, zx, at.ZX, 1e-12)
		require.InDelta(t, zy, at.ZY, 1e-12)
		_, ax, ay := s.Slope(x+h, y)
		_, bx, by := s.Slope(x-h, y)
		_, _, cy := s.Slope(x, y+h)
		_, _, dy := s.Slope(x, y-h)
		require.InDelta(t, (ax-bx)/(2*h), at.ZXX, 1e-6*(1+scale))
		require.InDelta(t, (ay-by)/(2*h), at.ZXY, 1e-6*(1+scale))
		require.InDelta(t, (cy-dy)/(2*h), at.ZYY, 1e-6*(1+scale))
	}
}

// eigen returns the eigenvalues of the Hessian, the lesser first.
func (s Sheet) eigen() (lo, hi float64) {
	mean, dev := (s.ZXX+s.ZYY)/2, math.Hypot((s.ZXX-s.ZYY)/2, s.ZXY)
	return mean - dev, mean + dev
}

// Within reach no eigenvalue is further than change from those at the spot, but
// for the 0.02 mm around a reading where the logarithm runs away.
func TestCurvatureBoundsItsOwnChange(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 3))
	used, most := 0, 0.0
	for range 1500 {
		s, readings := randomPlate(t, r)
		x, y, reach := 24*r.Float64()-12, 24*r.Float64()-12, math.Pow(10, 4*r.Float64()-4)
		if k := r.IntN(3 * len(readings)); k < len(readings) { // next to a reading, or on it
			x, y = readings[k].X+reach*(r.Float64()-0.5)*float64(r.IntN(2)), readings[k].Y
		}
		here, change := s.Curvature(x, y, reach)
		require.GreaterOrEqual(t, change, 0.0, "at (%g, %g) within %g", x, y, reach)
		lo, hi := here.eigen()
		for range 40 {
			sn, c := math.Sincos(2 * math.Pi * r.Float64())
			d := reach * math.Sqrt(r.Float64())
			u, v := x+d*c, y+d*sn
			near := false
			for _, p := range readings {
				near = near || math.Hypot(p.X-u, p.Y-v) < 0.02
			}
			if near {
				continue
			}
			there, _ := s.Curvature(u, v, 0)
			l, h := there.eigen()
			gone := math.Max(math.Abs(l-lo), math.Abs(h-hi))
			require.LessOrEqual(t, gone, change+1e-12, "from (%g, %g) to (%g, %g)", x, y, u, v)
			used++
			if change > 1e-9 {
				most = math.Max(most, gone/change)
			}
		}
	}
	require.Greater(t, used, 40000)
	require.Greater(t, most, 0.5, "the bound is so wide that the test could not fail")
}

// Midway between two equal kernels there are no third derivatives, so that the
// bound is the remainder's alone: square to the line between them the second
// derivative grows by log(1 + s) + 2 s/(1 + s) for each, s = (reach/r)^2, which is
// 3 s for small s (r^2 log r differentiated twice). Nothing below that will do,
// and no more is needed.
func TestTheRemainderIsThatOfTheFourthDerivative(t *testing.T) {
	const r = 5.0
	s := &ThinPlate{knots: []Vec2{{Y: r}, {Y: -r}}, weights: []float64{0.7, 0.7}}
	for _, reach := range []float64{1e-3, 0.1, 1, 1.24} {
		at, change := s.Curvature(0, 0, reach)
		there, _ := s.Curvature(reach, 0, 0)
		q := reach * reach / (r * r)
		gone := 2 * 0.7 * (math.Log1p(q) + 2*q/(1+q))
		require.InDelta(t, gone, there.ZXX-at.ZXX, 1e-12)
		require.GreaterOrEqual(t, change, gone, "reach %g", reach)
	}
	_, change := s.Curvature(0, 0, 1e-3)
	require.InEpsilon(t, 2*0.7*3*1e-6/(r*r), change, 1e-3, "as small as it can be for a small reach")
}

// Readings that are the same on either side of the middle leave no third
// derivatives there, so that the bound is the remainder's alone.
func TestCurvatureBoundsTheRemainder(t *testing.T) {
	for _, order := range []float64{2, 4} {
		var readings []Vec3
		for k := range 8 {
			a := float64(k) * math.Pi / 4
			readings = append(readings, Vec3{8 * math.Cos(a), 8 * math.Sin(a), math.Cos(order * a)})
		}
		s, err := FitThinPlate(readings)
		require.NoError(t, err)
		reach := 8 / 4.01
		here, change := s.Curvature(0, 0, reach)
		lo, hi := here.eigen()
		for k := range 90 {
			sn, c := math.Sincos(float64(k) * math.Pi / 45)
			there, _ := s.Curvature(reach*c, reach*sn, 0)
			l, h := there.eigen()
			require.LessOrEqual(t, math.Max(math.Abs(l-lo), math.Abs(h-hi)), change)
		}
	}
}
