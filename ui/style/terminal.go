package style

import "strings"

// cube returns the entry of the 256-colour palette nearest to an 0xRRGGBB
// colour: one of the 6 x 6 x 6 cube from entry 16 or of the greys from 232.
func cube(colour uint32) int {
	r, g, b := int(colour>>16), int(colour>>8&255), int(colour&255)
	step := func(v int) int { // the cube's levels are 0, 95, 135, 175, 215, 255
		switch {
		case v < 48:
			return 0
		case v < 115:
			return 1
		default:
			return (v - 35) / 40
		}
	}
	level := func(i int) int {
		if i == 0 {
			return 0
		}
		return 55 + 40*i
	}
	sq := func(v int) int { return v * v }
	cr, cg, cb := step(r), step(g), step(b)
	best := 16 + 36*cr + 6*cg + cb
	off := sq(level(cr)-r) + sq(level(cg)-g) + sq(level(cb)-b)
	grey := min(max(((r+g+b)/3-3)/10, 0), 23)
	if v := 8 + 10*grey; sq(v-r)+sq(v-g)+sq(v-b) < off {
		return 232 + grey
	}
	return best
}

// Detect reads from the environment what the terminal can show and on which
// ground: NO_COLOR (no-color.org), COLORTERM, TERM and COLORFGBG. It never asks
// the terminal itself: one that stays silent would hold up the start.
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
	term := getenv("TERM")
	switch {
	case getenv("NO_COLOR") != "" || term == "dumb":
		return NoColour, ground
	case getenv("COLORTERM") == "truecolor" || getenv("COLORTERM") == "24bit":
		return TrueColour, ground
	case strings.Contains(term, "256color") || strings.Contains(term, "direct"):
		return Palette256, ground
	default:
		return Sixteen, ground
	}
}
