package search

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func TestSpareFirstKeepsTheOrderOtherwise(t *testing.T) {
	of := func(clearances ...float64) (fits []Fit) {
		for i, c := range clearances {
			fits = append(fits, Fit{Clearance: c, Volume: float64(i)})
		}
		return fits
	}
	order := func(fits []Fit) (out []float64) {
		for _, f := range fits {
			out = append(out, f.Volume)
		}
		return out
	}
	fits := of(0.1, 0.3, 0, 0.5, 0.29)
	SpareFirst(fits, 0.3)
	require.Equal(t, []float64{1, 3, 0, 2, 4}, order(fits))
	fits = of(0.1, 0.3, 0)
	SpareFirst(fits, 0)
	require.Equal(t, []float64{0, 1, 2}, order(fits), "nothing asked, nothing moved")
	SpareFirst(nil, 1)
}
