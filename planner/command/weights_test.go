package command

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func TestWeightsTakeTheirUnit(t *testing.T) {
	for text, want := range map[string]float64{
		"24.6": 24.6, "24.6ct": 24.6, " 24,6 ct ": 24.6, "24.6 Carats": 24.6, "4.92g": 24.6,
		"4.92 g": 24.6, "0.00492kg": 24.6,
		"1ozt": 155.517384, // 31.1034768 g exactly
	} {
		got, err := parseWeight("weight", text)
		require.NoError(t, err, text)
		require.InDelta(t, want, got, 1e-9, text)
	}
	for _, bad := range []string{"", "ct", "0", "-3", "24.6 lb", "24.6.1", "1e9", "NaN", "inf ct", "1e400", "24.6ct5"} {
		_, err := parseWeight("weight", bad)
		require.ErrorContains(t, err, "--weight", bad)
	}
}
