package geometry

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// WithoutEach returns for each reading the height at its spot of the thin plate
// through all the others, NaN where these make none: fewer than three, or all on
// one line. It is nil when the readings themselves make no surface.
//
// Taking reading i out moves the surface there by w_i / B_ii, w being the
// kernel weights and B the inverse of the system they solve (Rippa 1999, "An
// algorithm for selecting a good value for the parameter c in radial basis
// function interpolation").
func WithoutEach(readings []Vec3) []float64 {
	n := len(readings)
	if n < 3 {
		return nil
	}
	centre, size := spread(readings)
	if collinear(readings, centre, size) {
		return nil
	}
	a, b, err := system(readings, centre, size)
	if err != nil {
		return nil
	}
	var inverse mat.Dense
	if err := inverse.Inverse(a); err != nil && !(conditionOf(err) < math.Inf(1)) {
		return nil
	}
	var w mat.VecDense
	w.MulVec(&inverse, b)
	out := make([]float64, n)
	others := make([]Vec3, 0, n)
	for i, p := range readings {
		others = append(append(others[:0], readings[:i]...), readings[i+1:]...)
		if middle, extent := spread(others); n < 4 || collinear(others, middle, extent) {
			out[i] = math.NaN()
			continue
		}
		out[i] = p.Z - w.AtVec(i)/inverse.At(i, i)
	}
	return out
}
