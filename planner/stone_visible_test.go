package planner

import (
	"testing"
	"unicode"

	"github.com/stretchr/testify/require"
)

func TestVisible(t *testing.T) {
	for _, c := range []struct{ name, text, want string }{
		{"nothing", "", ""},
		{"plain", "Lantern Bay 7", "Lantern Bay 7"},
		{"clear screen", "\x1b[2Jgone", "^[[2Jgone"},
		{"clipboard by OSC 52", "\x1b]52;c;aGk=\x07", "^[]52;c;aGk=^G"},
		{"title by OSC 0 with ST", "\x1b]0;x\x1b\\", "^[]0;x^[\\"},
		{"one-byte CSI", "\u009b31m", "<U+009B>31m"},
		{"one-byte CSI, raw", "\x9b31m", "<0x9B>31m"},
		{"lines and tabs", "a\r\n\tb", "a^M^J^Ib"},
		{"nought and delete", "\x00\x7f", "^@^?"},
		{"right-to-left override", "\u202egnp.exe", "<U+202E>gnp.exe"},
		{"isolates", "\u2066a\u2069", "<U+2066>a<U+2069>"},
		{"direction marks", "\u200e\u200f\u061c", "<U+200E><U+200F><U+061C>"},
		{"line separator", "a\u2028b\u2029", "a<U+2028>b<U+2029>"},
		{"zero width", "a\u200bb\ufeffc", "a<U+200B>b<U+FEFF>c"},
		{"soft hyphen", "a\u00adb", "a<U+00AD>b"},
		{"tags", "\U000e0041", "<U+E0041>"},
		{"private use", "\ue000", "<U+E000>"},
		{"noncharacter", "\ufffe\U0010ffff", "<U+FFFE><U+10FFFF>"},
		{"a surrogate as bytes", "\xed\xa0\x80", "<0xED><0xA0><0x80>"},
		{"Arabic", "حجر جميل", "حجر جميل"},
		{"Japanese", "海辺の石", "海辺の石"},
		{"combining marks", "e\u0301\u0323", "e\u0301\u0323"},
		{"emoji with a joiner", "👩\u200d🔧", "👩\u200d🔧"},
		{"Persian with a non-joiner", "می\u200cخواهم", "می\u200cخواهم"},
	} {
		require.Equal(t, c.want, Visible(c.text), c.name)
	}
}

// Whatever rune comes, no control and no bidi mark goes out.
func TestVisibleLetsNoControlThrough(t *testing.T) {
	for r := rune(0); r <= unicode.MaxRune; r++ {
		for _, out := range Visible(string(r)) {
			if unicode.IsControl(out) || unicode.Is(unicode.Bidi_Control, out) {
				t.Fatalf("%U gives %U", r, out)
			}
		}
	}
}
