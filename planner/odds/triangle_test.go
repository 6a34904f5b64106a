package odds

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat/distuv"
	"pgregory.net/rapid"
)

// The degenerate ones first. The chances of (1, 2, 4) are exact fractions of the
// two triangles' areas: of the whole, base 3 and height 2/3, the part up to 2 has
// the area 1/3, the part beyond 2.5 has 1.5/2 of the falling side's base and so
// (1.5/2)^2 of its area 2/3, 3/8.
func TestTriangularByArea(t *testing.T) {
	for _, c := range []struct {
		name    string
		t       Triangular
		x, want float64
	}{
		{"one value, below it", Triangular{2, 2, 2}, 1.99, 0},
		{"one value, at it", Triangular{2, 2, 2}, 2, 1},
		{"one value, above it", Triangular{2, 2, 2}, 2.01, 1},
		{"no rising side, at the start", Triangular{2, 2, 4}, 2, 0},
		{"no rising side, half-way", Triangular{2, 2, 4}, 3, 0.75},
		{"no falling side, half-way", Triangular{2, 4, 4}, 3, 0.25},
		{"no falling side, at the end", Triangular{2, 4, 4}, 4, 1},
		{"below the least", Triangular{1, 2, 4}, 0, 0},
		{"at the least", Triangular{1, 2, 4}, 1, 0},
		{"at the likely", Triangular{1, 2, 4}, 2, 1. / 3},
		{"between likely and most", Triangular{1, 2, 4}, 2.5, 0.625},
		{"at 3", Triangular{1, 2, 4}, 3, 5. / 6},
		{"at the most", Triangular{1, 2, 4}, 4, 1},
	} {
		require.InDelta(t, c.want, c.t.Below(c.x), 1e-15, c.name)
	}
	require.InDelta(t, 7./3, Triangular{1, 2, 4}.Mean(), 1e-15)
}

// Against gonum's distribution, an implementation of others.
func TestTriangularAgainstALibrary(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		least := rapid.Float64Range(-5, 5).Draw(t, "least")
		rise := rapid.Float64Range(1e-3, 10).Draw(t, "rise")
		fall := rapid.Float64Range(1e-3, 10).Draw(t, "fall")
		own := Triangular{least, least + rise, least + rise + fall}
		ref := distuv.NewTriangle(own.Least, own.Most, own.Likely, nil)
		x := rapid.Float64Range(own.Least-1, own.Most+1).Draw(t, "x")
		require.InDelta(t, ref.CDF(x), own.Below(x), 1e-9)
		p := rapid.Float64Range(0, 1).Draw(t, "p")
		require.InDelta(t, ref.Quantile(p), own.Quantile(p), 1e-9)
	})
}

func TestQuantileUndoesBelow(t *testing.T) {
	for _, own := range []Triangular{{2, 2, 2}, {2, 2, 4}, {2, 4, 4}, {1, 2, 4}} {
		for p := 0.0; p <= 1; p += 0.125 {
			x := own.Quantile(p)
			require.False(t, math.IsNaN(x))
			if own.Most > own.Least {
				require.InDelta(t, p, own.Below(x), 1e-12, "%v %v", own, p)
			}
		}
	}
}
