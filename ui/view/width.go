package view

import "github.com/charmbracelet/x/ansi"

// Width returns how many cells a line takes, as ansi.StringWidth does, but in a
// fraction of its time for lines of a drawing: those hold thousands of sequences
// that choose colours (SGR), and of signs only letters of ASCII, braille dots and
// block elements.
func Width(line string) int {
	n := 0
	for i := 0; i < len(line); {
		switch b := line[i]; {
		case b >= ' ' && b < 0x7f:
			n++
			i++
		case b == 0xe2 && i+2 < len(line) && narrow(line[i+1], line[i+2]):
			n++
			i += 3
		case b == 0x1b && i+1 < len(line) && line[i+1] == '[':
			for i += 2; i < len(line) && (line[i] >= '0' && line[i] <= '9' || line[i] == ';'); i++ {
			}
			if i == len(line) || line[i] != 'm' {
				return ansi.StringWidth(line)
			}
			i++
		default:
			return ansi.StringWidth(line)
		}
	}
	return n
}

// narrow reports whether the sign of three bytes that begins with 0xe2 is a block
// element (U+2580 to U+259F) or a braille pattern (U+2800 to U+28FF): one cell
// wide, and joined by nothing but what is no such sign itself.
func narrow(second, third byte) bool {
	return second == 0x96 && third >= 0x80 && third <= 0x9f || second >= 0xa0 && second <= 0xa3
}
