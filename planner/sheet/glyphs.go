package sheet

import (
	"fmt"
	"strings"

	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// glyphs writes text of SVG as outlines of the sheet's own font, each glyph once.
// Named fonts are not on every machine, and the one put in their place is often
// wider: lines would run into each other and off the paper.
type glyphs struct {
	known map[string]bool
	defs  strings.Builder
	buf   sfnt.Buffer
}

// use returns the elements of one line of text, in ems from its left end.
func (g *glyphs) use(t text) string {
	measuring.Lock()
	defer measuring.Unlock()
	var b strings.Builder
	face, x, last := measures()[t.bold], fixed.Int26_6(0), rune(-1)
	for _, r := range t.string {
		if last >= 0 {
			x += face.Kern(last, r)
		}
		if id := g.define(r, t.bold); id != "" {
			fmt.Fprintf(&b, `<use xlink:href="#%s" x="%s"/>`, id, ems(x))
		}
		advance, _ := face.GlyphAdvance(r)
		x, last = x+advance, r
	}
	return b.String()
}

// define writes a rune's outline if it has not been yet, and returns its name;
// a space has none.
func (g *glyphs) define(r rune, bold bool) string {
	f := fonts()[bold]
	index, err := f.GlyphIndex(&g.buf, r)
	if err != nil {
		panic(err) // the fonts are built in
	}
	segments, err := f.LoadGlyph(&g.buf, index, fixed.I(measuredPixels), nil)
	if err != nil {
		panic(err)
	}
	if len(segments) == 0 {
		return ""
	}
	id := fmt.Sprintf("%s%d", map[bool]string{false: "g", true: "b"}[bold], index)
	if g.known[id] {
		return id
	}
	if g.known == nil {
		g.known = map[string]bool{}
	}
	g.known[id] = true
	fmt.Fprintf(&g.defs, `<path id="%s" d="`, id)
	for _, s := range segments {
		op, n := "M", 1
		switch s.Op {
		case sfnt.SegmentOpLineTo:
			op = "L"
		case sfnt.SegmentOpQuadTo:
			op, n = "Q", 2
		case sfnt.SegmentOpCubeTo:
			op, n = "C", 3
		}
		var at []string
		for _, p := range s.Args[:n] {
			at = append(at, ems(p.X)+" "+ems(p.Y))
		}
		g.defs.WriteString(op + strings.Join(at, " "))
	}
	g.defs.WriteString("\"/>\n")
	return id
}

// ems is a length of the measured font in ems.
func ems(v fixed.Int26_6) string { return num(float64(v) / 64 / measuredPixels) }
