package learn

import "gonum.org/v1/gonum/stat/distuv"

// student returns the factor that holds 80% of Student's t with so many degrees of
// freedom, between minus and plus it.
func student(freedom int) float64 {
	return distuv.StudentsT{Mu: 0, Sigma: 1, Nu: float64(freedom)}.Quantile(0.9)
}
