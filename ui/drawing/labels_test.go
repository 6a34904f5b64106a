package drawing

import (
	"fmt"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"unicode"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cabwright/geometry"
	"cabwright/planner"
	"cabwright/planner/stonefile"
	"cabwright/presets"
	"cabwright/ui/canvas"
	"cabwright/ui/style"
)

// demoStones reads the stones that come with the program.
func demoStones(t testing.TB) map[string]planner.Stone {
	paths, err := filepath.Glob(filepath.Join("..", "..", "testdata", "stones", "*.stone"))
	require.NoError(t, err)
	require.NotEmpty(t, paths)
	out := map[string]planner.Stone{}
	for _, p := range paths {
		doc, err := stonefile.Read(p, presets.Builtin())
		require.NoError(t, err)
		out[filepath.Base(p)] = doc.Stone
	}
	return out
}

// sizes are drawings at 60x18, 80x24, 120x36, 160x50 and 500x200, the panels of
// both faces and of fits beside each other, and some with hardly any room.
var sizes = [][2]int{{32, 14}, {52, 20}, {92, 32}, {112, 30}, {440, 190}, {39, 12}, {29, 7}, {79, 33}, {38, 9}, {20, 6},
	{8, 3}, {3, 2}}

// written returns the runs of written cells on a canvas.
func written(c *canvas.Canvas) []string {
	w, h := c.Size()
	lines := c.Lines(nil)
	var out []string
	for row := range h {
		cells := []rune(lines[row]) // every sign drawn here is one cell wide
		run := ""
		for col := range w {
			if c.Written(col, row) {
				run += string(cells[col])
				continue
			}
			if run != "" {
				out = append(out, run)
			}
			run = ""
		}
		if run != "" {
			out = append(out, run)
		}
	}
	return out
}

// words takes off a run the marks it stands beside.
func words(run string) string {
	mark := func(r rune) bool { return strings.ContainsRune("•◆┼×!▲+○oxO@^", r) }
	if strings.IndexFunc(run, func(r rune) bool { return !mark(r) }) < 0 {
		return ""
	}
	out := strings.TrimFunc(run, func(r rune) bool { return mark(r) && !unicode.IsLetter(r) || r == 'x' || r == 'o' })
	return out
}

// No two labels touch, none is cut and none is written twice, on any demo stone
// at any size, in any mode, whatever is shown: each run of letters on the
// drawing is one whole name, figure or caption.
func TestLabelsNeverMerge(t *testing.T) {
	for name, stone := range demoStones(t) {
		r, err := planner.NewRough(stone)
		require.NoError(t, err)
		for _, size := range sizes {
			for _, face := range []planner.Face{planner.Top, planner.Base} {
				for _, mode := range []canvas.Mode{canvas.Braille, canvas.HalfBlock, canvas.ASCII} {
					for _, painted := range []bool{false, true} {
						if size[0] > 200 && !painted || mode != canvas.Braille && (painted || size[0] > 60) {
							continue
						}
						s := Scene{Stone: stone, Rough: r, Face: face, Names: true, Corners: true, Readings: true,
							Caption: "seen; from here"}
						s.Fit = fitted(t, "oval", 9, 7, 2)
						s.Fit.LimitedBy = []string{"skin", "C1", "P1"}
						s.Spots = []Spot{{At: geometry.Vec2{}, Mark: canvas.CursorMark, Class: canvas.Cursor}}
						s.Saw = []SawCut{{Name: "1", Point: v3(6, 0, 4), Normal: v3(1, 0.2, 0)}}
						if painted {
							s.Palette = style.New(style.TrueColour, style.Dark).Palette()
						}
						line := s.LongAxis()
						s.Line = &line
						at := fmt.Sprint(name, size, face, mode, painted)
						c := canvas.New(size[0], size[1], mode)
						c.SetView(s.Window(size[0], size[1], 2))
						Plan(c, s)
						whole(t, c, s, at)
						c = canvas.New(size[0], size[1], mode)
						c.SetView(s.SectionWindow(line, size[0], size[1], 2))
						s.Line = nil
						Section(c, s, line)
						whole(t, c, s, at+" section")
					}
				}
			}
		}
	}
}

