package summary

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"math"
	"sync"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
	"golang.org/x/image/vector"

	"cabwright/geometry"
)

// fonts are the Go fonts, regular and bold, which come with golang.org/x/image.
var fonts = sync.OnceValues(func() ([2]*opentype.Font, error) {
	var out [2]*opentype.Font
	for i, data := range [][]byte{goregular.TTF, gobold.TTF} {
		f, err := opentype.Parse(data)
		if err != nil {
			return out, fmt.Errorf("the font of pictures: %w", err)
		}
		out[i] = f
	}
	return out, nil
})

func index(bold bool) int {
	if bold {
		return 1
	}
	return 0
}

// face returns a font at a size of the card.
func face(size float64, bold bool) (font.Face, error) {
	all, err := fonts()
	if err != nil {
		return nil, err
	}
	f, err := opentype.NewFace(all[index(bold)], &opentype.FaceOptions{Size: size, DPI: 72, Hinting: font.HintingNone})
	if err != nil {
		return nil, fmt.Errorf("the font of pictures: %w", err)
	}
	return f, nil
}

// width measures a text in the card's font: the sum of its letters' advances, as the
// outlines have them, scaled to the size. Without a font it is a rule of thumb.
func width(text string, size float64, bold bool) float64 {
	all, err := fonts()
	if err != nil {
		return 0.55 * size * float64(len([]rune(text)))
	}
	f := all[index(bold)]
	em := fixed.Int26_6(f.UnitsPerEm())
	var buf sfnt.Buffer
	sum := 0.0
	for _, r := range text {
		if glyph, err := f.GlyphIndex(&buf, r); err == nil {
			if advance, err := f.GlyphAdvance(&buf, glyph, em, font.HintingNone); err == nil {
				sum += float64(advance) / float64(em)
			}
		}
	}
	return sum * size
}

// PNG returns the listing as a picture of 1200 x 800 pixels or more.
func PNG(f Facts) ([]byte, error) {
	c := layOut(f, width)
	img := image.NewRGBA(image.Rect(0, 0, cardWidth, c.height))
	draw.Draw(img, img.Bounds(), image.NewUniform(paper), image.Point{}, draw.Src)
	for _, s := range c.shapes {
		fill(img, s)
	}
	for _, w := range c.words {
		letters, err := face(w.size, w.bold)
		if err != nil {
			return nil, err
		}
		d := font.Drawer{Dst: img, Src: image.NewUniform(w.fill), Face: letters,
			Dot: fixed.Point26_6{X: fixed.Int26_6(math.Round(w.at.X * 64)), Y: fixed.Int26_6(math.Round(w.at.Y * 64))}}
		d.DrawString(w.text)
	}
	var b bytes.Buffer
	if err := png.Encode(&b, img); err != nil {
		return nil, fmt.Errorf("writing the picture: %w", err)
	}
	return b.Bytes(), nil
}

// fill fills a shape, looking no further than its own bounds.
func fill(img *image.RGBA, s shape) {
	lo, hi := geometry.Bounds(s.points)
	box := image.Rect(int(math.Floor(lo.X)), int(math.Floor(lo.Y)), int(math.Ceil(hi.X))+1, int(math.Ceil(hi.Y))+1)
	r := vector.NewRasterizer(box.Dx(), box.Dy())
	for i, p := range s.points {
		x, y := float32(p.X)-float32(box.Min.X), float32(p.Y)-float32(box.Min.Y)
		if i == 0 {
			r.MoveTo(x, y)
		} else {
			r.LineTo(x, y)
		}
	}
	r.ClosePath()
	r.Draw(img, box, image.NewUniform(s.fill), image.Point{})
}

// SVG returns the listing as a picture of lines and words (SVG 1.1).
func SVG(f Facts) []byte {
	c := layOut(f, width)
	var b bytes.Buffer
	fmt.Fprintf(&b, "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"%d\" height=\"%d\" viewBox=\"0 0 %d %d\">\n",
		cardWidth, c.height, cardWidth, c.height)
	fmt.Fprintf(&b, "<rect width=\"100%%\" height=\"100%%\" fill=\"%s\"/>\n", hex(paper))
	for _, s := range c.shapes {
		fmt.Fprintf(&b, "<polygon fill=\"%s\" points=\"", hex(s.fill))
		for i, p := range s.points {
			if i > 0 {
				b.WriteByte(' ')
			}
			fmt.Fprintf(&b, "%.1f,%.1f", p.X, p.Y)
		}
		b.WriteString("\"/>\n")
	}
	for _, w := range c.words {
		weight := ""
		if w.bold {
			weight = " font-weight=\"bold\""
		}
		const open = `<text x="%.1f" y="%.1f" font-family="Go, Helvetica, Arial, sans-serif" font-size="%g"%s fill="%s">`
		fmt.Fprintf(&b, open, w.at.X, w.at.Y, w.size, weight, hex(w.fill))
		_ = xml.EscapeText(&b, []byte(w.text)) // a buffer takes all
		b.WriteString("</text>\n")
	}
	b.WriteString("</svg>\n")
	return b.Bytes()
}

func hex(c color.NRGBA) string { return fmt.Sprintf("#%02x%02x%02x", c.R, c.G, c.B) }
