package sheet

import (
	"bytes"
	"image"
	"image/draw"
	"image/png"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"cabwright/geometry"
	"cabwright/geometry/outline"
	"cabwright/geometry/solid"
	"cabwright/planner"
	"cabwright/planner/cuts"
	"cabwright/planner/search"
	"cabwright/planner/stonefile"
	"cabwright/presets"
)

// content is a sheet for a stone made up for the purpose: a block with a crack,
// a pocket and a colour zone, an oval in it, and the cuts to it.
func content(t testing.TB, scale float64) *Content {
	t.Helper()
	v2 := func(x, y float64) geometry.Vec2 { return geometry.Vec2{X: x * scale, Y: y * scale} }
	stone := planner.Stone{
		Name: "Test block <1>", Material: "opal-hydrophane", SG: 1.83, ScaleCt: 20,
		Outline: []geometry.Vec2{v2(-16, -9), v2(15, -10), v2(17, 8), v2(-15, 10)},
		Top:     []geometry.Vec3{{Z: 8}}, Base: []geometry.Vec3{{Z: 0}},
		Cracks: []planner.Crack{{ID: "C1", Path: []geometry.Vec2{v2(12, -10), v2(12.5, 9)}, Face: planner.Top, Depth: 5,
			Lean: 10, RunOn: 1}},
		Pockets: []planner.Pocket{{ID: "P1", Outline: []geometry.Vec2{v2(-14, 4), v2(-11, 4), v2(-11, 8), v2(-14, 8)},
			Face: planner.Base, Depth: 3}},
		Colour: []planner.Zone{{ID: "Z1", Outline: []geometry.Vec2{v2(-5, -5), v2(5, -5), v2(5, 5)}, Face: planner.Top,
			Grade: 4}},
		Allowances: planner.Allowances{Skin: 0.5, Crack: 1, SealedCrack: 0.6, Pocket: 0.5},
	}
	set := presets.Builtin()
	body, err := cuts.NewBody(stone, set)
	require.NoError(t, err)
	o, err := outline.New("oval", 14, 10)
	require.NoError(t, err)
	c := search.Candidate{Solid: solid.Cabochon{Outline: o, Wall: 1.2, WallLeanDeg: 10, Dome: 3, Sides: 1},
		Face: planner.Top, DomeStyle: "medium", BackStyle: "flat"}
	fit := search.Weigh(stone, body.Rough, set, c, search.Pose{Origin: geometry.Vec3{Z: 2}, Axes: geometry.Identity3()})
	layout, _, err := body.One(fit, cuts.NewBench(set))
	require.NoError(t, err)
	require.NotEmpty(t, layout.Steps)
	return &Content{Body: body, Layout: layout, Bench: cuts.NewBench(set), Set: set}
}

// picture renders the first page of a PDF at 254 dpi, ten pixels a millimetre,
// by a program that shares no code with this one.
func picture(t *testing.T, pages []Page) *image.Gray {
	t.Helper()
	if _, err := exec.LookPath("pdftoppm"); err != nil {
		t.Skip("no pdftoppm (poppler-utils) to look at the PDF with")
	}
	dir := t.TempDir()
	var b bytes.Buffer
	require.NoError(t, WritePDF(&b, pages, "test", time.Unix(0, 0)))
	require.NoError(t, os.WriteFile(filepath.Join(dir, "s.pdf"), b.Bytes(), 0o600))
	out, err := exec.Command("pdftoppm", "-r", "254", "-gray", "-png", "-singlefile", filepath.Join(dir, "s.pdf"),
		filepath.Join(dir, "s")).CombinedOutput()
	require.NoError(t, err, string(out))
	raw, err := os.ReadFile(filepath.Join(dir, "s.png"))
	require.NoError(t, err)
	return decoded(t, raw)
}

func decoded(t *testing.T, raw []byte) *image.Gray {
	t.Helper()
	img, err := png.Decode(bytes.NewReader(raw))
	require.NoError(t, err)
	grey := image.NewGray(img.Bounds())
	draw.Draw(grey, grey.Bounds(), img, img.Bounds().Min, draw.Src)
	return grey
}

// longest returns the longest run of dark pixels along rows, or along columns.
func longest(img *image.Gray, rows bool) int {
	n, m, next, step := img.Rect.Dy(), img.Rect.Dx(), img.Stride, 1
	if !rows {
		n, m, next, step = m, n, step, next
	}
	best := 0
	for i := range n {
		run := 0
		for j := range m {
			if img.Pix[i*next+j*step] >= 128 {
				run = 0
				continue
			}
			run++
			best = max(best, run)
		}
	}
	return best
}

