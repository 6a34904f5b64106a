package fits

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"cabwright/planner/learn"
	"cabwright/planner/stonefile"
	"cabwright/presets"
)

// The band says what it rests on, in full or in short, and beside it stands what the
// fit weighs as the cutter's own stones came out.
func TestTheBandSaysWhatItRestsOn(t *testing.T) {
	doc, err := stonefile.Read("../../testdata/stones/nodule.stone", presets.Builtin())
	require.NoError(t, err)
	v, s := newView(), stateOf(doc.Stone, plan(t))
	shown := func(width int) string { return strings.Join(frame(t, v, s, width, 40), "\n") }
	require.Contains(t, shown(160), "band: SG 1.83 as given, 0.02 off or on; 0.1 mm off or on")
	require.Contains(t, shown(80), "SG 1.81 to 1.85, as given")
	require.NotContains(t, shown(160), "yours:")

	s.Folder.Own = &learn.Correction{Stones: 9, Low: 0.5, Middle: 0.9, High: 1}
	s.Chosen.Carat = 8
	require.Contains(t, shown(160), "yours: 4.00 to 8.00 ct, of 9 finished, 10% lighter")
	require.Contains(t, shown(80), "yours: 4.00 to 8.00 ct")

	s.Rough = nil
	require.NotContains(t, shown(160), "band:", "the drawn volume may narrow it: not known yet")
}
