package style

import (
	"fmt"
	"testing"

	"github.com/charmbracelet/x/ansi"
	"github.com/stretchr/testify/require"
)

// The worked examples of WCAG 2.1: black on white is 21:1; #777777 on white is
// just under 4.5:1 (WebAIM's contrast checker says 4.48:1).
func TestContrastRatio(t *testing.T) {
	require.InDelta(t, 21, Contrast(0, 0xffffff), 1e-9)
	require.InDelta(t, 4.48, Contrast(0x777777, 0xffffff), 0.01)
}

// Every colour keeps 3:1 (WCAG 2.1, 1.4.11 for graphics) on the grounds it is
// for, as true colour and as the nearest of the 256.
func TestColoursKeepTheirContrast(t *testing.T) {
	dark := []uint32{0x000000, 0x1e1e1e, 0x002b36}
	light := []uint32{0xffffff, 0xfdf6e3}
	check := func(role int, name string, colour uint32, grounds []uint32) {
		if colour == own {
			return
		}
		for _, g := range grounds {
			require.GreaterOrEqual(t, Contrast(colour, g), 3.0, "role %d, %s: #%06x on #%06x", role, name, colour, g)
			near := entry(cube(colour))
			require.GreaterOrEqual(t, Contrast(near, g), 3.0, "role %d, %s in 256: #%06x on #%06x", role, name, near, g)
		}
	}
	for r, l := range looks {
		check(r, "both", l.both, append(append([]uint32(nil), dark[:2]...), light...))
		check(r, "dark", l.dark, dark)
		check(r, "light", l.light, light)
	}
}

func TestCubeFindsTheNearestColour(t *testing.T) {
	for colour := uint32(0); colour < 1<<24; colour += 997 {
		off := func(n int) (sum int) {
			p := entry(n)
			for shift := 0; shift < 24; shift += 8 {
				d := int(p>>shift&255) - int(colour>>shift&255)
				sum += d * d
			}
			return sum
		}
		best := 16
		for n := 17; n < 256; n++ {
			if off(n) < off(best) {
				best = n
			}
		}
		require.LessOrEqual(t, off(cube(colour)), off(best)+off(best)/2+200, "#%06x: %d, nearest is %d", colour, cube(colour), best)
	}
}

func TestNoColourWritesNoSequence(t *testing.T) {
	s := New(NoColour, Unknown)
	for r := range roleCount {
		require.Equal(t, "word", s.Paint(r, "word"))
	}
}

func TestPaintKeepsTheTextAndEndsTheColour(t *testing.T) {
	for _, colours := range []Colours{Sixteen, Palette256, TrueColour} {
		for _, ground := range []Ground{Unknown, Dark, Light} {
			s := New(colours, ground)
			for r := range roleCount {
				out := s.Paint(r, "word")
				require.Equal(t, "word", ansi.Strip(out))
				require.True(t, out == "word" || out[len(out)-len(reset):] == reset)
			}
		}
	}
	require.Equal(t, "\x1b[31mx\x1b[0m", New(Sixteen, Dark).Paint(Crack, "x"))
	require.Equal(t, "", New(TrueColour, Dark).Paint(Crack, ""))
}

func TestDetect(t *testing.T) {
	for _, c := range []struct {
		env     map[string]string
		colours Colours
		ground  Ground
	}{
		{map[string]string{}, NoColour, Unknown},
		{map[string]string{"TERM": "vt100"}, NoColour, Unknown},
		{map[string]string{"TERM": "xterm-kitty"}, TrueColour, Unknown},
		{map[string]string{"TERM": "screen", "COLORTERM": "truecolor"}, Palette256, Unknown},
		{map[string]string{"TERM": "screen", "COLORTERM": "truecolor", "TERM_PROGRAM": "tmux"}, TrueColour, Unknown},
		{map[string]string{"TERM": "xterm-256color", "CLICOLOR": "0"}, NoColour, Unknown},
		{map[string]string{"TERM": "dumb"}, NoColour, Unknown},
		{map[string]string{"TERM": "xterm-256color", "NO_COLOR": "1"}, NoColour, Unknown},
		{map[string]string{"TERM": "xterm-256color", "NO_COLOR": ""}, Palette256, Unknown}, // no-color.org: only when not empty
		{map[string]string{"TERM": "linux"}, Sixteen, Unknown},
		{map[string]string{"TERM": "tmux-256color", "COLORTERM": "truecolor"}, TrueColour, Unknown},
		{map[string]string{"TERM": "xterm", "COLORFGBG": "15;0"}, Sixteen, Dark},
		{map[string]string{"TERM": "xterm", "COLORFGBG": "0;default;15"}, Sixteen, Light},
		{map[string]string{"TERM": "xterm", "COLORFGBG": "0;default"}, Sixteen, Unknown},
	} {
		t.Run(fmt.Sprint(c.env), func(t *testing.T) {
			colours, ground := Detect(func(k string) string { return c.env[k] })
			require.Equal(t, c.colours, colours)
			require.Equal(t, c.ground, ground)
		})
	}
}