// The bars are 100 mm, 1000 pixels at 254 dpi, on both axes; a tick at each end
// is half a line wide on either side.
func bars(t *testing.T, img *image.Gray, across, down float64) {
	t.Helper()
	bare := img.SubImage(image.Rect(0, 400, img.Rect.Dx(), img.Rect.Dy())) // without the heading and its rule
	grey := image.NewGray(image.Rectangle{Max: bare.Bounds().Size()})
	draw.Draw(grey, grey.Bounds(), bare, bare.Bounds().Min, draw.Src)
	assert.InDelta(t, 10*across, longest(grey, true), 2)
	assert.InDelta(t, 10*down, longest(grey, false), 2)
}

func TestBarsOfThePDF(t *testing.T) {
	for _, paper := range Papers {
		bars(t, picture(t, Compose(content(t, 1), Options{Paper: paper})), 100, 100)
	}
}

// A printer that made 98 and 101 of the bars gets them drawn so much longer and
// shorter.
func TestCorrectionForPrinters(t *testing.T) {
	opt := Options{Paper: Papers[0], MeasuredX: 98, MeasuredY: 101}
	bars(t, picture(t, Compose(content(t, 1), opt)), 100*100.0/98, 100*100.0/101)
}

func TestBarsOfThePNG(t *testing.T) {
	var b bytes.Buffer
	pages := Compose(content(t, 1), Options{Paper: Papers[0]})
	require.NoError(t, WritePNG(&b, pages[0], 10))
	img := decoded(t, b.Bytes())
	assert.Equal(t, image.Pt(2100, 2970), img.Bounds().Size())
	bars(t, img, 100, 100)
	// The physical scale: 10,000 pixels a metre both ways (PNG, 11.3.4.3).
	assert.Contains(t, b.String(), "pHYs\x00\x00\x27\x10\x00\x00\x27\x10\x01")
}

// The template of an oval of 14 x 10 encloses 35 pi mm2 to 0.2%: what is white
// within its line, and half of the line.
func TestTemplateArea(t *testing.T) {
	c := content(t, 1)
	b := c.templates(c.Layout.Fits[0], "oval")[0]
	var only []item
	for _, it := range b.items {
		if p, ok := it.(path); ok && p.closed {
			only = append(only, p)
		}
	}
	require.Len(t, only, 1)
	low, high := geometry.Bounds(only[0].(path).points)
	img := picture(t, []Page{{Width: 30, Height: 30, items: moved(only, at(1, 1),
		at(15, 15).Sub(low.Add(high).Scale(0.5)))}})
	ink := 0.0
	for _, v := range img.Pix {
		if v < 128 {
			ink++
		}
	}
	inside, todo := map[image.Point]bool{}, []image.Point{{X: 150, Y: 150}}
	for len(todo) > 0 {
		p := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		if inside[p] || img.GrayAt(p.X, p.Y).Y < 128 {
			continue
		}
		require.Less(t, len(inside), 80000, "the line is open")
		inside[p] = true
		todo = append(todo, p.Add(image.Pt(1, 0)), p.Add(image.Pt(-1, 0)), p.Add(image.Pt(0, 1)), p.Add(image.Pt(0, -1)))
	}
	assert.InEpsilon(t, 35*math.Pi, (float64(len(inside))+ink/2)/100, 0.002)
}

// The same area of the polygon the SVG holds, by the shoelace formula: it asks no
// other program.
func TestTemplateAreaOfTheSVG(t *testing.T) {
	c := content(t, 1)
	var only []item
	for _, it := range c.templates(c.Layout.Fits[0], "oval")[0].items {
		if p, ok := it.(path); ok && p.closed {
			only = append(only, p)
		}
	}
	require.Len(t, only, 1)
	var b bytes.Buffer
	require.NoError(t, WriteSVG(&b, Page{Width: 30, Height: 30, items: only}, "template"))
	d := regexp.MustCompile(`d="M([^"]*)Z"`).FindStringSubmatch(b.String())
	require.NotNil(t, d)
	var points []geometry.Vec2
	for _, xy := range strings.Split(d[1], "L") {
		x, y, ok := strings.Cut(xy, " ")
		require.True(t, ok)
		px, err := strconv.ParseFloat(x, 64)
		require.NoError(t, err)
		py, err := strconv.ParseFloat(y, 64)
		require.NoError(t, err)
		points = append(points, geometry.Vec2{X: px, Y: py})
	}
	twice := 0.0
	for i, p := range points {
		q := points[(i+1)%len(points)]
		twice += p.X*q.Y - q.X*p.Y
	}
	assert.InEpsilon(t, 35*math.Pi, math.Abs(twice)/2, 0.002)
}

