//go:build unix

package ui

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// The terminal library would ask for the terminal's colours (OSC 10 and 11, xterm
// control sequences) before the program begins, and wait for an answer. It must not,
// whatever the module is called: the order in which packages begin hangs on that.
func TestTheTerminalIsNotAskedForItsColours(t *testing.T) {
	s := start(t, 80, 24, stoneFile(t, "slab.stone"))
	s.waits("The rough")
	s.keys("<ctrl+c>")
	require.Equal(t, 0, s.wait())
	for _, asked := range []string{"]10;?", "]11;?", "]4;"} {
		require.NotContains(t, s.output(), asked)
	}
}
