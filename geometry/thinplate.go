package geometry

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/mat"
)

// ErrCollinear says that the readings lie on one line in plan (two always do),
// so that no single surface goes through them.
var ErrCollinear = errors.New(
	"the readings lie on one line; give at least three that do not, or one alone for a level surface",
)

// ErrNoReadings says that there is nothing to lay a surface through.
var ErrNoReadings = errors.New("no readings")

// ErrSameSpot says that two readings stand at one spot in plan.
var ErrSameSpot = errors.New("two readings at one spot")

// ThinPlate is the surface of least bending through readings (x, y, z): the
// thin-plate spline with kernel r^2 log r and a linear part, no smoothing
// (Duchon 1976, "Interpolation des fonctions de deux variables suivant le
// principe de la flexion des plaques minces"). Lengths are millimetres.
type ThinPlate struct {
	knots      []Vec2
	weights    []float64 // kernel weights, one a knot; none for a level surface
	c0, cx, cy float64   // linear part c0 + cx (x - ox) + cy (y - oy)
	ox, oy     float64
}

// FitThinPlate lays the surface through the readings. One reading alone is a
// level surface at its height. It returns ErrNoReadings, ErrCollinear or
// ErrSameSpot when there is no such surface.
func FitThinPlate(readings []Vec3) (*ThinPlate, error) {
	n := len(readings)
	switch {
	case n == 0:
		return nil, ErrNoReadings
	case n == 1:
		return &ThinPlate{c0: readings[0].Z}, nil
	}
	centre, size := spread(readings)
	if collinear(readings, centre, size) {
		return nil, ErrCollinear
	}
	a, b, err := system(readings, centre, size)
	if err != nil {
		return nil, err
	}
	var sol mat.VecDense
	if err := sol.SolveVec(a, b); err != nil {
		if math.IsNaN(conditionOf(err)) {
			return nil, ErrCollinear
		}
	}
	s := &ThinPlate{ox: centre.X, oy: centre.Y, knots: make([]Vec2, n), weights: make([]float64, n)}
	s.c0, s.cx, s.cy = sol.AtVec(n), sol.AtVec(n+1)/size, sol.AtVec(n+2)/size
	logSize := math.Log(size)
	for i, p := range readings {
		w := sol.AtVec(i) / (size * size)
		s.knots[i], s.weights[i] = p.XY(), w
		// r'^2 log r' = (r^2 log r - r^2 log s) / s^2, and sum w r^2 is the
		// constant sum w |knot|^2 under the side conditions.
		s.c0 -= logSize * w * ((p.X-s.ox)*(p.X-s.ox) + (p.Y-s.oy)*(p.Y-s.oy))
	}
	return s, nil
}

// system returns the equations for the kernel weights and the linear part. They
// are in coordinates of size 1 about the centre: the surface does not depend on
// that (a scaled kernel differs by a multiple of r^2, which the side conditions
// turn into a constant), their conditioning does.
func system(readings []Vec3, centre Vec2, size float64) (*mat.Dense, *mat.VecDense, error) {
	n := len(readings)
	a := mat.NewDense(n+3, n+3, nil)
	b := mat.NewVecDense(n+3, nil)
	for i, p := range readings {
		x, y := (p.X-centre.X)/size, (p.Y-centre.Y)/size
		for j := 0; j < i; j++ {
			q := readings[j]
			dx, dy := x-(q.X-centre.X)/size, y-(q.Y-centre.Y)/size
			r2 := dx*dx + dy*dy
			if r2 == 0 {
				return nil, nil, ErrSameSpot
			}
			k := 0.5 * r2 * math.Log(r2)
			a.Set(i, j, k)
			a.Set(j, i, k)
		}
		for k, v := range [3]float64{1, x, y} {
			a.Set(i, n+k, v)
			a.Set(n+k, i, v)
		}
		b.SetVec(i, p.Z)
	}
	return a, b, nil
}

// conditionOf returns the condition number that an error of the solver tells of:
// the solution stands, but badly conditioned. NaN when it is another error.
func conditionOf(err error) float64 {
	var c mat.Condition
	if !errors.As(err, &c) {
		return math.NaN()
	}
	return float64(c)
}

// spread returns the middle of the readings in plan and half their extent.
func spread(readings []Vec3) (Vec2, float64) {
	lo, hi := readings[0].XY(), readings[0].XY()
	for _, p := range readings[1:] {
		lo = Vec2{math.Min(lo.X, p.X), math.Min(lo.Y, p.Y)}
		hi = Vec2{math.Max(hi.X, p.X), math.Max(hi.Y, p.Y)}
	}
	size := 0.5 * math.Max(hi.X-lo.X, hi.Y-lo.Y)
	if size == 0 {
		size = 1
	}
	return lo.Add(hi).Scale(0.5), size
}

