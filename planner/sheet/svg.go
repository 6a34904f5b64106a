package sheet

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
	"strconv"
	"strings"

	"cabwright/geometry"
)

// WriteSVG writes one page as SVG, its size and every coordinate in true
// millimetres. Text is drawn as outlines; its words are the label of its group.
func WriteSVG(w io.Writer, p Page, title string) error {
	s := &svgWriter{}
	s.items(p.items)
	_, err := fmt.Fprintf(w, `<?xml version="1.0" encoding="UTF-8"?>
<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink"
 width="%smm" height="%smm" viewBox="0 0 %[1]s %[2]s" stroke-linejoin="round">
<title>%s</title>
<defs>
%s</defs>
<rect width="100%%" height="100%%" fill="#fff"/>
%s</svg>
`, num(p.Width), num(p.Height), escape(title), s.glyphs.defs.String(), s.String())
	return err
}

type svgWriter struct {
	bytes.Buffer
	clips  int
	glyphs glyphs
}

func (s *svgWriter) printf(format string, args ...any) { fmt.Fprintf(s, format, args...) }

func (s *svgWriter) items(items []item) {
	for _, it := range items {
		switch it := it.(type) {
		case path:
			s.path(it)
		case text:
			s.printf(`<g aria-label="%s" transform="translate(%s %s) scale(%s)" fill="%s">%s</g>`+"\n", escape(it.string),
				num(it.at.X-anchor(it)), num(it.at.Y), num(it.size), colour(it.grey), s.glyphs.use(it))
		case clip:
			s.clips++
			s.printf(`<clipPath id="c%d"><rect x="%s" y="%s" width="%s" height="%s"/></clipPath>`,
				s.clips, num(it.low.X), num(it.low.Y), num(it.high.X-it.low.X), num(it.high.Y-it.low.Y))
			s.printf(`<g clip-path="url(#c%d)">`+"\n", s.clips)
			s.items(it.items)
			s.printf("</g>\n")
		}
	}
}

func (s *svgWriter) path(p path) {
	s.printf(`<path d="%s"`, outlineOf(p.points, p.closed))
	fill := "none"
	if p.fill >= 0 {
		fill = colour(p.fill)
	}
	s.printf(` fill="%s"`, fill)
	if p.pen.width > 0 {
		s.printf(` stroke="%s" stroke-width="%s"`, colour(p.pen.grey), num(p.pen.width))
		if p.pen.dash != nil {
			var parts []string
			for _, d := range p.pen.dash {
				parts = append(parts, num(d))
			}
			s.printf(` stroke-dasharray="%s"`, strings.Join(parts, " "))
		}
	}
	s.printf("/>\n")
}

func outlineOf(points []geometry.Vec2, closed bool) string {
	var b strings.Builder
	for i, p := range points {
		b.WriteString(map[bool]string{true: "M", false: "L"}[i == 0] + num(p.X) + " " + num(p.Y))
	}
	if closed {
		b.WriteString("Z")
	}
	return b.String()
}

// num writes a length to a thousandth of a millimetre.
func num(v float64) string {
	s := strings.TrimRight(strings.TrimRight(strconv.FormatFloat(v, 'f', 3, 64), "0"), ".")
	if s == "-0" {
		return "0"
	}
	return s
}

func colour(grey float64) string {
	v := int(grey * 255)
	return fmt.Sprintf("#%02x%02x%02x", v, v, v)
}

func escape(s string) string {
	var b bytes.Buffer
	if err := xml.EscapeText(&b, []byte(s)); err != nil {
		return ""
	}
	return b.String()
}
