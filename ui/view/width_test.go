package view

import (
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Width is ansi.StringWidth, whatever the line holds.
func TestWidthIsTheLibrarys(t *testing.T) {
	parts := []string{"", "a", "⠿", "▀", "█", "石", "e\u0301", "⠿\u0301", "a\u0301", "\x1b[38;2;1;2;3m", "\x1b[0m",
		"\x1b[m", "\x1b[2", "\x1b]0;m\a",
		"\x1b[2J", "\x1b", "m", "\t", "\u200d", "…", "▸", "\xe2", "\xe2\x96", "\x1b[?25l", "\x9b1m"}
	rapid.Check(t, func(t *rapid.T) {
		line := strings.Join(rapid.SliceOf(rapid.SampledFrom(parts)).Draw(t, "parts"), "")
		require.Equal(t, ansi.StringWidth(line), Width(line), "%q", line)
	})
}
