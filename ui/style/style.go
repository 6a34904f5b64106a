// Package style says how each kind of thing looks: a colour and, so that no
// meaning hangs on colour alone, a line style. It knows nothing of stones or
// views and imports nothing of this project.
package style

import (
	"fmt"
	"strings"
)

// Role is a kind of thing that is drawn or written.
type Role int

// The roles. Words first, then what is drawn on the stone.
const (
	Text     Role = iota // plain words
	Faint                // less important words, units, hints
	Title                // the name of the view that is open
	Key                  // a key's name
	Selected             // the selected thing
	Good                 // fits, saved, proved
	Warn                 // undecided, unsaved, a caution
	Bad                  // refused, cannot fit
	Skin                 // the rough's outline and surfaces
	Crack                // an open crack
	Sealed               // a sealed crack
	Pocket               // a hollow, sand, clay
	Zone                 // play-of-colour on a face
	Fit                  // the chosen cabochon
	Ring                 // an allowance around something
	Limit                // what limits the chosen fit
	Reading              // a caliper or depth-gauge reading
	Grid                 // grid and scale bar
	Cursor               // where the next point goes
	roleCount
)

// Line is how a line is drawn.
type Line int

// The line styles.
const (
	Solid   Line = iota
	Dashed       // long strokes
	Dotted       // single dots
	DashDot      // a stroke and a dot
	Hatched      // solid edge, area crossed by slanting lines
	Double       // two lines side by side
)

// Colours is what the terminal can show.
type Colours int

// The colour depths. NoColour is what NO_COLOR asks for: no sequence at all,
// so that selection has to show by a glyph too.
const (
	NoColour Colours = iota
	Sixteen
	Palette256
	TrueColour
)

// Ground is what the terminal writes on.
type Ground int

// The grounds. On an Unknown one the colours that keep a contrast of 3:1 on
// both are used; a known ground gets stronger ones.
const (
	Unknown Ground = iota
	Dark
	Light
)

// look is one role's appearance. The three colours are for an unknown, a dark
// and a light ground.
type look struct {
	both, dark, light uint32
	ansi              int // the 16-colour foreground, 30-37 or 90-97; 39 is the terminal's own
	line              Line
	bold, reverse     bool
}

const own = 1 << 24 // the terminal's own foreground

var looks = [roleCount]look{
	Text:     {own, own, own, 39, Solid, false, false},
	Faint:    {0x8a8a8a, 0x9a9a9a, 0x6a6a6a, 39, Solid, false, false},
	Title:    {own, own, own, 39, Solid, true, true},
	Key:      {0x2a8fd0, 0x6cc0ff, 0x0a5ca8, 36, Solid, true, false},
	Selected: {0xb86e00, 0xffc04d, 0x955500, 35, Solid, true, false},
	Good:     {0x2e9e4f, 0x6fd98a, 0x1b7a38, 32, Solid, false, false},
	Warn:     {0xb27a00, 0xf0c04a, 0x8a5a00, 35, Solid, false, false},
	Bad:      {0xe0453a, 0xff7b6e, 0xb81f14, 31, Solid, true, false},
	Skin:     {own, own, own, 39, Solid, false, false},
	Crack:    {0xe0453a, 0xff7b6e, 0xb81f14, 31, Dashed, false, false},
	Sealed:   {0xc2569a, 0xf08fc6, 0x97306f, 35, DashDot, false, false},
	Pocket:   {0xa8793f, 0xd9aa6b, 0x7d5420, 35, Hatched, false, false},
	Zone:     {0x8d6be0, 0xb79cff, 0x5f3cbf, 35, Dotted, false, false},
	Fit:      {0x2e9e4f, 0x6fd98a, 0x1b7a38, 32, Solid, true, false},
	Ring:     {0x3f9aa8, 0x74d0dd, 0x1f6f7c, 36, Dotted, false, false},
	Limit:    {0xb86e00, 0xffc04d, 0x955500, 31, Double, true, false},
	Reading:  {0x2a8fd0, 0x6cc0ff, 0x0a5ca8, 36, Solid, false, false},
	Grid:     {0x8a8a8a, 0x7c7c7c, 0x8a8a8a, 39, Dotted, false, false},
	Cursor:   {0xb86e00, 0xffc04d, 0x955500, 35, Solid, true, false},
}

// Line returns the line style of a role.
func (r Role) Line() Line { return looks[r].line }

// Sheet paints text for one terminal.
type Sheet struct {
	starts [roleCount]string
}

// Reset ends whatever Start began. It is empty when nothing was begun.
const reset = "\x1b[0m"

// New returns the sheet for a colour depth and a ground.
func New(colours Colours, ground Ground) *Sheet {
	s := &Sheet{}
	for r, l := range looks {
		s.starts[r] = l.sequence(colours, ground)
	}
	return s
}

// Start returns the sequence that switches to a role, empty without colours.
func (s *Sheet) Start(r Role) string { return s.starts[r] }

// End returns the sequence that ends a role, empty when Start is.
func (s *Sheet) End(r Role) string {
	if s.starts[r] == "" {
		return ""
	}
	return reset
}

// Paint returns text in the look of a role. The text has one line.
func (s *Sheet) Paint(r Role, text string) string {
	if text == "" || s.starts[r] == "" {
		return text
	}
	return s.starts[r] + text + reset
}

func (l look) sequence(colours Colours, ground Ground) string {
	if colours == NoColour {
		return ""
	}
	var codes []string
	if l.bold {
		codes = append(codes, "1")
	}
	if l.reverse {
		codes = append(codes, "7")
	}
	colour := [...]uint32{Unknown: l.both, Dark: l.dark, Light: l.light}[ground]
	switch {
	case colour == own:
	case colours == TrueColour:
		codes = append(codes, fmt.Sprintf("38;2;%d;%d;%d", colour>>16, colour>>8&255, colour&255))
	case colours == Palette256:
		codes = append(codes, fmt.Sprintf("38;5;%d", cube(colour)))
	case l.ansi != 39:
		codes = append(codes, fmt.Sprint(l.ansi))
	}
	if len(codes) == 0 {
		return ""
	}
	return "\x1b[" + strings.Join(codes, ";") + "m"
}