// collinear tells whether the readings lie on one line, to within a millionth
// of their extent: closer than that the linear part is not determined by
// coordinates that are written with a few decimals.
func collinear(readings []Vec3, centre Vec2, size float64) bool {
	var far Vec2
	for _, p := range readings {
		if d := p.XY().Sub(readings[0].XY()); d.Norm() > far.Norm() {
			far = d
		}
	}
	if far.Norm() == 0 {
		return len(readings) < 3
	}
	far = far.Scale(1 / far.Norm())
	for _, p := range readings {
		if math.Abs(far.Cross(p.XY().Sub(readings[0].XY()))) > 1e-6*size {
			return false
		}
	}
	return true
}

// At returns the height of the surface at (x, y).
func (s *ThinPlate) At(x, y float64) float64 {
	z := s.c0 + s.cx*(x-s.ox) + s.cy*(y-s.oy)
	for i, k := range s.knots {
		dx, dy := x-k.X, y-k.Y
		if r2 := dx*dx + dy*dy; r2 > 0 {
			z += 0.5 * s.weights[i] * r2 * math.Log(r2)
		}
	}
	return z
}

// Slope returns the height of the surface and its gradient at (x, y).
func (s *ThinPlate) Slope(x, y float64) (z, zx, zy float64) {
	z, zx, zy = s.c0+s.cx*(x-s.ox)+s.cy*(y-s.oy), s.cx, s.cy
	for i, k := range s.knots {
		dx, dy := x-k.X, y-k.Y
		if r2 := dx*dx + dy*dy; r2 > 0 {
			l := math.Log(r2)
			z += 0.5 * s.weights[i] * r2 * l
			g := s.weights[i] * (l + 1)
			zx += g * dx
			zy += g * dy
		}
	}
	return z, zx, zy
}

// Sheet is a surface's height, gradient and second derivatives at one spot.
type Sheet struct{ Z, ZX, ZY, ZXX, ZXY, ZYY float64 }

// Curvature returns all derivatives up to the second at (x, y), and how far
// the second derivatives can change within reach of it: every eigenvalue of the
// Hessian at a spot nearer than reach lies within change of one at (x, y).
//
// The third derivatives of all kernels are summed (they largely cancel), and
// the remainder is bounded kernel by kernel. The fourth derivative of r^2 log r,
// twice in the direction of one unit vector and twice in that of another, at the
// angles a and b to the knot's direction, is
//
//	(2 cos(2a + 2b) - 2 cos 2a - 2 cos 2b)/r^2,
//
// at most 6/r^2 (square to the knot's direction) and at least -3/r^2; by Taylor's
// theorem half of it, times reach^2, at the nearest r, bounds the remainder.
// Nearer to a knot than four times the reach the whole range of the kernel's
// Hessian w ((2 log r + 1) I + 2 e e') between a floor of 0.02 mm and r + reach
// takes their place: the logarithm grows without end at the knot itself, but
// below the floor the kernel is under |w| 0.02^2 log 50 < 0.0016 |w| high, a
// tenth of a micrometre for the weights of real stones.
func (s *ThinPlate) Curvature(x, y, reach float64) (at Sheet, change float64) {
	const floor = 0.02
	at = Sheet{Z: s.c0 + s.cx*(x-s.ox) + s.cy*(y-s.oy), ZX: s.cx, ZY: s.cy}
	var xxx, xxy, xyy, yyy float64
	for i, k := range s.knots {
		w := s.weights[i]
		dx, dy := x-k.X, y-k.Y
		r2 := dx*dx + dy*dy
		q := math.Max(r2, floor*floor)
		l := math.Log(q)
		if r2 > 0 {
			lr := l
			if r2 < q {
				lr = math.Log(r2)
			}
			at.Z += 0.5 * w * r2 * lr
			at.ZX += w * (lr + 1) * dx
			at.ZY += w * (lr + 1) * dy
		}
		cx, cy := dx*dx/q, dy*dy/q
		at.ZXX += w * (l + 1 + 2*cx)
		at.ZXY += w * (2 * dx * dy / q)
		at.ZYY += w * (l + 1 + 2*cy)
		if r2 > 16*reach*reach {
			xxx += w * dx * (6 - 4*cx) / q
			xxy += w * dy * (2 - 4*cx) / q
			xyy += w * dx * (2 - 4*cy) / q
			yyy += w * dy * (6 - 4*cy) / q
			near := reach / (math.Sqrt(r2) - reach)
			change += math.Abs(w) * 3 * near * near
		} else {
			change += math.Abs(w) * (2*math.Log(math.Max(floor, math.Sqrt(r2)+reach)/floor) + 2)
		}
	}
	change += reach * math.Sqrt(xxx*xxx+3*xxy*xxy+3*xyy*xyy+yyy*yyy)
	return at, change
}
