package style

import "math"

// The least contrasts, as WCAG 2.1 asks for: 4.5:1 for words (success criterion
// 1.4.3), 3:1 for what is drawn (1.4.11).
const (
	wordContrast = 4.5
	lineContrast = 3.0
)

// linear is the light of each value of a channel, as WCAG 2.1 defines it
// ("relative luminance"; 0.04045 is the threshold of sRGB, IEC 61966-2-1).
var linear = func() (out [256]float64) {
	for i := range out {
		c := float64(i) / 255
		if c <= 0.04045 {
			out[i] = c / 12.92
			continue
		}
		out[i] = math.Pow((c+0.055)/1.055, 2.4)
	}
	return out
}()

// luminance is the relative luminance of a 0xRRGGBB colour, 0 to 1.
func luminance(colour uint32) float64 {
	return 0.2126*linear[colour>>16&255] + 0.7152*linear[colour>>8&255] + 0.0722*linear[colour&255]
}

// Contrast is the contrast ratio of two 0xRRGGBB colours, 1 to 21 (WCAG 2.1).
func Contrast(a, b uint32) float64 {
	la, lb := luminance(a), luminance(b)
	return (math.Max(la, lb) + 0.05) / (math.Min(la, lb) + 0.05)
}

// mixed returns a colour some of the way from a to b.
func mixed(a, b uint32, share float64) uint32 {
	var out uint32
	for shift := 0; shift < 24; shift += 8 {
		x, y := float64(a>>shift&255), float64(b>>shift&255)
		out |= uint32(math.Round(x+(y-x)*share)) << shift
	}
	return out
}

// steps is in how many steps a colour is drawn towards black or white.
const steps = 24

// apart draws a colour towards black or white until it keeps a contrast from another
// one, and returns it with the steps that took. shown says what a colour becomes on
// the terminal.
func apart(moved, from, towards uint32, least float64, shown func(uint32) uint32) (uint32, int) {
	from = shown(from)
	for i := range steps {
		if c := shown(mixed(moved, towards, float64(i)/steps)); Contrast(c, from) >= least {
			return c, i
		}
	}
	return towards, steps
}

// off is the end of the greys, black or white, that is further from a colour, as
// contrasts go: from sqrt(0.05 * 1.05) - 0.05 on that is black.
func off(colour uint32) uint32 {
	if luminance(colour) < 0.18 {
		return 0xffffff
	}
	return 0x000000
}

// under returns the ground a colour is to stand on: the one there, drawn so far
// towards black or white that the contrast is at least least.
func under(fore, ground uint32, least float64, shown func(uint32) uint32) uint32 {
	g, _ := apart(ground, fore, off(shown(fore)), least, shown)
	return g
}

// drawnOn returns a line's colour and the ground it stands on. Whichever of them has
// to change less for their contrast does: on a bright highlight a bright line darkens,
// as its ground would become a dark square.
func drawnOn(fore, ground uint32, shown func(uint32) uint32) (uint32, uint32) {
	g, most := apart(ground, fore, off(shown(fore)), lineContrast, shown)
	if f, n := apart(fore, ground, off(shown(ground)), lineContrast, shown); n < most {
		return f, shown(ground)
	}
	return fore, g
}
