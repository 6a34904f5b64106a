package canvas

import (
	"unicode/utf8"

	"cabwright/geometry"
)

// Mode is what a canvas makes its dots of.
type Mode int

// The modes, for terminals whose font has more or less.
const (
	Braille   Mode = iota // 2 x 4 dots a cell
	HalfBlock             // 1 x 2 dots a cell
	ASCII                 // one sign a cell, that leans as the line does
)

// dots returns how many dots a cell has across and down.
func (m Mode) dots() (across, down int) {
	switch m {
	case HalfBlock:
		return 1, 2
	case ASCII:
		return 1, 1
	default:
		return 2, 4
	}
}

// sideMax is the most cells a side can have: past any terminal, and small
// enough that a wrong size cannot ask for gigabytes.
const sideMax = 2000

// noText and tail are the two values of Canvas.glyph that are no index: a cell
// without text, and the right half of a sign two cells wide.
const (
	noText = -1
	tail   = -2
)

// Canvas is a drawing of width x height cells in two layers: a ground of one
// tone each half cell, and dots and text above it. What is drawn later lies on
// top: it takes over the class of the cells it touches, and text covers dots.
type Canvas struct {
	mode          Mode
	width, height int
	across, down  int // dots a cell
	view          View
	dots          []uint8 // a cell's dots as bits, or in ASCII its sign
	class         []Class
	glyph         []int32 // index into signs, noText or tail
	signs         []string
	marks         map[int]bool // cells whose sign is a mark
	ground        []Tone       // of half cells, two rows a row of cells; nil while there is none
}

// New returns an empty canvas of so many cells, showing 20 mm about the origin.
// Sizes below zero count as zero.
func New(width, height int, mode Mode) *Canvas {
	width = min(max(width, 0), sideMax)
	height = min(max(height, 0), sideMax)
	c := &Canvas{
		mode: mode, width: width, height: height,
		dots:  make([]uint8, width*height),
		class: make([]Class, width*height),
		glyph: make([]int32, width*height),
	}
	c.across, c.down = mode.dots()
	for i := range c.glyph {
		c.glyph[i] = noText
	}
	c.view = FitTo(nil, width, height, 0)
	return c
}

// Size returns the width and height in cells.
func (c *Canvas) Size() (width, height int) { return c.width, c.height }

// Mode returns what the canvas makes its dots of.
func (c *Canvas) Mode() Mode { return c.mode }

// View returns the part of the plane that is shown.
func (c *Canvas) View() View { return c.view }

// SetView sets the part of the plane that whatever is drawn from now on is
// placed in.
func (c *Canvas) SetView(v View) { c.view = v }

// At returns the point in the middle of a cell; see View.At.
func (c *Canvas) At(col, row int) geometry.Vec2 { return c.view.At(c.width, c.height, col, row) }

// dotOf returns where p falls, in dots from the upper left corner.
func (c *Canvas) dotOf(p geometry.Vec2) (x, y float64) {
	col, row := c.view.Cell(c.width, c.height, p)
	return col * float64(c.across), row * float64(c.down)
}

// brailleBit[x][y] is the bit of the dot in column x and row y of a cell: the
// order of the Unicode block "Braille Patterns", U+2800 to U+28FF.
var brailleBit = [2][4]uint8{{0x01, 0x02, 0x04, 0x40}, {0x08, 0x10, 0x20, 0x80}}

// set puts a dot at column x, row y of dots; outside the canvas it does nothing.
func (c *Canvas) set(x, y int, class Class, sign uint8) {
	if x < 0 || y < 0 || x >= c.width*c.across || y >= c.height*c.down {
		return
	}
	i := y/c.down*c.width + x/c.across
	switch c.mode {
	case Braille:
		c.dots[i] |= brailleBit[x&1][y&3]
	case HalfBlock:
		c.dots[i] |= 1 << (y & 1)
	case ASCII:
		c.dots[i] = sign
	}
	if c.glyph[i] == noText {
		c.class[i] = class
	}
}

// halfBlocks are the four cells two dots can make.
var halfBlocks = [4]string{" ", "▀", "▄", "█"}

// Lines returns the canvas as exactly height lines of exactly width cells.
// With a nil paint the lines are plain text, without the ground.
func (c *Canvas) Lines(paint Paint) []string {
	lines := make([]string, c.height)
	out := make([]byte, 0, c.width*16)
	for row := range lines {
		out = out[:0]
		last, now := Look{}, plain
		for i := row * c.width; i < (row+1)*c.width; i++ {
			look := c.look(i)
			switch {
			case paint == nil && look.Class == Ground && !look.Words:
				out = append(out, ' ')
				continue
			case paint != nil && look != last:
				next := plain
				if look != (Look{}) {
					next = paint(look)
				}
				out = change(out, now, next)
				last, now = look, next
			}
			out = c.put(out, i)
		}
		out = change(out, now, plain)
		lines[row] = string(out)
	}
	return lines
}

// look returns what cell i shows.
func (c *Canvas) look(i int) Look {
	upper, lower := c.tones(i)
	switch {
	case c.glyph[i] != noText:
		return Look{c.class[i], true, upper, lower}
	case c.dots[i] == 0:
		return Look{Ground, false, upper, lower}
	case c.mode == HalfBlock && c.dots[i] == 1:
		return Look{c.class[i], false, lower, lower} // the upper half is the line
	case c.mode == HalfBlock:
		return Look{c.class[i], false, upper, upper}
	}
	return Look{c.class[i], false, upper, lower}
}

// put appends cell i to out.
func (c *Canvas) put(out []byte, i int) []byte {
	switch g := c.glyph[i]; {
	case g == tail:
		return out
	case g >= 0:
		return append(out, c.signs[g]...)
	}
	d := c.dots[i]
	switch {
	case d == 0:
		return append(out, c.bare(i)...)
	case c.mode == Braille:
		return utf8.AppendRune(out, 0x2800+rune(d))
	case c.mode == HalfBlock:
		return append(out, halfBlocks[d&3]...)
	default:
		return append(out, d)
	}
}

// bare returns the sign of a cell that only its ground shows in.
func (c *Canvas) bare(i int) string {
	switch upper, lower := c.tones(i); {
	case upper == lower:
		return " "
	case upper == 0:
		return halfBlocks[2]
	default:
		return halfBlocks[1]
	}
}
