package canvas

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"cabwright/geometry"
)

var modes = []Mode{Braille, HalfBlock, ASCII}

// v2 is short for a point.
func v2(x, y float64) geometry.Vec2 { return geometry.Vec2{X: x, Y: y} }

// frame checks that a canvas gives exactly height lines of exactly width cells.
func frame(t require.TestingT, c *Canvas) []string {
	w, h := c.Size()
	lines := c.Lines(nil)
	require.Len(t, lines, h)
	for _, l := range lines {
		require.Equal(t, w, ansi.StringWidth(l), "%q", l)
	}
	return lines
}

func TestSizesWithoutRoom(t *testing.T) {
	for _, size := range [][2]int{{0, 0}, {-5, 3}, {3, -5}, {1, 1}, {1, 0}, {0, 1}, {1, 40}, {200, 1}} {
		for _, mode := range modes {
			c := New(size[0], size[1], mode)
			c.Grid(Grid)
			c.Line(v2(-50, -50), v2(50, 50), Pen{Class: Edge})
			c.Fill([]geometry.Vec2{v2(-9, -9), v2(9, -9), v2(0, 9)}, Rising, Pocket)
			c.Text(-3, 0, "a 中文 label", Label)
			c.ScaleBar(Scale)
			frame(t, c)
		}
	}
}

func TestHostileNumbers(t *testing.T) {
	hostile := []float64{0, 1, -1, 1e308, -1e308, math.Inf(1), math.Inf(-1), math.NaN(), 5e-324}
	for _, mode := range modes {
		for _, scale := range hostile {
			c := New(12, 4, mode)
			for i, a := range hostile {
				c.SetView(View{Centre: v2(a, hostile[(i+1)%len(hostile)]), MMPerCell: scale})
				c.Grid(Grid)
				c.ScaleBar(Scale)
				for _, b := range hostile {
					for _, stroke := range []Stroke{Solid, Dashed, Dotted, DashDot, Double, Heavy, LongDashed} {
						c.Polyline([]geometry.Vec2{v2(a, b), v2(b, a), v2(-a, 3)}, true, Pen{Class: Edge, Stroke: stroke})
					}
					c.Fill([]geometry.Vec2{v2(a, 0), v2(b, 1), v2(2, a)}, Rising, Pocket)
					c.Put(v2(a, b), CornerMark, Corner)
					c.Label(v2(a, b), "x", Centred, 0, Label)
				}
				c.SetView(c.View().Zoomed(a, v2(a, a)).Panned(a, scale))
				frame(t, c)
			}
		}
	}
}

// TestFarLineStaysTrue: a line that ends far outside still crosses where it should.
func TestFarLineStaysTrue(t *testing.T) {
	c := New(20, 10, ASCII)
	c.SetView(View{MMPerCell: 1})
	c.Line(v2(-1e6, -1e6+0.5), v2(1e6, 1e6+0.5), Pen{Class: Edge})
	near := New(20, 10, ASCII)
	near.SetView(View{MMPerCell: 1})
	near.Line(v2(-30, -29.5), v2(30, 30.5), Pen{Class: Edge})
	assert.Equal(t, near.Lines(nil), c.Lines(nil))
}

// TestBrailleDots holds one dot in each place of a cell against the code chart
// of the Unicode block Braille Patterns (dots 1 to 8).
func TestBrailleDots(t *testing.T) {
	want := map[[2]int]string{
		{0, 0}: "⠁", {0, 1}: "⠂", {0, 2}: "⠄", {1, 0}: "⠈", {1, 1}: "⠐", {1, 2}: "⠠", {0, 3}: "⡀", {1, 3}: "⢀",
	}
	for at, sign := range want {
		c := New(1, 1, Braille)
		c.set(at[0], at[1], Edge, 0)
		assert.Equal(t, []string{sign}, c.Lines(nil))
	}
}

func TestScaleIsTrueBothWays(t *testing.T) {
	v := FitTo([]geometry.Vec2{v2(-14, -9.6), v2(13.2, 9.3)}, 52, 21, 2)
	c0, r0 := v.Cell(52, 21, v2(0, 0))
	c1, _ := v.Cell(52, 21, v2(10, 0))
	_, r1 := v.Cell(52, 21, v2(0, 10))
	assert.InDelta(t, c1-c0, (r0-r1)*CellAspect, 1e-9)
}

