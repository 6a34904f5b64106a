package simplex

import (
	"math"
	"math/rand/v2"
	"testing"

	"cabwright/planner/search/internal/searchtest"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"
	simplex "gonum.org/v1/gonum/optimize/convex/lp"
)

// exactOptimum solves the programme with gonum's simplex method, in its
// standard form: t = t1 - t2, y = z - 1, slack s and u.
//
//	minimise t2 - t1, t1 - t2 - a.z + s = b - sum a, z_j + u_j = 2, all >= 0
func exactOptimum(t *testing.T, rows []Row, n int) float64 {
	m := len(rows)
	cols := 2 + n + m + n
	a := mat.NewDense(m+n, cols, nil)
	b := make([]float64, m+n)
	c := make([]float64, cols)
	c[0], c[1] = -1, 1
	for i, r := range rows {
		a.Set(i, 0, 1)
		a.Set(i, 1, -1)
		b[i] = r.B
		for j := range n {
			a.Set(i, 2+j, -r.A[j])
			b[i] -= r.A[j]
		}
		a.Set(i, 2+n+i, 1)
	}
	for j := range n {
		a.Set(m+j, 2+j, 1)
		a.Set(m+j, 2+n+m+j, 1)
		b[m+j] = 2
	}
	v, _, err := simplex.Simplex(c, a, b, 1e-10, nil)
	require.NoError(t, err)
	return -v
}

func randomProgramme(r *rand.Rand, n, rows int) []Row {
	out := make([]Row, rows)
	for i := range out {
		out[i].B = searchtest.Between(r, -1, 1)
		for j := range n {
			// Many gradients have level or upright parts: zeros must not upset it.
			if r.IntN(3) > 0 {
				out[i].A[j] = searchtest.Between(r, -1, 1) * math.Pow(10, searchtest.Between(r, -2, 0.5))
			}
		}
	}
	return out
}

func TestProgrammeOfOneRow(t *testing.T) {
	for name, c := range map[string]struct {
		row  Row
		want float64
	}{
		"a level row":  {Row{B: 0.7}, 0.7},
		"a steep row":  {Row{B: 0.7, A: [MostVariables]float64{1, -2, 0, 0.5, 0, 0}}, 4.2},
		"below zero":   {Row{B: -3}, -3},
		"opposed pair": {Row{B: 1, A: [MostVariables]float64{5}}, 6},
	} {
		l := Solver{N: MostVariables, Rows: []Row{c.row}}
		require.InDelta(t, c.want, l.Solve(math.Inf(-1)), 1e-12, name)
	}
	// Top against base: the slopes cancel, and only half the room is left.
	l := Solver{
		N: MostVariables, Rows: []Row{{B: 1, A: [MostVariables]float64{2: 5}}, {B: 2, A: [MostVariables]float64{2: -5}}},
	}
	require.InDelta(t, 1.5, l.Solve(math.Inf(-1)), 1e-12)
	require.InDelta(t, 0.1, l.Point()[2], 1e-12)
}

// Against gonum's simplex method: equal at the end, and never below the optimum
// when it is stopped early.
func TestProgrammeAgainstSimplex(t *testing.T) {
	r := searchtest.Random(1)
	short := 0
	for k := range searchtest.ManyProgrammes {
		n := []int{MostVariables, 4}[r.IntN(2)]
		rows := randomProgramme(r, n, 1+r.IntN(30))
		want := exactOptimum(t, rows, n)
		l := Solver{N: n, Rows: rows}
		got := l.Solve(math.Inf(-1))
		require.GreaterOrEqual(t, got, want-1e-7, "programme %d", k)
		if got > want+1e-7 {
			// A step that the numbers did not allow, or the eightieth: valid, not least.
			short++
			continue
		}

		// The point that the climb steps to reaches the optimum.
		y, least := l.Point(), math.Inf(1)
		for _, row := range rows {
			v := row.B
			for j := range n {
				v += row.A[j] * y[j]
			}
			least = min(least, v)
		}
		require.LessOrEqual(t, least, want+1e-7)
		if least < want-1e-6 {
			short++ // the bound is right, the basis a degenerate one
			continue
		}

		// The weights are a convex combination that proves the bound.
		sum, bound := 0.0, 0.0
		var slope [MostVariables]float64
		l.Weights(func(row int, w float64) {
			sum += w
			bound += w * rows[row].B
			for j := range n {
				slope[j] += w * rows[row].A[j]
			}
		})
		for j := range n {
			bound += math.Abs(slope[j])
		}
		require.InDelta(t, 1, sum, 1e-6)
		require.InDelta(t, want, bound, 1e-6)

		enough := want + searchtest.Between(r, 0, 3)
		l = Solver{N: n, Rows: rows}
		require.GreaterOrEqual(t, l.Solve(enough), want-1e-7, "stopped early")
		require.GreaterOrEqual(t, l.value(), want-1e-7)
	}
	require.LessOrEqual(t, short, searchtest.ManyProgrammes/1000)
}
