package style

import (
	"io"
	"strings"

	"github.com/muesli/termenv"
)

// entry returns an entry of the 256-colour palette from 16 on: the cube of 6 x 6
// x 6 colours and the greys, as xterm has them.
func entry(n int) uint32 {
	if n >= 232 {
		v := uint32(8 + 10*(n-232))
		return v<<16 | v<<8 | v
	}
	n -= 16
	level := func(i int) uint32 {
		if i == 0 {
			return 0
		}
		return uint32(55 + 40*i)
	}
	return level(n/36)<<16 | level(n/6%6)<<8 | level(n%6)
}

// unlike says how unlike two 0xRRGGBB colours look: the square of their distance
// in brightness and, twice as far, in red and blue against green. In plain red,
// green and blue a dark colour's nearest neighbour often has another hue.
func unlike(a, b uint32) int {
	dr, dg, db := int(a>>16)-int(b>>16), int(a>>8&255)-int(b>>8&255), int(a&255)-int(b&255)
	bright := (2*dr + 5*dg + db) / 8
	return 2*bright*bright + (dr-dg)*(dr-dg) + (db-dg)*(db-dg)
}

// cube returns the entry of the 256-colour palette that looks most like an
// 0xRRGGBB colour: one of the 6 x 6 x 6 cube from entry 16, next to it in each
// channel, or of the greys from 232.
func cube(colour uint32) int {
	r, g, b := int(colour>>16), int(colour>>8&255), int(colour&255)
	below := func(v int) int { // the cube's levels are 0, 95, 135, 175, 215, 255
		switch {
		case v < 95:
			return 0
		default:
			return min((v-55)/40, 4)
		}
	}
	i, j, k := below(r), below(g), below(b)
	best := 232 + min(max(((2*r+5*g+b)/8-3)/10, 0), 23)
	for n := range 8 {
		if e := 16 + 36*(i+n>>2) + 6*(j+n>>1&1) + k + n&1; unlike(entry(e), colour) < unlike(entry(best), colour) {
			best = e
		}
	}
	return best
}

// environment gives the library one environment to look in.
type environment func(string) string

// Environ is not asked for anything: which colours there are hangs on single
// variables alone.
func (environment) Environ() []string { return nil }

// Getenv returns a variable's value.
func (e environment) Getenv(key string) string { return e(key) }

// Detect reads from the environment what the terminal can show, as the terminal
// library does (NO_COLOR, CLICOLOR, COLORTERM, TERM), and on which ground
// (COLORFGBG). It never asks the terminal itself: one that stays silent would
// hold up the start.
func Detect(getenv func(string) string) (Colours, Ground) {
	ground := Unknown
	if fgbg := getenv("COLORFGBG"); fgbg != "" {
		// The last field is the background: 7 and 9 to 15 are the light ones.
		switch fgbg[strings.LastIndexByte(fgbg, ';')+1:] {
		case "7", "9", "10", "11", "12", "13", "14", "15":
			ground = Light
		case "0", "1", "2", "3", "4", "5", "6", "8":
			ground = Dark
		}
	}
	out := termenv.NewOutput(io.Discard, termenv.WithEnvironment(environment(getenv)), termenv.WithTTY(true))
	switch out.EnvColorProfile() {
	case termenv.TrueColor:
		return TrueColour, ground
	case termenv.ANSI256:
		return Palette256, ground
	case termenv.ANSI:
		return Sixteen, ground
	}
	return NoColour, ground
}
