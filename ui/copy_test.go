//go:build unix

package ui

import (
	"encoding/base64"
	"os"
	"path/filepath"
	"regexp"
	"testing"

	"github.com/stretchr/testify/require"
)

var clipboard = regexp.MustCompile("\x1b\\]52;c;([A-Za-z0-9+/=]*)\a")

func TestAFitsSummaryGoesToTheClipboardAndToAFile(t *testing.T) {
	t.Parallel()
	s := start(t, 80, 24, stoneFile(t, "nodule.stone"))
	s.waits("all decided")
	s.keys("3", "y")
	s.waits("the terminal's clipboard")
	found := clipboard.FindStringSubmatch(s.output())
	require.NotNil(t, found, "no OSC 52")
	text, err := base64.StdEncoding.DecodeString(found[1])
	require.NoError(t, err)
	require.Contains(t, string(text), "Quillan Dig 7: 14 x 9 mm oval")

	file := filepath.Join(t.TempDir(), "fit.txt")
	s.keys("Y")
	s.waits("Quillan-Dig-7.txt")
	s.keys("<ctrl+u>", file, "<enter>")
	s.waits("Written to")
	written, err := os.ReadFile(file)
	require.NoError(t, err)
	require.Equal(t, string(text), string(written))
	s.keys("Y", "<ctrl+u>", file, "<enter>")
	s.waits("such a file already")
	s.keys("q")
	require.Equal(t, 0, s.wait())
}

// The mouse goes to the terminal and comes back; while it is away nothing but its
// key brings it.
func TestTheMouseCanBeLeftToTheTerminal(t *testing.T) {
	t.Parallel()
	s := start(t, 80, 24, stoneFile(t, "nodule.stone"))
	s.waits("all decided")
	s.keys("m")
	s.waits("The mouse is the terminal's")
	s.until("no reports are asked for", func() bool { return lastOf(s, "\x1b[?1002l") > lastOf(s, "\x1b[?1002h") })
	s.keys("m")
	s.waits("the workbench's again")
	s.clickOn("2 Cracks")
	s.waits("Top, seen from above")
	s.keys("D")
	s.waits("Drawing in half blocks.")
	require.Contains(t, s.screen(), "▀")
	s.keys("D", "B")
	s.waits("Colours for a dark ground.")
	s.keys("q")
	require.Equal(t, 0, s.wait())
	s.restored()
}

func lastOf(s *session, sequence string) int {
	all := regexp.MustCompile(regexp.QuoteMeta(sequence)).FindAllStringIndex(s.output(), -1)
	if len(all) == 0 {
		return -1
	}
	return all[len(all)-1][0]
}
