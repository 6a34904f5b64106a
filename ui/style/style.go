// Package style says in which colour each kind of word and mark is shown. How a
// mark is drawn, so that none hangs on its colour alone, is the drawing's part.
package style

import (
	"fmt"
	"strings"

	"cabwright/ui/canvas"
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
// and a light ground; those for an unknown one are entries of the 256-colour
// palette, of which few keep their contrast on both.
type look struct {
	both, dark, light uint32
	ansi              int // the 16-colour foreground, 30-37 or 90-97; 39 is the terminal's own
	bold, reverse     bool
}

const own = 1 << 24 // the terminal's own foreground

var looks = [roleCount]look{
	Text:     {own, own, own, 39, false, false},
	Faint:    {0x878787, 0x9a9a9a, 0x6a6a6a, 39, false, false},
	Title:    {own, own, own, 39, true, true},
	Key:      {0x0087d7, 0x6cc0ff, 0x0a5ca8, 36, true, false},
	Selected: {0xd75f00, 0xffc04d, 0x955500, 35, true, false},
	Good:     {0x00875f, 0x6fd98a, 0x1b7a38, 32, false, false},
	Warn:     {0xaf8700, 0xf0c04a, 0x8a5a00, 35, false, false},
	Bad:      {0xd75f5f, 0xff7b6e, 0xb81f14, 31, true, false},
	Skin:     {own, own, own, 39, false, false},
	Crack:    {0xd75f5f, 0xff7b6e, 0xb81f14, 31, false, false},
	Sealed:   {0xd700af, 0xf08fc6, 0x97306f, 31, false, false},
	Pocket:   {0xaf875f, 0xd9aa6b, 0x7d5420, 39, false, false},
	Zone:     {0x875fff, 0xb79cff, 0x5f3cbf, 36, false, false},
	Fit:      {0x00875f, 0x6fd98a, 0x1b7a38, 32, true, false},
	Ring:     {0x008787, 0x74d0dd, 0x1f6f7c, 36, false, false},
	Limit:    {0xd75f00, 0xffc04d, 0x955500, 31, true, false},
	Reading:  {0x0087d7, 0x6cc0ff, 0x0a5ca8, 36, false, false},
	Grid:     {0x878787, 0x7c7c7c, 0x8a8a8a, 39, false, false},
	Cursor:   {0xd75f00, 0xffc04d, 0x955500, 35, true, false},
}

// Sheet paints text for one terminal.
type Sheet struct {
	starts [roleCount]string
}

const reset = "\x1b[0m"

// New returns the sheet for a colour depth and a ground.
func New(colours Colours, ground Ground) *Sheet {
	s := &Sheet{}
	for r, l := range looks {
		s.starts[r] = l.sequence(colours, ground)
	}
	return s
}

// Paint returns text in the look of a role. The text has one line.
func (s *Sheet) Paint(r Role, text string) string {
	if text == "" || s.starts[r] == "" {
		return text
	}
	return s.starts[r] + text + reset
}

// roles gives each class of a drawing its role.
var roles = [canvas.Classes]Role{
	canvas.Grid: Grid, canvas.Scale: Grid, canvas.Label: Text, canvas.Edge: Skin, canvas.Corner: Skin,
	canvas.Reading: Reading, canvas.Crack: Crack, canvas.Sealed: Sealed, canvas.RunOn: Crack, canvas.Pocket: Pocket,
	canvas.Colour: Zone, canvas.Girdle: Fit, canvas.Dome: Fit, canvas.Allowance: Ring, canvas.Limit: Limit,
	canvas.Chosen: Selected, canvas.Cursor: Cursor, canvas.CutLine: Reading, canvas.SawCut: Warn, canvas.Refused: Bad,
}

// Class paints a run of a drawing's cells: a canvas.Paint.
func (s *Sheet) Class(class canvas.Class, run string) string { return s.Paint(roles[class], run) }

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
