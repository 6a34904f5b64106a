package simplex

import "math"

// The bound of a box of poses is the small linear programme
//
//	maximise t   subject to   t <= b_i + sum_j a_ij y_j   for every row i,  |y_j| <= 1.
//
// It is solved through its dual, in which every feasible point is already a
// valid bound: minimise sum_i l_i b_i + sum_j |sum_i l_i a_ij| over weights l that
// are not negative and sum to 1. Rows with opposite slopes (top against base)
// cancel there. The primal simplex method runs on the dual with a basis of at
// most seven columns; it can be stopped at any step.

// MostVariables is the most variables a programme may have: as many as a pose has numbers.
const MostVariables = 6

// Row is one row: t <= b + a . y.
type Row struct {
	A        [MostVariables]float64
	B        float64
	Low      float64                // its least value over the box
	Strain   [MostVariables]float64 // by which variables the slack in b comes
	Obstacle int
	Sample   int // index of the sample, plus one
}

// Solver holds the working space of one solver.
type Solver struct {
	N     int // variables in use
	Rows  []Row
	basis [MostVariables + 1]int // >= 0: row; -1-2j: plus slack of j; -2-2j: minus slack of j
	inv   [MostVariables + 1][MostVariables + 1]float64
	x     [MostVariables + 1]float64 // values of the basic columns
	dual  [MostVariables + 1]float64 // t, then minus y
}

// column writes the constraint column of a basis member and returns its cost.
func (l *Solver) column(k int, col *[MostVariables + 1]float64) float64 {
	*col = [MostVariables + 1]float64{}
	if k >= 0 {
		r := &l.Rows[k]
		col[0] = 1
		copy(col[1:], r.A[:l.N])
		return r.B
	}
	j := (-1 - k) / 2
	if (-1-k)%2 == 0 {
		col[1+j] = 1
	} else {
		col[1+j] = -1
	}
	return 1
}

// Solve returns a valid bound: the optimum, or any value below enough as soon
// as one is met. rows must not be empty. It never takes more than 80 steps; where
// that cuts it short the bound is merely not the least.
func (l *Solver) Solve(enough float64) float64 {
	first := 0
	best := math.Inf(1)
	for i := range l.Rows {
		v := l.Rows[i].B
		for j := 0; j < l.N; j++ {
			v += math.Abs(l.Rows[i].A[j])
		}
		if v < best {
			best, first = v, i
		}
	}
	l.start(first)
	value := best
	for range 80 {
		if value < enough {
			break
		}
		l.prices()
		in, cost := l.entering()
		if cost >= -1e-9 {
			break
		}
		if !l.pivot(in) {
			break
		}
		value = l.value()
	}
	l.prices()
	return value
}

// start makes the basis of one row and the slacks that balance it.
func (l *Solver) start(first int) {
	n := l.N
	l.inv = [MostVariables + 1][MostVariables + 1]float64{}
	l.basis[0], l.x[0] = first, 1
	l.inv[0][0] = 1
	for j := 0; j < n; j++ {
		a := l.Rows[first].A[j]
		// a + plus - minus = 0
		sign := 1.0
		l.basis[1+j] = -1 - 2*j
		if a > 0 {
			sign = -1
			l.basis[1+j] = -2 - 2*j
		}
		l.x[1+j] = math.Abs(a)
		l.inv[1+j][1+j] = sign
		l.inv[1+j][0] = -sign * a
	}
}

// prices computes the dual values of the basis.
func (l *Solver) prices() {
	l.dual = [MostVariables + 1]float64{}
	for i := 0; i <= l.N; i++ {
		c := 1.0
		if l.basis[i] >= 0 {
			c = l.Rows[l.basis[i]].B
		}
		for k := 0; k <= l.N; k++ {
			l.dual[k] += c * l.inv[i][k]
		}
	}
}

// entering returns the column of the most negative reduced cost.
func (l *Solver) entering() (int, float64) {
	in, least := 0, math.Inf(1)
	d := &l.dual
	if l.N == MostVariables {
		for i := range l.Rows {
			r := &l.Rows[i]
			v := r.B - d[0] - r.A[0]*d[1] - r.A[1]*d[2] - r.A[2]*d[3] - r.A[3]*d[4] - r.A[4]*d[5] - r.A[5]*d[6]
			if v < least {
				in, least = i, v
			}
		}
	} else {
		for i := range l.Rows {
			r := &l.Rows[i]
			v := r.B - d[0]
			for j := 0; j < l.N; j++ {
				v -= r.A[j] * d[1+j]
			}
			if v < least {
				in, least = i, v
			}
		}
	}
	for j := 0; j < l.N; j++ {
		if v := 1 - d[1+j]; v < least {
			in, least = -1-2*j, v
		}
		if v := 1 + d[1+j]; v < least {
			in, least = -2-2*j, v
		}
	}
	return in, least
}

// pivot brings a column into the basis; false if the numbers no longer allow it.
func (l *Solver) pivot(in int) bool {
	var col, dir [MostVariables + 1]float64
	l.column(in, &col)
	m := l.N + 1
	for i := 0; i < m; i++ {
		s := 0.0
		for k := 0; k < m; k++ {
			s += l.inv[i][k] * col[k]
		}
		dir[i] = s
	}
	out, step := -1, math.Inf(1)
	for i := 0; i < m; i++ {
		if dir[i] > 1e-10 {
			if t := l.x[i] / dir[i]; t < step {
				out, step = i, t
			}
		}
	}
	if out < 0 {
		return false
	}
	for i := 0; i < m; i++ {
		if i != out {
			l.x[i] = max(0, l.x[i]-step*dir[i])
		}
	}
	l.x[out] = step
	p := 1 / dir[out]
	for k := 0; k < m; k++ {
		l.inv[out][k] *= p
	}
	for i := 0; i < m; i++ {
		if i != out && dir[i] != 0 {
			for k := 0; k < m; k++ {
				l.inv[i][k] -= dir[i] * l.inv[out][k]
			}
		}
	}
	l.basis[out] = in
	return true
}

// value computes a bound from the weights in the basis, anew from the rows, so
// that rounding in the basis cannot make it invalid: weights are held at 0 or
// more and divided by their sum.
func (l *Solver) value() float64 {
	var c [MostVariables]float64
	sum, b := 0.0, 0.0
	for i := 0; i <= l.N; i++ {
		k := l.basis[i]
		if k < 0 || l.x[i] <= 0 {
			continue
		}
		sum += l.x[i]
		b += l.x[i] * l.Rows[k].B
		for j := 0; j < l.N; j++ {
			c[j] += l.x[i] * l.Rows[k].A[j]
		}
	}
	for j := 0; j < l.N; j++ {
		b += math.Abs(c[j])
	}
	return b / sum
}

// Weights calls do with every row in the basis and its weight.
func (l *Solver) Weights(do func(row int, weight float64)) {
	for i := 0; i <= l.N; i++ {
		if l.basis[i] >= 0 && l.x[i] > 1e-9 {
			do(l.basis[i], l.x[i])
		}
	}
}

// Point returns the variables at the optimum, held within their range.
func (l *Solver) Point() (y [MostVariables]float64) {
	for j := 0; j < l.N; j++ {
		y[j] = max(-1, min(1, -l.dual[1+j]))
	}
	return y
}
