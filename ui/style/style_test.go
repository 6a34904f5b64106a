package style

import (
	"fmt"
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"
	"github.com/muesli/termenv"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cabwright/ui/canvas"
)

// The worked examples of WCAG 2.1: black on white is 21:1; #777777 on white is
// just under 4.5:1 (WebAIM's contrast checker says 4.48:1).
func TestContrastRatio(t *testing.T) {
	require.InDelta(t, 21, Contrast(0, 0xffffff), 1e-9)
	require.InDelta(t, 4.48, Contrast(0x777777, 0xffffff), 0.01)
}

// darkGrounds and lightGrounds are what terminals are often set to: black, a dark
// grey, a dark blue-green; white, cream.
var (
	darkGrounds  = []uint32{0x000000, 0x1e1e1e, 0x002b36}
	lightGrounds = []uint32{0xffffff, 0xfdf6e3}
)

// Every colour keeps 4.5:1 (WCAG 2.1, 1.4.3: words), and with it the 3:1 of what
// is drawn (1.4.11), on the grounds it is for, as true colour and as one of the 256.
func TestColoursKeepTheirContrast(t *testing.T) {
	check := func(role int, name string, colour uint32, grounds []uint32) {
		if colour == own {
			return
		}
		for _, g := range grounds {
			assert.GreaterOrEqual(t, Contrast(colour, g), 4.5, "role %d, %s: #%06x on #%06x", role, name, colour, g)
			near := entry(cube(colour))
			assert.GreaterOrEqual(t, Contrast(near, g), 4.5, "role %d, %s in 256: #%06x on #%06x", role, name, near, g)
		}
	}
	for r, l := range looks {
		check(r, "unknown", l.both, []uint32{0x000000, 0xffffff})
		check(r, "dark", l.dark, darkGrounds)
		check(r, "light", l.light, lightGrounds)
	}
}

// shownAs returns the colour a terminal shows for one it is told, in palettes of
// 16 colours where it is one of those.
func shownAs(t *testing.T, k canvas.Ink, sixteen [16]uint32) uint32 {
	n := uint32(k & 0xffffff)
	switch k &^ 0xffffff {
	case canvas.Sixteen(0):
		return sixteen[n]
	case canvas.Palette(0):
		return entry(int(n))
	case canvas.RGB(0, 0, 0):
		return n
	}
	t.Fatalf("%x is no colour", k)
	return 0
}

// Whatever the ground is painted, every line on it keeps 3:1 and every word 4.5:1.
func TestWhatIsDrawnKeepsItsContrastOnEveryGround(t *testing.T) {
	var grounds []uint32
	for n := 16; n < 256; n++ {
		grounds = append(grounds, entry(n))
	}
	for _, colours := range []Colours{Sixteen, Palette256, TrueColour} {
		for _, ground := range []Ground{Unknown, Dark, Light} {
			s := New(colours, ground)
			for class := canvas.Grid; class < canvas.Classes; class++ {
				for i, g := range grounds {
					for _, words := range []bool{false, true} {
						tone := canvas.NewTone(canvas.Material(1+i%int(canvas.Materials-1)), uint8(g>>16), uint8(g>>8), uint8(g))
						d := s.Canvas(canvas.Look{Class: class, Words: words, Upper: tone, Lower: tone})
						least := 3.0
						if words {
							least = 4.5
						}
						for _, sixteen := range [][16]uint32{xterm16, vga16} {
							got := Contrast(shownAs(t, d.Fore, sixteen), shownAs(t, d.Back, sixteen))
							require.GreaterOrEqual(t, got, least, "class %d on #%06x, colours %d, ground %d", class, g, colours, ground)
						}
					}
				}
			}
		}
	}
}

// What the issue of colours is about: selection, too near, different, obstacle
// and cursor, and each kind of thing on the stone, look like nothing else. What
// is a thing and its word has one colour on purpose.
func TestOneColourOneMeaning(t *testing.T) {
	apart := []Role{Selected, Bad, Different, Limit, Skin, Sealed, Pocket, Zone, Fit, SawCut, CutLine, Reading}
	for _, ground := range []Ground{Dark, Light} {
		for i, a := range apart {
			for _, b := range apart[:i] {
				require.NotEqual(t, looks[a].on(ground), looks[b].on(ground), "roles %d and %d", a, b)
			}
		}
	}
	s := New(TrueColour, Dark)
	seen := map[canvas.Dress]canvas.Class{}
	tone := canvas.NewTone(canvas.Rock, 80, 80, 80)
	for _, class := range []canvas.Class{canvas.Chosen, canvas.Refused, canvas.Limit, canvas.Cursor, canvas.Girdle,
		canvas.Pocket, canvas.Sealed} {
		d := s.Canvas(canvas.Look{Class: class, Words: true, Upper: tone, Lower: tone})
		require.NotContains(t, seen, d, "class %d looks like %d", class, seen[d])
		seen[d] = class
	}
}

// The entry found is the one a search of the whole palette finds, or as like.
func TestCubeFindsTheMostLikeColour(t *testing.T) {
	for colour := uint32(0); colour < 1<<24; colour += 997 {
		best := 16
		for n := 17; n < 256; n++ {
			if unlike(entry(n), colour) < unlike(entry(best), colour) {
				best = n
			}
		}
		got := unlike(entry(cube(colour)), colour)
		require.LessOrEqual(t, got, unlike(entry(best), colour)*3/2+400, "#%06x: %d, most like is %d", colour, cube(colour),
			best)
	}
}

// Entries of the palette are found again.
func TestCubeKeepsThePalette(t *testing.T) {
	for n := 16; n < 256; n++ {
		require.Equal(t, entry(n), entry(cube(entry(n))), n)
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
		// no-color.org: only when not empty
		{map[string]string{"TERM": "xterm-256color", "NO_COLOR": ""}, Palette256, Unknown},
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

// What the library's parts are given is the colour that Paint writes: termenv
// writes its sequence (ECMA-48, SGR 38 with RGB and palette).
func TestTermenvColoursAreThoseOfPaint(t *testing.T) {
	for _, colours := range []Colours{NoColour, Sixteen, Palette256, TrueColour} {
		for _, ground := range []Ground{Unknown, Dark, Light} {
			s := New(colours, ground)
			for r, l := range looks {
				if l.bold || l.reverse {
					continue // of these the parts take the colour alone
				}
				colour, profile := s.Termenv(Role(r))
				if strings.HasPrefix(colour, "#") {
					// The library writes a level less of some: its own conversion rounds down.
					require.Equal(t, fmt.Sprintf("#%06x", l.on(ground)), colour, "role %d", r)
					continue
				}
				got := termenv.String("x").Foreground(profile.Color(colour)).String()
				want := s.Paint(Role(r), "x")
				require.Equal(t, strings.TrimSuffix(want, reset), strings.TrimSuffix(got, termenv.CSI+termenv.ResetSeq+"m"),
					"role %d, colours %d, ground %d", r, colours, ground)
			}
		}
	}
}
