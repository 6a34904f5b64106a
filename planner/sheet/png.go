package sheet

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"io"
	"math"

	"golang.org/x/image/font"
	"golang.org/x/image/math/fixed"
	"golang.org/x/image/vector"

	"cabwright/geometry"
)

// WritePNG writes one page as a grey picture of so many pixels a millimetre,
// and says in it how many these are, so that it prints at true scale.
func WritePNG(w io.Writer, p Page, perMM float64) error {
	size := image.Pt(int(math.Round(p.Width*perMM)), int(math.Round(p.Height*perMM)))
	c := &painter{to: image.NewGray(image.Rectangle{Max: size}), perMM: perMM}
	draw.Draw(c.to, c.to.Bounds(), image.White, image.Point{}, draw.Src)
	c.within = c.to.Bounds()
	c.items(p.items)
	var raw bytes.Buffer
	if err := png.Encode(&raw, c.to); err != nil {
		return err
	}
	_, err := w.Write(withScale(raw.Bytes(), perMM))
	return err
}

// withScale puts a pHYs chunk behind the header of a PNG (PNG, third edition,
// 11.3.4.3): the pixels to a metre. The encoder writes none.
func withScale(raw []byte, perMM float64) []byte {
	const header = 8 + 4 + 4 + 13 + 4 // signature and IHDR, which comes first
	chunk := []byte("pHYs")
	perMetre := uint32(math.Round(perMM * 1000))
	chunk = binary.BigEndian.AppendUint32(chunk, perMetre)
	chunk = binary.BigEndian.AppendUint32(chunk, perMetre)
	chunk = append(chunk, 1) // the unit is the metre
	out := append([]byte(nil), raw[:header]...)
	out = binary.BigEndian.AppendUint32(out, uint32(len(chunk)-4))
	out = append(out, chunk...)
	out = binary.BigEndian.AppendUint32(out, crc32.ChecksumIEEE(chunk))
	return append(out, raw[header:]...)
}

// painter draws items on a picture.
type painter struct {
	to     *image.Gray
	perMM  float64
	within image.Rectangle
	mask   vector.Rasterizer
}

func (c *painter) items(items []item) {
	for _, it := range items {
		switch it := it.(type) {
		case path:
			c.path(it)
		case text:
			c.text(it)
		case clip:
			whole := c.within
			low, high := it.low.Scale(c.perMM), it.high.Scale(c.perMM)
			round := func(x float64) int { return int(math.Round(x)) }
			c.within = whole.Intersect(image.Rect(round(low.X), round(low.Y), round(high.X), round(high.Y)))
			c.items(it.items)
			c.within = whole
		}
	}
}

func (c *painter) path(p path) {
	points := make([]geometry.Vec2, len(p.points))
	for i, q := range p.points {
		points[i] = q.Scale(c.perMM)
	}
	if p.fill >= 0 {
		c.fill([][]geometry.Vec2{points}, p.fill)
	}
	if p.pen.width <= 0 || len(points) < 2 {
		return
	}
	if p.closed {
		points = append(points, points[0])
	}
	var areas [][]geometry.Vec2
	for _, dash := range dashes(points, p.pen.dash, c.perMM) {
		areas = append(areas, stroke(dash, p.pen.width*c.perMM, p.pen.dash == nil)...)
	}
	c.fill(areas, p.pen.grey)
}

// fill paints areas that may overlap, all with the same turn.
func (c *painter) fill(areas [][]geometry.Vec2, grey float64) {
	low, high := at(math.Inf(1), math.Inf(1)), at(math.Inf(-1), math.Inf(-1))
	for _, a := range areas {
		l, h := geometry.Bounds(a)
		low, high = at(math.Min(low.X, l.X), math.Min(low.Y, l.Y)), at(math.Max(high.X, h.X), math.Max(high.Y, h.Y))
	}
	if !(low.X <= high.X) {
		return
	}
	box := image.Rect(
		int(math.Floor(low.X))-1, int(math.Floor(low.Y))-1, int(math.Ceil(high.X))+1, int(math.Ceil(high.Y))+1,
	)
	seen := box.Intersect(c.within)
	if seen.Empty() {
		return
	}
	c.mask.Reset(box.Dx(), box.Dy())
	for _, a := range areas {
		for i, p := range geometry.CounterClockwise(a) {
			x, y := float32(p.X-float64(box.Min.X)), float32(p.Y-float64(box.Min.Y))
			if i == 0 {
				c.mask.MoveTo(x, y)
			} else {
				c.mask.LineTo(x, y)
			}
		}
		c.mask.ClosePath()
	}
	cover := image.NewAlpha(image.Rectangle{Max: box.Size()})
	c.mask.Draw(cover, cover.Bounds(), image.Opaque, image.Point{})
	ink := image.NewUniform(color.Gray{Y: uint8(grey * 255)})
	draw.DrawMask(c.to, seen, ink, image.Point{}, cover, seen.Min.Sub(box.Min), draw.Over)
}

// stroke returns the areas that a line of some width covers: a rectangle for
// each part, and at its joins a disc.
func stroke(points []geometry.Vec2, width float64, joined bool) [][]geometry.Vec2 {
	var out [][]geometry.Vec2
	for i := 0; i+1 < len(points); i++ {
		p, q := points[i], points[i+1]
		along := q.Sub(p)
		if along.Norm() == 0 {
			continue
		}
		side := at(-along.Y, along.X).Scale(width / 2 / along.Norm())
		out = append(out, []geometry.Vec2{p.Add(side), p.Sub(side), q.Sub(side), q.Add(side)})
		if joined && i > 0 && width > 1.5 {
			out = append(out, disc(p, width/2, 12))
		}
	}
	return out
}

// disc is a circle of so many corners.
func disc(middle geometry.Vec2, radius float64, n int) []geometry.Vec2 {
	out := make([]geometry.Vec2, n)
	for i := range out {
		s, c := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		out[i] = middle.Add(at(radius*c, radius*s))
	}
	return out
}

// dashes splits a line into its dashes; the pattern is in millimetres.
func dashes(points []geometry.Vec2, pattern []float64, perMM float64) [][]geometry.Vec2 {
	if len(pattern) == 0 {
		return [][]geometry.Vec2{points}
	}
	var out [][]geometry.Vec2
	k, left := 0, pattern[0]*perMM
	now := []geometry.Vec2{points[0]}
	for i := 0; i+1 < len(points); i++ {
		p, q := points[i], points[i+1]
		for length := q.Sub(p).Norm(); length > left; length = q.Sub(p).Norm() {
			p = p.Add(q.Sub(p).Scale(left / length))
			if k%2 == 0 {
				out = append(out, append(now, p))
			}
			k++
			left, now = pattern[k%len(pattern)]*perMM, []geometry.Vec2{p}
		}
		left -= q.Sub(p).Norm()
		now = append(now, q)
	}
	if k%2 == 0 && len(now) > 1 {
		out = append(out, now)
	}
	return out
}

func (c *painter) text(t text) {
	face := faceOf(t.bold, t.size*c.perMM)
	defer face.Close()
	d := font.Drawer{
		Dst: c.to.SubImage(c.within).(draw.Image), Src: image.NewUniform(color.Gray{Y: uint8(t.grey * 255)}), Face: face,
		Dot: fixed.Point26_6{X: fixed.Int26_6((t.at.X - anchor(t)) * c.perMM * 64), Y: fixed.Int26_6(t.at.Y * c.perMM * 64)},
	}
	d.DrawString(t.string)
}