func TestFitShowsAll(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 8).Draw(t, "n")
		pts := make([]geometry.Vec2, n)
		for i := range pts {
			pts[i] = v2(rapid.Float64Range(-1000, 1000).Draw(t, "x"), rapid.Float64Range(-1000, 1000).Draw(t, "y"))
		}
		w, h := rapid.IntRange(1, 200).Draw(t, "w"), rapid.IntRange(1, 60).Draw(t, "h")
		v := FitTo(pts, w, h, 0)
		v.Mirror = rapid.Bool().Draw(t, "mirror")
		for _, p := range pts {
			col, row := v.Cell(w, h, p)
			if col < -1e-6 || row < -1e-6 || col > float64(w)+1e-6 || row > float64(h)+1e-6 {
				t.Fatalf("%v falls at %g, %g of %d x %d", p, col, row, w, h)
			}
		}
	})
}

func TestCellAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := View{
			Centre:    v2(rapid.Float64Range(-500, 500).Draw(t, "cx"), rapid.Float64Range(-500, 500).Draw(t, "cy")),
			MMPerCell: rapid.Float64Range(0.01, 100).Draw(t, "s"), Mirror: rapid.Bool().Draw(t, "mirror"),
		}
		c := New(rapid.IntRange(1, 160).Draw(t, "w"), rapid.IntRange(1, 50).Draw(t, "h"), Braille)
		c.SetView(v)
		col, row := rapid.IntRange(0, c.width-1).Draw(t, "col"), rapid.IntRange(0, c.height-1).Draw(t, "row")
		gotCol, gotRow, ok := c.CellOf(c.At(col, row))
		if !ok || gotCol != col || gotRow != row {
			t.Fatalf("cell %d, %d came back as %d, %d (%v)", col, row, gotCol, gotRow, ok)
		}
		about := c.At(col, row)
		z := v.Zoomed(rapid.Float64Range(0.2, 5).Draw(t, "zoom"), about)
		x0, y0 := v.Cell(c.width, c.height, about)
		x1, y1 := z.Cell(c.width, c.height, about)
		if math.Abs(x0-x1) > 1e-6 || math.Abs(y0-y1) > 1e-6 {
			t.Fatalf("zooming moved the point under the pointer from %g, %g to %g, %g", x0, y0, x1, y1)
		}
	})
}

// TestLineAgainstDenseSampling is the brute-force twin of clip and raster: each
// dot that dense sampling of the unclipped line finds inside has a drawn dot
// within one dot of it, and the line runs through each dot that is drawn.
func TestLineAgainstDenseSampling(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		num := rapid.Float64Range(-30, 30)
		a, b := v2(num.Draw(t, "ax"), num.Draw(t, "ay")), v2(num.Draw(t, "bx"), num.Draw(t, "by"))
		c := New(10, 5, Braille)
		c.SetView(View{MMPerCell: 1})
		c.Line(a, b, Pen{Class: Edge})
		brute := map[[2]int]bool{}
		for i := 0; i <= 4000; i++ {
			f := float64(i) / 4000
			x, y := c.dotOf(a.Add(b.Sub(a).Scale(f)))
			if x >= 0 && y >= 0 && x < 20 && y < 20 {
				brute[[2]int{int(x), int(y)}] = true
			}
		}
		drawn := map[[2]int]bool{}
		for y := 0; y < 20; y++ {
			for x := 0; x < 20; x++ {
				if c.dots[y/4*10+x/2]&brailleBit[x&1][y&3] != 0 {
					drawn[[2]int{x, y}] = true
				}
			}
		}
		near := func(set map[[2]int]bool, p [2]int) bool {
			for dx := -1; dx <= 1; dx++ {
				for dy := -1; dy <= 1; dy++ {
					if set[[2]int{p[0] + dx, p[1] + dy}] {
						return true
					}
				}
			}
			return false
		}
		for p := range brute {
			if !near(drawn, p) && p[0] > 0 && p[1] > 0 && p[0] < 19 && p[1] < 19 {
				t.Fatalf("no dot near %v of the line %v to %v", p, a, b)
			}
		}
		for p := range drawn {
			// A point of a dot is at most half a diagonal from its middle.
			x0, y0 := c.dotOf(a)
			x1, y1 := c.dotOf(b)
			if geometry.ToSegment(v2(float64(p[0])+0.5, float64(p[1])+0.5), v2(x0, y0), v2(x1, y1)) > math.Sqrt2/2+1e-9 {
				t.Fatalf("dot %v is not on the line %v to %v", p, a, b)
			}
		}
	})
}