// whole checks that every run of letters on a drawing is one of the scene's.
func whole(t *testing.T, c *canvas.Canvas, s Scene, at string) {
	t.Helper()
	may := map[string]int{"A": 1, "B": 1, "1": 1, "seen; from here": 1, "seen": 1, "seen from here": 1}
	for i := range s.Stone.Outline {
		may[strconv.Itoa(i+1)]++
	}
	id := func(id string) {
		for _, sign := range []string{"", "◆", "▲", "@", "^"} {
			may[sign+id] = 9 // a section can meet a mark more than once
		}
	}
	for _, k := range s.Stone.Cracks {
		id(k.ID)
	}
	for _, p := range s.Stone.Pockets {
		id(p.ID)
	}
	for _, z := range s.Stone.Colour {
		id(z.ID)
	}
	for _, run := range written(c) {
		word := words(run)
		if word == "" || may[word] > 0 {
			may[word]--
			continue
		}
		if _, err := strconv.ParseFloat(strings.TrimSuffix(word, " mm"), 64); err == nil && strings.Contains(word, ".") ||
			strings.HasSuffix(word, " mm") {
			assert.LessOrEqual(t, strings.Count(word, "."), 1, at)
			continue
		}
		t.Errorf("%s: %q is no whole name or figure\n%s", at, run, strings.Join(c.Lines(nil), "\n"))
		return
	}
}

// A selected mark keeps its outline and its name, however small the drawing.
func TestTheSelectedMarkStaysInSight(t *testing.T) {
	for name, stone := range demoStones(t) {
		r, err := planner.NewRough(stone)
		require.NoError(t, err)
		var ids []string
		for _, k := range stone.Cracks {
			ids = append(ids, k.ID)
		}
		for _, p := range stone.Pockets {
			ids = append(ids, p.ID)
		}
		for _, z := range stone.Colour {
			ids = append(ids, z.ID)
		}
		for _, id := range ids {
			for _, size := range [][2]int{{39, 12}, {52, 20}, {29, 7}} {
				for _, face := range []planner.Face{planner.Top, planner.Base} {
					for _, p := range []*style.Palette{nil, style.New(style.TrueColour, style.Light).Palette()} {
						s := Scene{Stone: stone, Rough: r, Face: face, Names: true, Chosen: id, Palette: p,
							Ghost: fitted(t, "oval", 12, 9, 2)}
						if !seenFrom(stone, id, face) {
							continue
						}
						c := canvas.New(size[0], size[1], canvas.Braille)
						c.SetView(s.Window(size[0], size[1], 1))
						Plan(c, s)
						assert.Contains(t, written(c), "◆"+id, "%s %v %s", name, size, face)
						drawn := 0
						for row := range size[1] {
							for col := range size[0] {
								if class, is := c.Drawn(col, row); is && class == canvas.Chosen {
									drawn++
								}
							}
						}
						assert.Positive(t, drawn, "%s %s %v %s", name, id, size, face)
					}
				}
			}
		}
	}
}

// seenFrom reports whether a mark is named on a face: zones only on their own.
func seenFrom(s planner.Stone, id string, face planner.Face) bool {
	for _, z := range s.Colour {
		if z.ID == id {
			return z.Face == face
		}
	}
	return true
}

// What matters more gets the place that two labels want.
func TestWhatMattersMoreIsWritten(t *testing.T) {
	c := canvas.New(4, 1, canvas.Braille)
	c.SetView(canvas.View{MMPerCell: 1})
	l := labels{c: c}
	for i := range 5 {
		l.add(label{text: "L" + strconv.Itoa(i), matters: i, near: []geometry.Vec2{{}}, over: true})
	}
	l.place()
	require.Equal(t, []string{"L4"}, written(c))
}
