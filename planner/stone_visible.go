package planner

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Visible returns text fit to be shown: what would move the cursor, start an
// escape sequence, turn the writing direction round or hide is replaced by a
// visible mark of plain ASCII, ^[ for an escape, <U+202E> for a right-to-left
// override, <0x9B> for a byte that is no UTF-8. Text from a file passes here
// before any print. The joiners U+200C and U+200D stay: Persian, Indic scripts
// and emoji are spelt with them, and they give no order to a terminal.
func Visible(s string) string {
	clean := true
	for i := 0; i < len(s) && clean; i++ {
		clean = s[i] >= 0x20 && s[i] < 0x7f
	}
	if clean {
		return s
	}
	var b strings.Builder
	for i := 0; i < len(s); {
		r, size := utf8.DecodeRuneInString(s[i:])
		switch {
		case r == utf8.RuneError && size == 1:
			fmt.Fprintf(&b, "<0x%02X>", s[i])
		case r < 0x20 || r == 0x7f:
			b.WriteByte('^')
			b.WriteByte(byte(r) ^ 0x40)
		case hides(r):
			fmt.Fprintf(&b, "<U+%04X>", r)
		default:
			b.WriteRune(r)
		}
		i += size
	}
	return b.String()
}

// hides reports whether a rune is a control, a format character (the bidi marks
// are among these), a line or paragraph separator or private to some font.
func hides(r rune) bool {
	if r == '\u200c' || r == '\u200d' {
		return false
	}
	return unicode.In(r, unicode.Cc, unicode.Cf, unicode.Zl, unicode.Zp, unicode.Co, unicode.Noncharacter_Code_Point)
}