// A preform is the outline so much larger all round: of a convex one the area
// grows by perimeter times distance and pi times its square (Steiner).
func TestGrown(t *testing.T) {
	square := []geometry.Vec2{{X: -5, Y: -5}, {X: 5, Y: -5}, {X: 5, Y: 5}, {X: -5, Y: 5}}
	assert.InEpsilon(t, 100+40*0.5+math.Pi*0.25, geometry.Area(grown(square, 0.5)), 1e-3)
	o, err := outline.New("heart", 12, 12)
	require.NoError(t, err)
	points := o.Points(360)
	for _, p := range grown(points, 0.5) {
		require.InDelta(t, 0.5, clearOf(points, p), 2e-3, "every point lies so far outside")
	}
}

// The sizes parsed back from the SVG: the page, the bars, the square.
func TestSVGSizes(t *testing.T) {
	var b bytes.Buffer
	require.NoError(t, WriteSVG(&b, Compose(content(t, 1), Options{Paper: Papers[1]})[0], "a <b> & c"))
	svg := b.String()
	assert.Contains(t, svg, `width="215.9mm" height="279.4mm" viewBox="0 0 215.9 279.4"`)
	assert.Contains(t, svg, "<title>a &lt;b&gt; &amp; c</title>")
	assert.Contains(t, svg, "Test block &lt;1&gt;")
	var hundred, fifty int
	for _, m := range regexp.MustCompile(`d="M([\d.]+) ([\d.]+)L([\d.]+) ([\d.]+)(L[^"]*)?"`).FindAllStringSubmatch(svg,
		-1) {
		var v [4]float64
		for i := range v {
			v[i], _ = strconv.ParseFloat(m[i+1], 64)
		}
		switch length := math.Hypot(v[2]-v[0], v[3]-v[1]); {
		case math.Abs(length-100) < 0.002:
			hundred++
		case math.Abs(length-50) < 0.002 && strings.HasPrefix(m[5], "L"):
			fifty++
		}
	}
	assert.Equal(t, 2, hundred, "a bar on either axis")
	assert.Equal(t, 1, fifty, "the square")
}

// A stone larger than the paper is spread over several sheets, and every part
// of it is on one.
func TestLargeStonesAreTiled(t *testing.T) {
	c := content(t, 9) // 300 mm long
	pages := Compose(c, Options{Paper: Papers[0]})
	tiled := 0
	for _, p := range pages {
		for _, it := range p.items {
			if k, ok := it.(clip); ok {
				tiled++
				assert.LessOrEqual(t, k.high.X, p.Width-margin)
				assert.LessOrEqual(t, k.high.Y, p.Height-margin)
			}
		}
	}
	assert.Equal(t, 8, tiled, "two sheets for either face and for either section")
	said := strings.Join(wordsOf(pages), "\n")
	for _, title := range []string{"Finished", "Preform", "row 1, column 2"} {
		assert.Contains(t, said, title, "what follows a drawing that was tiled is on paper too")
	}
	assert.Equal(t, 1, tiles(160, 160))
	assert.Equal(t, 2, tiles(160.1, 160))
	assert.Equal(t, 2, tiles(310, 160), "two of 160 that share 10")
	assert.Equal(t, 3, tiles(310.1, 160))
}

