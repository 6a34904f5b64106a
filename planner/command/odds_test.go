package command

import (
	"testing"

	"github.com/stretchr/testify/require"

	"cabwright/planner/cuts"
	"cabwright/planner/odds"
	"cabwright/presets"
)

// Saws that bring nothing share a line, whatever their number; one that brings something
// has its own.
func TestSawsThatBringNothingShareALine(t *testing.T) {
	thin, thick := presets.Saw{Name: "thin", Kerf: 0.3}, presets.Saw{Name: "thick", Kerf: 2}
	require.Empty(t, sawCosts(nil))
	require.Equal(t, []odds.Cost{
		{ID: "saw", What: "thin, kerf 0.3 mm, for two stones", AtLeast: 0.4},
		{ID: "saw", What: "with 2 saws of another kerf, for two stones", AtLeast: 0.01},
	}, sawCosts([]cuts.SawGain{{Saw: thick, Carat: -0.6}, {Saw: thin, Carat: 0.4}, {Saw: thick, Carat: 0.01}}))
	require.Equal(t, []odds.Cost{{ID: "saw", What: "with 1 saw of another kerf, for two stones"}},
		sawCosts([]cuts.SawGain{{Saw: thick, Carat: -1}}))
}
