package picture

import (
	"bytes"
	"encoding/base64"
	"fmt"
	"html"
	"image"
	"image/color"
	"image/png"
	"io"
	"sort"
	"strings"
)

// SVG writes the screen as an SVG of 10 x 20 units a cell: the ground as one
// small picture of two half cells a cell, lines and letters above it as shapes
// and text, so that they stay sharp at any size.
func (s *Screen) SVG(w io.Writer) error {
	if len(s.cells) == 0 {
		return errEmpty
	}
	var b bytes.Buffer
	wide, high := s.width*cellWidth, s.height*cellHeight
	fmt.Fprintf(
		&b,
		`<svg xmlns="http://www.w3.org/2000/svg" width="%d" height="%d" viewBox="0 0 %d %d">`+"\n",
		wide,
		high,
		wide,
		high,
	)
	ground, err := s.ground()
	if err != nil {
		return err
	}
	fmt.Fprintf(
		&b,
		`<image width="%d" height="%d" preserveAspectRatio="none" image-rendering="optimizeSpeed" `+
			`style="image-rendering:pixelated" href="data:image/png;base64,%s"/>`+"\n",
		wide,
		high,
		ground,
	)
	s.shapes(&b)
	fmt.Fprintf(
		&b,
		`<g font-family="'DejaVu Sans Mono','Go Mono',Menlo,Consolas,monospace" font-size="16" xml:space="preserve">`+"\n",
	)
	for row := range s.height {
		s.words(&b, row)
	}
	b.WriteString("</g>\n</svg>\n")
	_, err = w.Write(b.Bytes())
	return err
}

// ground returns the grounds of all cells as a PNG in base64, a pixel a half cell.
// What whole and half blocks fill is ground, too.
func (s *Screen) ground() (string, error) {
	img := image.NewRGBA(image.Rect(0, 0, s.width, 2*s.height))
	for i, c := range s.cells {
		x, y := i%s.width, i/s.width*2
		upper, lower := c.back, c.back
		switch c.sign {
		case "▀":
			upper = c.fore
		case "▄":
			lower = c.fore
		case "█":
			upper, lower = c.fore, c.fore
		}
		if share, ok := shadeOf(c.sign); ok {
			upper = mixed(c.back, c.fore, share)
			lower = upper
		}
		img.SetRGBA(x, y, upper)
		img.SetRGBA(x, y+1, lower)
	}
	var b bytes.Buffer
	if err := png.Encode(&b, img); err != nil {
		return "", err
	}
	return base64.StdEncoding.EncodeToString(b.Bytes()), nil
}

// shapes writes the dots and the narrower blocks, one path a colour.
func (s *Screen) shapes(b *bytes.Buffer) {
	paths := map[color.RGBA]*strings.Builder{}
	at := func(k color.RGBA) *strings.Builder {
		if paths[k] == nil {
			paths[k] = &strings.Builder{}
		}
		return paths[k]
	}
	for i, c := range s.cells {
		x, y := i%s.width*cellWidth, i/s.width*cellHeight
		if bits, ok := dots(c.sign); ok {
			for k, place := range dotPlaces {
				if bits>>k&1 == 1 {
					fmt.Fprintf(at(c.fore), "M%d %dh3v3h-3z", x+1+place[0]*5, y+1+place[1]*5)
				}
			}
			continue
		}
		if blk, ok := blockOf(c.sign); ok && c.sign != "▀" && c.sign != "▄" && c.sign != "█" {
			w, h := float64(blk.x1-blk.x0)*cellWidth/8, float64(blk.y1-blk.y0)*cellHeight/8
			fmt.Fprintf(
				at(c.fore),
				"M%g %gh%gv%gh-%gz",
				float64(x)+float64(blk.x0)*cellWidth/8,
				float64(y)+float64(blk.y0)*cellHeight/8,
				w,
				h,
				w,
			)
		}
	}
	colours := make([]string, 0, len(paths))
	for k, p := range paths {
		colours = append(colours, fmt.Sprintf(`<path fill="%s" d="%s"/>`, hex(k), p))
	}
	sort.Strings(colours)
	b.WriteString(strings.Join(colours, "\n") + "\n")
}

// words writes a row's letters, a text element for each run of one look; two free
// cells end a run.
func (s *Screen) words(b *bytes.Buffer, row int) {
	line := s.cells[row*s.width : (row+1)*s.width]
	for i := 0; i < len(line); {
		if !lettered(line[i].sign) {
			i++
			continue
		}
		last := i
		for j := i + 1; j < len(line) && j <= last+2; j++ {
			if c := line[j]; lettered(c.sign) && c.fore == line[i].fore && c.bold == line[i].bold {
				last = j
			} else if c.sign != "" {
				break
			}
		}
		text := ""
		for _, c := range line[i : last+1] {
			text += max(c.sign, " ")
		}
		weight := ""
		if line[i].bold {
			weight = ` font-weight="bold"`
		}
		fmt.Fprintf(b, `<text x="%d" y="%d" fill="%s"%s textLength="%d" lengthAdjust="spacingAndGlyphs">%s</text>`+"\n",
			i*cellWidth, row*cellHeight+baseline, hex(line[i].fore), weight, (last-i+1)*cellWidth, html.EscapeString(text))
		i = last + 1
	}
}

// lettered reports whether a sign is written as text, not drawn.
func lettered(sign string) bool {
	if sign == "" {
		return false
	}
	_, block := blockOf(sign)
	_, shade := shadeOf(sign)
	_, braille := dots(sign)
	return !block && !shade && !braille
}

func hex(k color.RGBA) string { return fmt.Sprintf("#%02x%02x%02x", k.R, k.G, k.B) }
