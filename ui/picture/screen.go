package picture

import (
	"errors"
	"image/color"
	"strings"
	"unicode"

	"github.com/charmbracelet/x/ansi"
	"github.com/charmbracelet/x/cellbuf"
)

// Colours are those of a terminal that a screen leaves to it.
type Colours struct{ Fore, Back color.RGBA }

// Dark and Light are what most dark and light terminals have.
var (
	Dark  = Colours{color.RGBA{212, 212, 212, 255}, color.RGBA{24, 24, 26, 255}}
	Light = Colours{color.RGBA{34, 34, 34, 255}, color.RGBA{255, 255, 255, 255}}
)

// Screen is a screen's cells.
type Screen struct {
	width, height int
	own           Colours
	cells         []cell
}

// cell is one cell: a sign, its colours, and whether it is bold. A sign two cells
// wide has an empty cell behind it.
type cell struct {
	sign       string
	fore, back color.RGBA
	bold       bool
}

// New reads a screen from its lines, as they are written to a terminal, in so
// many columns. Longer lines are cut.
func New(lines []string, width int, own Colours) *Screen {
	s := &Screen{width: max(0, width), height: len(lines), own: own}
	s.cells = make([]cell, s.width*s.height)
	for i := range s.cells {
		s.cells[i] = cell{fore: own.Fore, back: own.Back}
	}
	for row, line := range lines {
		b := cellbuf.NewBuffer(s.width, 1)
		cellbuf.SetContent(b, ansi.Truncate(line, s.width, ""))
		for col := range s.width {
			if c := b.Cell(col, 0); c != nil {
				s.cells[row*s.width+col] = s.read(c)
			}
		}
	}
	return s
}

// read resolves a cell's colours.
func (s *Screen) read(c *cellbuf.Cell) cell {
	out := cell{fore: resolve(c.Style.Fg, s.own.Fore), back: resolve(c.Style.Bg, s.own.Back)}
	if c.Style.Attrs.Contains(cellbuf.ReverseAttr) {
		out.fore, out.back = out.back, out.fore
	}
	out.bold = c.Style.Attrs.Contains(cellbuf.BoldAttr)
	if c.Width > 0 && c.Rune != ' ' && c.Rune != 0 {
		out.sign = strings.Map(printed, string(append([]rune{c.Rune}, c.Comb...)))
	}
	return out
}

// printed drops what is no sign and XML cannot hold (XML 1.0, "Char").
func printed(r rune) rune {
	if unicode.IsControl(r) || r == 0xfffe || r == 0xffff {
		return -1
	}
	return r
}

func resolve(c ansi.Color, own color.RGBA) color.RGBA {
	if c == nil {
		return own
	}
	return color.RGBAModel.Convert(c).(color.RGBA)
}

// errEmpty says that there is nothing to make a picture of.
var errEmpty = errors.New("a screen without cells makes no picture")

// block is the part of a cell that a block element fills, in eighths of its width
// and height.
type block struct{ x0, y0, x1, y1 int }

// blockOf returns what a sign of the Unicode block "Block Elements" fills; ok is
// false for other signs and for its shades.
func blockOf(sign string) (b block, ok bool) {
	r := []rune(sign)
	if len(r) != 1 {
		return b, false
	}
	switch k := int(r[0]); {
	case k == 0x2580: // upper half
		return block{0, 0, 8, 4}, true
	case k >= 0x2581 && k <= 0x2588: // lower one to eight eighths
		return block{0, 8 - (k - 0x2580), 8, 8}, true
	case k >= 0x2589 && k <= 0x258f: // left seven to one eighths
		return block{0, 0, 8 - (k - 0x2588), 8}, true
	case k == 0x2590: // right half
		return block{4, 0, 8, 8}, true
	}
	return b, false
}

// shadeOf returns how much of a cell one of the shades ░ ▒ ▓ fills.
func shadeOf(sign string) (share float64, ok bool) {
	switch sign {
	case "░":
		return 0.25, true
	case "▒":
		return 0.5, true
	case "▓":
		return 0.75, true
	}
	return 0, false
}

// dots returns the dots of a braille pattern as bits, in the order of the Unicode
// block "Braille Patterns"; ok is false for other signs.
func dots(sign string) (bits uint8, ok bool) {
	r := []rune(sign)
	if len(r) != 1 || r[0] < 0x2800 || r[0] > 0x28ff {
		return 0, false
	}
	return uint8(r[0] - 0x2800), true
}

// dotPlaces are the column and row of the dot of each bit.
var dotPlaces = [8][2]int{{0, 0}, {0, 1}, {0, 2}, {1, 0}, {1, 1}, {1, 2}, {0, 3}, {1, 3}}

// mixed returns a colour some of the way from a to b.
func mixed(a, b color.RGBA, share float64) color.RGBA {
	at := func(x, y uint8) uint8 { return uint8(float64(x) + (float64(y)-float64(x))*share + 0.5) }
	return color.RGBA{at(a.R, b.R), at(a.G, b.G), at(a.B, b.B), 255}
}