// Nothing is drawn where a printer cannot print, 4 mm from the edge.
func TestNothingRunsOffThePaper(t *testing.T) {
	for _, stone := range []string{"nugget", "seam", "slab"} {
		doc, err := stonefile.Read("../../testdata/stones/"+stone+".stone", presets.Builtin())
		require.NoError(t, err)
		c := content(t, 1)
		c.Body, err = cuts.NewBody(doc.Stone, c.Set)
		require.NoError(t, err)
		for _, page := range Compose(c, Options{Paper: Papers[0]}) {
			for _, it := range page.items {
				if p, ok := it.(path); ok {
					low, high := geometry.Bounds(p.points)
					assert.GreaterOrEqual(t, math.Min(low.X, low.Y), 4.0, stone)
					assert.LessOrEqual(t, high.X, page.Width-4, stone)
					assert.LessOrEqual(t, high.Y, page.Height-4, stone)
				}
				if s, ok := it.(text); ok {
					assert.LessOrEqual(t, s.at.X-anchor(s)+widthOf(s.string, s.size, s.bold), page.Width-4, "%s: %s", stone, s.string)
				}
			}
		}
	}
}

// wordsOf is all that is written on some pages.
func wordsOf(pages []Page) (all []string) {
	for _, p := range pages {
		for _, it := range p.items {
			if s, ok := it.(text); ok {
				all = append(all, s.string)
			}
		}
	}
	return all
}

// What is planned for many stones takes as many lines as it needs.
func TestTheHeadingIsWrapped(t *testing.T) {
	c := content(t, 1)
	for range 3 {
		c.Layout.Fits = append(c.Layout.Fits, c.Layout.Fits[0])
	}
	pages := Compose(c, Options{Paper: Papers[1]})
	for _, it := range pages[0].items {
		if s, ok := it.(text); ok {
			assert.LessOrEqual(t, s.at.X-anchor(s)+widthOf(s.string, s.size, s.bold), pages[0].Width-4, s.string)
		}
	}
	assert.Contains(t, strings.Join(wordsOf(pages[:1]), " "), "D, oval 14x10")
}

// A heading stands on the page of its table, wherever that comes: no page ends with one,
// and no row of a table runs below the page.
func TestNoPageEndsWithAHeading(t *testing.T) {
	c := content(t, 1)
	c.Layout.Fits = append(c.Layout.Fits, c.Layout.Fits[0], c.Layout.Fits[0])
	for range 12 {
		for _, p := range Compose(c, Options{Paper: Papers[0]}) {
			lowest, size := 0.0, 0.0
			for _, it := range p.items {
				if s, ok := it.(text); ok && s.at.Y > lowest && !strings.Contains(s.string, ", sheet ") {
					lowest, size = s.at.Y, s.size
				}
			}
			assert.Less(t, size, headSize)
			assert.LessOrEqual(t, lowest, p.Height-margin)
		}
		c.Notes = append(c.Notes, "A note that takes a line.")
	}
}

// The enlarged view is larger than the rough, by the factor that it says; a rough that is
// large on paper has none.
func TestTheEnlargedView(t *testing.T) {
	c := content(t, 1) // 33 x 20 mm
	b := c.enlarged()
	assert.Contains(t, b.title, "enlarged 4 times")
	assert.InDelta(t, 4*33+2*viewMargin, b.width, 1e-9)
	assert.InDelta(t, 4*20+2*viewMargin, b.height, 1e-9)
	assert.Contains(t, strings.Join(wordsOf(Compose(c, Options{Paper: Papers[0]})), "\n"), b.title)
	assert.Equal(t, 1.0, content(t, 4).enlargement(), "132 mm long")
	assert.InDelta(t, 33+2*viewMargin, c.view(planner.Top).width, 1e-9, "at true scale")
}

// The steps carry their cautions.
func TestCautionsStandWithTheirSteps(t *testing.T) {
	said := strings.Join(wordsOf(Compose(content(t, 1), Options{Paper: Papers[0]})), " ")
	for _, want := range []string{"eye protection", "respirator", "Local codes", "let no cut run wet into an open crack",
		"16 CFR 23.24", "Cyanoacrylate"} {
		assert.Contains(t, said, want)
	}
	assert.NotRegexp(t, `(?i)\bsafe\b`, said)
}

// However long the rest is, the cautions from the dop to the end share one page, and the
// last page never holds a single one.
func TestCautionsAreKeptTogether(t *testing.T) {
	c := content(t, 1)
	for range 45 {
		pages := Compose(c, Options{Paper: Papers[1]})
		last := strings.Join(wordsOf(pages[len(pages)-1:]), "\n")
		assert.Contains(t, last, "From the dop to the polish")
		assert.Contains(t, last, "Local codes")
		for _, p := range pages {
			assert.Greater(t, len(wordsOf([]Page{p})), 1, "a page with nothing but its number")
		}
		c.Notes = append(c.Notes, "A note that takes a line.")
	}
}
