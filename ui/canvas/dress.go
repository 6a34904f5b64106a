package canvas

// Look is what a run of cells shows: what is drawn in them and on which ground.
type Look struct {
	Class        Class // of the line or the words; Ground where only ground shows
	Words        bool  // letters and marks, not dots of a line
	Upper, Lower Tone  // the ground of both halves
}

// Ink is a colour as a terminal is told it: the kind in the highest byte, and
// its number or its red, green and blue. The zero Ink is the terminal's own.
type Ink uint32

const (
	ofSixteen Ink = 1 << 24
	ofPalette Ink = 2 << 24
	ofRGB     Ink = 3 << 24
)

// Sixteen returns one of the 16 colours, 0 to 15.
func Sixteen(n uint8) Ink { return ofSixteen | Ink(n) }

// Palette returns an entry of the 256-colour palette.
func Palette(n uint8) Ink { return ofPalette | Ink(n) }

// RGB returns a 24-bit colour.
func RGB(r, g, b uint8) Ink { return ofRGB | Ink(r)<<16 | Ink(g)<<8 | Ink(b) }

// Dress is how a look is written: where only ground shows, Fore is the colour of
// the upper half cell and Back that of the lower one.
type Dress struct {
	Fore, Back Ink
	Bold       bool
}

// Paint says how a look is dressed on one terminal.
type Paint func(Look) Dress

// plain is the terminal's own look.
var plain Dress

// decimal holds the numbers a colour is written with.
var decimal = func() (out [256]string) {
	for i := range out {
		digits := []byte{}
		for n := i; n > 0 || len(digits) == 0; n /= 10 {
			digits = append([]byte{byte('0' + n%10)}, digits...)
		}
		out[i] = string(digits)
	}
	return out
}()

// change appends the sequence (ECMA-48, SGR) that leads from one dress to
// another. It is written here and not by a library because a screen holds some
// ten thousand of them and must be drawn in a few milliseconds.
func change(out []byte, from, to Dress) []byte {
	if from == to {
		return out
	}
	if to == plain {
		return append(out, "\x1b[0m"...)
	}
	out = append(out, "\x1b["...)
	start := len(out)
	if from.Bold != to.Bold {
		if to.Bold {
			out = append(out, "1;"...)
		} else {
			out = append(out, "22;"...)
		}
	}
	if from.Fore != to.Fore {
		out = append(to.Fore.codes(out, 0), ';')
	}
	if from.Back != to.Back {
		out = append(to.Back.codes(out, 10), ';')
	}
	if len(out) > start {
		out = out[:len(out)-1] // the last ;
	}
	return append(out, 'm')
}

// codes appends the parameters that choose a colour; shift is 10 for a ground.
func (k Ink) codes(out []byte, shift uint8) []byte {
	r, g, b := uint8(k>>16), uint8(k>>8), uint8(k)
	switch k &^ 0xffffff {
	case ofSixteen:
		if b < 8 {
			return append(out, decimal[30+b+shift]...)
		}
		return append(out, decimal[90+b-8+shift]...)
	case ofPalette:
		out = append(append(out, decimal[38+shift]...), ";5;"...)
		return append(out, decimal[b]...)
	case ofRGB:
		out = append(append(out, decimal[38+shift]...), ";2;"...)
		out = append(append(out, decimal[r]...), ';')
		out = append(append(out, decimal[g]...), ';')
		return append(out, decimal[b]...)
	default:
		return append(out, decimal[39+shift]...)
	}
}