// TestFillArea: a hatch of every fourth dot takes a quarter as many as the
// polygon's area says, to within its edge: a circle of radius 8 mm.
func TestFillArea(t *testing.T) {
	c := New(40, 20, Braille)
	c.SetView(View{MMPerCell: 0.5})
	var circle []geometry.Vec2
	for i := range 360 {
		s, k := math.Sincos(float64(i) * math.Pi / 180)
		circle = append(circle, v2(8*k, 8*s))
	}
	c.Fill(circle, Rising, Pocket)
	count := 0
	for _, d := range c.dots {
		for ; d != 0; d &= d - 1 {
			count++
		}
	}
	// 16 dots a mm2. Rows that are all one dot too long would be off by a quarter
	// of their number, 64.
	assert.InDelta(t, math.Pi*64*16/4, count, 8)
}

func TestTextHoldsTheFrame(t *testing.T) {
	for _, s := range []string{
		"", "plain", "e\u0301a\u0308 combining", "\u0301\u0302\u0303", "中文字符", "👨‍👩‍👧‍👦 family", "🇮🇸🇮🇸", "❤️ heart",
		"مرحبا بالعالم", "\x1b[31mred", "tab\tnewline\n", "\u202Eturned", "\xff\xfe", "\x9b31m", "a\u200db", "각", "नमस्ते",
		"\x00\u0903", "\u0903 alone", "🇮", "\u1161\u11a8", "\u1100", "\u0600\u06dd", strings.Repeat("中",
			300), strings.Repeat("z\u0335", 300),
	} {
		for _, col := range []int{-5, -1, 0, 3, 8, 9, 10, 50} {
			c := New(10, 3, Braille)
			c.Line(v2(-100, 0), v2(100, 0), Pen{Class: Edge})
			c.Text(col, 1, s, Label)
			c.Text(col+1, 1, "中", Label)
			c.Text(4, 1, "|", Label)
			for _, l := range frame(t, c) {
				assert.NotContains(t, l, "\x1b")
				assert.NotContains(t, l, "\u202e")
				assert.NotContains(t, l, "\n")
			}
		}
	}
}

func TestFrameHoldsForAnyText(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := New(rapid.IntRange(0, 30).Draw(t, "w"), rapid.IntRange(0, 4).Draw(t, "h"),
			modes[rapid.IntRange(0, 2).Draw(t, "mode")])
		for range 4 {
			c.Text(rapid.IntRange(-9, 32).Draw(t, "col"), rapid.IntRange(-1, 4).Draw(t, "row"), rapid.String().Draw(t, "s"),
				Label)
		}
		frame(t, c)
	})
}

// TestStrokesDifferWithoutColour: no two strokes and no two hatches draw alike.
func TestStrokesDifferWithoutColour(t *testing.T) {
	for _, mode := range modes {
		seen := map[string]string{}
		note := func(what string, c *Canvas) {
			s := strings.Join(c.Lines(nil), "\n")
			require.NotContains(t, seen, s, "%s looks like %s in mode %d", what, seen[s], mode)
			seen[s] = what
		}
		for _, stroke := range []Stroke{Solid, Dashed, Dotted, DashDot, Double, Heavy, LongDashed} {
			c := New(30, 6, mode)
			c.Line(v2(-100, 0), v2(100, 1), Pen{Class: Edge, Stroke: stroke})
			note(fmt.Sprint("stroke ", stroke), c)
		}
		for _, hatch := range []Hatch{Rising, Sparse} {
			c := New(30, 6, mode)
			c.Fill([]geometry.Vec2{v2(-8, -8), v2(8, -8), v2(8, 8), v2(-8, 8)}, hatch, Pocket)
			note(fmt.Sprint("hatch ", hatch), c)
		}
	}
}

