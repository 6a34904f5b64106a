package style

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/muesli/termenv"

	"cabwright/ui/canvas"
)

// Role is a kind of thing that is drawn or written.
type Role int

// The roles. Words first, then what is drawn on the stone.
const (
	Text      Role = iota // plain words
	Faint                 // less important words, units, hints
	Title                 // the name of the view that is open
	Key                   // a key's name
	Selected              // the selected thing
	Good                  // fits, saved, proved
	Warn                  // undecided, unsaved, a caution
	Bad                   // refused, cannot fit, too near
	Different             // what differs between two fits
	Skin                  // the rough's outline and surfaces
	Crack                 // an open crack
	Sealed                // a sealed crack
	Pocket                // a hollow, sand, clay
	Zone                  // play-of-colour on a face
	Fit                   // the chosen cabochon
	Ring                  // an allowance around something
	Limit                 // what limits the chosen fit
	Reading               // a caliper or depth-gauge reading
	CutLine               // the line a section is cut along
	SawCut                // a saw cut
	Grid                  // grid and scale bar
	Cursor                // where the next point goes
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

// The grounds. On an Unknown one the colours that keep their contrast on black
// and on white are used; a known ground gets stronger ones.
const (
	Unknown Ground = iota
	Dark
	Light
)

// look is one role's appearance. The three colours are for an unknown, a dark
// and a light ground. Those for an unknown one are entries of the 256-colour
// palette that keep 4.5:1 on black and on white: of hues there are five, and
// what has none of them is told apart by its sign and by being bold.
type look struct {
	both, dark, light uint32
	ansi              int // the 16-colour foreground, 30-37 or 90-97; 39 is the terminal's own
	bold, reverse     bool
}

const own = 1 << 24 // the terminal's own foreground

var looks = [roleCount]look{
	Text:      {own, own, own, 39, false, false},
	Faint:     {0x767676, 0x9a9a9a, 0x666666, 39, false, false},
	Title:     {own, own, own, 39, true, true},
	Key:       {0x5f5fff, 0xa0beff, 0x143ca8, 36, true, false},
	Selected:  {own, 0xffe14d, 0x6e5200, 35, true, false},
	Good:      {0x00875f, 0x82ffc8, 0x005f3c, 32, false, false},
	Warn:      {own, 0xe8bc62, 0x7d5000, 35, false, false},
	Bad:       {0xaf5f5f, 0xff8078, 0xb0140e, 31, true, false},
	Different: {0x875fd7, 0xd0a0ff, 0x6a1fb0, 35, false, false},
	Skin:      {own, 0xeee8de, 0x282828, 39, false, false},
	Crack:     {0xaf5f5f, 0xff7468, 0xb81410, 31, false, false},
	Sealed:    {0xd700af, 0xff8ce0, 0x96006e, 35, false, false},
	Pocket:    {own, 0xf0c882, 0x6b4a10, 39, false, false},
	Zone:      {0x5f5fff, 0x8cbcff, 0x1c46b4, 36, false, false},
	Fit:       {0x00875f, 0x82ffc8, 0x005f3c, 32, true, false},
	Ring:      {0x00875f, 0x8eecc6, 0x006046, 36, false, false},
	Limit:     {own, 0xff9c4a, 0x8a4a00, 31, true, false},
	Reading:   {0x767676, 0xb4ccda, 0x34506a, 36, false, false},
	CutLine:   {0x5f5fff, 0x7ce6f4, 0x005a70, 36, false, false},
	SawCut:    {own, 0xf4f4a8, 0x4c4c00, 35, true, false},
	Grid:      {0x767676, 0x949494, 0x666666, 39, false, false},
	Cursor:    {own, 0xffffff, 0x000000, 35, true, false},
}

// Sheet paints for one terminal.
type Sheet struct {
	colours Colours
	ground  Ground
	starts  [roleCount]string
	dressed map[canvas.Look]canvas.Dress
}

const reset = "\x1b[0m"

// New returns the sheet for a colour depth and a ground.
func New(colours Colours, ground Ground) *Sheet {
	s := &Sheet{colours: colours, ground: ground, dressed: map[canvas.Look]canvas.Dress{}}
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

// Termenv returns the colour of a role as the library's own parts take it, empty
// where it is the terminal's, and the depth it is meant for.
func (s *Sheet) Termenv(r Role) (colour string, profile termenv.Profile) {
	l := looks[r]
	c := l.on(s.ground)
	switch {
	case s.colours == NoColour:
		return "", termenv.Ascii
	case c == own, s.colours == Sixteen && l.ansi == 39:
		return "", termenv.ANSI
	case s.colours == Sixteen:
		n := l.ansi - 30
		if l.ansi >= 90 {
			n = l.ansi - 90 + 8
		}
		return strconv.Itoa(n), termenv.ANSI
	case s.colours == Palette256:
		return strconv.Itoa(cube(c)), termenv.ANSI256
	}
	return fmt.Sprintf("#%06x", c), termenv.TrueColor
}

// roles gives each class of a drawing its role.
var roles = [canvas.Classes]Role{
	canvas.Grid:      Grid,
	canvas.Scale:     Grid,
	canvas.Label:     Text,
	canvas.Edge:      Skin,
	canvas.Corner:    Skin,
	canvas.Reading:   Reading,
	canvas.Crack:     Crack,
	canvas.Sealed:    Sealed,
	canvas.RunOn:     Crack,
	canvas.Pocket:    Pocket,
	canvas.Colour:    Zone,
	canvas.Girdle:    Fit,
	canvas.Dome:      Fit,
	canvas.Allowance: Ring,
	canvas.Limit:     Limit,
	canvas.Chosen:    Selected,
	canvas.Cursor:    Cursor,
	canvas.CutLine:   CutLine,
	canvas.SawCut:    SawCut,
	canvas.Shadow:    Ring,
	canvas.Unsure:    Limit,
	canvas.Refused:   Bad,
}

// on returns the colour a role has on a ground, own where it is the terminal's.
func (l look) on(ground Ground) uint32 {
	return [...]uint32{Unknown: l.both, Dark: l.dark, Light: l.light}[ground]
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
	colour := l.on(ground)
	switch {
	case colour == own || l.reverse:
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
