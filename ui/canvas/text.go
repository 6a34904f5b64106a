package canvas

import (
	"math"
	"unicode"
	"unicode/utf8"

	"github.com/charmbracelet/x/ansi"

	"cabwright/geometry"
)

// Anchor says which end of a label lies at its place.
type Anchor int

// The anchors.
const (
	FromLeft Anchor = iota // the label starts there
	Centred
	ToRight // the label ends there
)

// Mark is a one-cell sign for a point, with its stand-in for ASCII.
type Mark struct {
	Sign  string // one cell wide
	Plain byte
}

// The marks that a drawing is made with.
var (
	CornerMark   = Mark{"•", 'o'}
	ChosenMark   = Mark{"◆", '@'}
	CursorMark   = Mark{"┼", '+'}
	ReadingMark  = Mark{"×", 'x'}
	RefusedMark  = Mark{"!", '!'}
	LimitMark    = Mark{"▲", '^'}
	CentreMark   = Mark{"+", '+'}
	DoubtfulMark = Mark{"○", 'O'} // a point set by mouse and not yet made sure of
)

// Put places a mark in the cell p falls in; outside the canvas it does nothing.
func (c *Canvas) Put(p geometry.Vec2, mark Mark, class Class) {
	col, row, ok := c.CellOf(p)
	if !ok {
		return
	}
	sign := mark.Sign
	if c.mode == ASCII {
		sign = string(mark.Plain)
	}
	c.Text(col, row, sign, class)
	if c.marks == nil {
		c.marks = map[int]bool{}
	}
	c.marks[row*c.width+col] = true
}

// Marked reports whether the sign in a cell is a mark; outside the canvas there
// is none.
func (c *Canvas) Marked(col, row int) bool {
	return c.Written(col, row) && c.marks[row*c.width+col]
}

// CellOf returns the cell p falls in; ok is false outside the canvas.
func (c *Canvas) CellOf(p geometry.Vec2) (col, row int, ok bool) {
	x, y := c.view.Cell(c.width, c.height, p)
	if !(x >= 0 && y >= 0 && x < float64(c.width) && y < float64(c.height)) {
		return 0, 0, false
	}
	return int(math.Floor(x)), int(math.Floor(y)), true
}

// Written reports whether a cell holds a letter or a mark; outside the canvas
// there is none.
func (c *Canvas) Written(col, row int) bool {
	return col >= 0 && row >= 0 && col < c.width && row < c.height && c.glyph[row*c.width+col] != noText
}

// Drawn returns what the dots in a cell show; drawn is false where there are none.
func (c *Canvas) Drawn(col, row int) (class Class, drawn bool) {
	if col < 0 || row < 0 || col >= c.width || row >= c.height || c.dots[row*c.width+col] == 0 {
		return Ground, false
	}
	return c.class[row*c.width+col], true
}

// Label writes s in the row p falls in, held by its anchor to the column p falls
// in plus shift cells. What runs over an end of the canvas is left off.
func (c *Canvas) Label(p geometry.Vec2, s string, anchor Anchor, shift int, class Class) {
	x, y := c.view.Cell(c.width, c.height, p)
	// The label of a point just off the canvas may still reach into it.
	if !(y >= 0 && y < float64(c.height) && math.Abs(x) < 2*sideMax) {
		return
	}
	col := int(math.Floor(x)) + shift
	switch anchor {
	case Centred:
		col -= ansi.StringWidth(s) / 2
	case ToRight:
		col -= ansi.StringWidth(s) - 1
	}
	c.Text(col, int(math.Floor(y)), s, class)
}

// Text writes s into the cells from (col, row) on. It clips at both ends by
// cells, never through a sign two cells wide, and control characters show as
// marks, so that the frame holds whatever s is.
func (c *Canvas) Text(col, row int, s string, class Class) {
	if row < 0 || row >= c.height {
		return
	}
	for len(s) > 0 && col < c.width {
		sign, wide, rest := next(s)
		s = rest
		if wide > 0 && col >= 0 && col+wide <= c.width {
			c.write(row*c.width+col, sign, wide, class)
		}
		col += wide
	}
}

// write puts one sign into cell i and, when it is two wide, the next.
func (c *Canvas) write(i int, sign string, wide int, class Class) {
	for k := i; k < i+wide; k++ {
		c.free(k)
		c.class[k] = class
	}
	c.signs = append(c.signs, sign)
	c.glyph[i] = int32(len(c.signs) - 1)
	if wide == 2 {
		c.glyph[i+1] = tail
	}
}

// free empties cell i, and with it the other half of a wide sign it was part of.
func (c *Canvas) free(i int) {
	if c.glyph[i] == tail {
		c.glyph[i-1] = noText
	} else if i%c.width+1 < c.width && c.glyph[i] >= 0 && c.glyph[i+1] == tail {
		c.glyph[i+1] = noText
	}
	c.glyph[i] = noText
	c.dots[i] = 0
	delete(c.marks, i)
}

// next takes the first sign off s: what to print, how many cells it takes (0
// to 2), and what is left. A sign of several characters that terminals do not
// agree on the width of (joined emoji) is cut to its first character; control
// and direction-changing characters become a mark of one cell.
func next(s string) (sign string, wide int, rest string) {
	r, size := utf8.DecodeRuneInString(s)
	if r >= ' ' && r < 0x7f && (len(s) == size || s[size] < 0x80) {
		return s[:size], 1, s[size:]
	}
	if r == utf8.RuneError || unicode.IsControl(r) || directs(r) {
		return "�", 1, s[size:]
	}
	cluster, wide := ansi.FirstGraphemeCluster(s, ansi.GraphemeWidth)
	rest = s[len(cluster):]
	sum := 0
	for _, q := range cluster {
		if unicode.IsControl(q) || directs(q) {
			sum = -1
			break
		}
		sum += ansi.StringWidth(string(q))
	}
	if sum != wide || wide > 2 {
		cluster = string(r)
		wide = ansi.StringWidth(cluster)
	}
	if wide > 0 && joins(r, cluster, wide) {
		return "�", 1, rest
	}
	return cluster, min(wide, 2), rest
}

// joins reports whether a sign that begins with r would run together with
// whatever stands in the next cells, and take fewer of them: a vowel sign
// without its letter, half a flag, a part of a Hangul syllable.
func joins(r rune, sign string, wide int) bool {
	if r >= 0x1160 && r <= 0x11FF || r >= 0xD7B0 && r <= 0xD7FF {
		return true // vowels and finals, which join a first consonant alone
	}
	return ansi.StringWidth("x"+sign) != 1+wide || ansi.StringWidth(sign+"x") != wide+1 ||
		ansi.StringWidth(sign+sign) != 2*wide
}

// directs reports whether r changes the direction of the text around it: the
// Bidi_Control characters of the Unicode Character Database, and the line and
// paragraph separators.
func directs(r rune) bool {
	return r == 0x061C || r == 0x200E || r == 0x200F || r >= 0x2028 && r <= 0x202E || r >= 0x2066 && r <= 0x2069
}