func TestScaleBarSaysItsLength(t *testing.T) {
	for _, mm := range []float64{0.002, 0.1, 0.37, 0.5, 1, 3, 12, 900} {
		c := New(52, 21, ASCII)
		c.SetView(View{MMPerCell: mm})
		length := c.ScaleBar(Scale)
		last := frame(t, c)[20]
		assert.InDelta(t, length/mm, float64(strings.Count(last, "-")), 1.01, last)
		assert.Contains(t, last, " mm")
		assert.LessOrEqual(t, length/mm, 52/3.0)
	}
}

func TestPaintSeesEachRunOnce(t *testing.T) {
	c := New(20, 1, ASCII)
	c.SetView(View{MMPerCell: 1})
	c.Line(v2(-10, 0), v2(0, 0), Pen{Class: Edge})
	c.Line(v2(0, 0), v2(9, 0), Pen{Class: Crack})
	got := c.Lines(func(l Look) Dress { return Dress{Fore: Sixteen(uint8(l.Class))} })
	assert.Equal(t, []string{fmt.Sprintf("\x1b[%dm%s\x1b[%dm%s\x1b[0m", 30+int(Edge), "----------", 30+int(Crack),
		"----------")}, got)
}

// stoneLike draws about what a plan at 80x24 holds.
func stoneLike(c *Canvas) {
	c.Grid(Grid)
	c.Polyline([]geometry.Vec2{v2(-14, -2), v2(-9.5, -8.1), v2(3, -9.6), v2(13.2, -3.4), v2(11, 6.9), v2(-2, 9.3),
		v2(-11.5, 6)}, true, Pen{Class: Edge})
	c.Fill([]geometry.Vec2{v2(-9, 2), v2(-5, 2), v2(-5, 6), v2(-9, 6)}, Rising, Pocket)
	c.Polyline([]geometry.Vec2{v2(4, -9), v2(5.5, -4), v2(8, 1)}, false, Pen{Class: Crack, Stroke: Dashed})
	var ring []geometry.Vec2
	for i := range 96 {
		s, k := math.Sincos(float64(i) * math.Pi / 48)
		ring = append(ring, v2(7*k, 5*s))
	}
	c.Polyline(ring, true, Pen{Class: Girdle})
	c.Label(v2(4, -9), "C1", FromLeft, 1, Label)
	c.ScaleBar(Scale)
}

// BenchmarkFrame is one whole plan, drawn and turned into lines, at both of the
// sizes the workbench is designed for.
func BenchmarkFrame(b *testing.B) {
	for _, size := range [][2]int{{52, 21}, {100, 46}} {
		b.Run(fmt.Sprintf("%dx%d", size[0], size[1]), func(b *testing.B) {
			for b.Loop() {
				c := New(size[0], size[1], Braille)
				c.SetView(View{MMPerCell: 32 / float64(size[0])})
				stoneLike(c)
				c.Lines(nil)
			}
		})
	}
}

// BenchmarkFarLines is the nasty case: thousands of lines that end far outside.
func BenchmarkFarLines(b *testing.B) {
	for b.Loop() {
		c := New(100, 46, Braille)
		for i := range 1000 {
			s, k := math.Sincos(float64(i))
			c.Line(v2(1e9*k, 1e9*s), v2(-1e9*k, -1e9*s), Pen{Class: Edge, Stroke: Dashed})
		}
		c.Lines(nil)
	}
}

// A level or upright line that begins and ends on whole dots has no gaps: what is
// set is each dot between them, wherever it lies.
func TestAFullLineHasNoGaps(t *testing.T) {
	for cells := 1; cells < 60; cells++ {
		for _, width := range []int{8, 61, 100} {
			c := New(width, 1, Braille)
			c.SetView(View{MMPerCell: 1})
			left := 1 - float64(width)/2
			c.Line(geometry.Vec2{X: left}, geometry.Vec2{X: left + float64(cells)}, Pen{Class: Edge})
			full := strings.TrimRight(c.Lines(nil)[0], " ")
			want := " " + strings.Repeat("⠤", min(cells, width-1))
			require.Equal(t, want, strings.TrimSuffix(full, "⠄"), "%d cells of %d", cells, width)
		}
	}
}
