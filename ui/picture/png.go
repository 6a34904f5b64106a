package picture

import (
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"io"
	"sync"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gomono"
	"golang.org/x/image/font/gofont/gomonobold"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/math/fixed"
)

// A cell's size in pixels: twice as high as wide, as the drawing takes it to be.
const cellWidth, cellHeight = 10, 20

// fontSize, in pixels, makes the letters of the font as wide as a cell: those of
// Go Mono are 0.6 of their size wide. Letters stand baseline pixels down.
const fontSize, baseline = 16.6, 15

// faces are the font in plain and bold.
var faces = sync.OnceValues(func() ([2]font.Face, error) {
	var out [2]font.Face
	for i, data := range [][]byte{gomono.TTF, gomonobold.TTF} {
		f, err := opentype.Parse(data)
		if err != nil {
			return out, err
		}
		options := &opentype.FaceOptions{Size: fontSize, DPI: 72, Hinting: font.HintingFull}
		if out[i], err = opentype.NewFace(f, options); err != nil {
			return out, err
		}
	}
	return out, nil
})

// instead are signs drawn for those that the font lacks.
var instead = map[string]string{"◆": "♦", "▸": "►", "✓": "√"}

// PNG writes the screen as a PNG of 10 x 20 pixels a cell.
func (s *Screen) PNG(w io.Writer) error {
	if len(s.cells) == 0 {
		return errEmpty
	}
	faces, err := faces()
	if err != nil {
		return err
	}
	img := image.NewRGBA(image.Rect(0, 0, s.width*cellWidth, s.height*cellHeight))
	for row := range s.height {
		for col := range s.width {
			s.drawCell(img, faces, col, row)
		}
	}
	return png.Encode(w, img)
}

func (s *Screen) drawCell(img *image.RGBA, faces [2]font.Face, col, row int) {
	c := s.cells[row*s.width+col]
	x, y := col*cellWidth, row*cellHeight
	fill := func(x0, y0, x1, y1 int, k color.RGBA) {
		draw.Draw(img, image.Rect(x+x0, y+y0, x+x1, y+y1), image.NewUniform(k), image.Point{}, draw.Src)
	}
	if c.sign != "" || c.back != s.own.Back || img.RGBAAt(x, y).A == 0 {
		fill(0, 0, cellWidth, cellHeight, c.back)
	}
	if b, ok := blockOf(c.sign); ok {
		fill(b.x0*cellWidth/8, b.y0*cellHeight/8, b.x1*cellWidth/8, b.y1*cellHeight/8, c.fore)
		return
	}
	if share, ok := shadeOf(c.sign); ok {
		fill(0, 0, cellWidth, cellHeight, mixed(c.back, c.fore, share))
		return
	}
	if bits, ok := dots(c.sign); ok {
		for i, at := range dotPlaces {
			if bits>>i&1 == 1 {
				dx, dy := 1+at[0]*5, 1+at[1]*5
				fill(dx, dy, dx+3, dy+3, c.fore)
			}
		}
		return
	}
	if c.sign == "" {
		return
	}
	sign, face := c.sign, faces[0]
	if other, ok := instead[sign]; ok {
		sign = other
	}
	if c.bold {
		face = faces[1]
	}
	d := font.Drawer{Dst: img, Src: image.NewUniform(c.fore), Face: face, Dot: fixed.P(x, y+baseline)}
	d.DrawString(sign)
}
