package summary

import (
	"fmt"
	"image/color"
	"math"
	"sort"
	"strings"
	"unicode"

	"cabwright/geometry"
)

// The card is 1200 x 800 units, higher when there is more to tell.
const (
	cardWidth = 1200
	cardLeast = 800
	margin    = 60.0
	drawRight = 560.0 // the drawing is left of it, the words are right
	wordsLeft = 610.0
	wordsWide = cardWidth - margin - wordsLeft
)

// The colours of the card: dark words on white, each at 4.5:1 or more.
var (
	paper = color.NRGBA{255, 255, 255, 255}
	ink   = color.NRGBA{30, 30, 34, 255}
	grey  = color.NRGBA{96, 96, 104, 255}
	rim   = color.NRGBA{70, 78, 96, 255}
	stone = [2]color.NRGBA{{120, 134, 158, 255}, {232, 238, 246, 255}} // dark to lit
)

// shape is a filled polygon, words is a line of text with the left end of its base
// line; both in units of the card, y down.
type shape struct {
	points []geometry.Vec2
	fill   color.NRGBA
}

type words struct {
	at   geometry.Vec2
	size float64 // of the letters, their height with what hangs below
	bold bool
	fill color.NRGBA
	text string
}

// card is what is drawn, from the back to the front.
type card struct {
	height int
	shapes []shape
	words  []words
}

// layOut sets the facts on a card. wide measures a text at a size.
func layOut(f Facts, wide func(text string, size float64, bold bool) float64) card {
	var c card
	y := margin + 40
	say := func(x, size float64, bold bool, fill color.NRGBA, text string) {
		c.words = append(c.words, words{at: geometry.Vec2{X: x, Y: y}, size: size, bold: bold, fill: fill, text: text})
	}
	for _, line := range broken(printable(f.Title()), wordsWide, func(s string) float64 { return wide(s, 40, true) }) {
		say(wordsLeft, 40, true, ink, line)
		y += 50
	}
	y += 10
	const names = 150
	plain := func(s string) float64 { return wide(s, 22, false) }
	for _, r := range f.Rows() {
		say(wordsLeft, 22, false, grey, r.Name)
		for _, line := range broken(printable(r.Value), wordsWide-names, plain) {
			say(wordsLeft+names, 22, false, ink, line)
			y += 32
		}
	}
	y += 14
	for _, sentence := range f.Disclosures {
		for _, line := range broken(printable(sentence), wordsWide, func(s string) float64 { return wide(s, 18, false) }) {
			say(wordsLeft, 18, false, ink, line)
			y += 25
		}
		y += 10
	}
	c.height = max(cardLeast, int(math.Ceil(y+margin)))
	c.stone(f, wide)
	return c
}

// stone draws the finished stone from above and from the side, with its measures.
func (c *card) stone(f Facts, wide func(string, float64, bool) float64) {
	if f.Fit == nil {
		return
	}
	o := f.Fit.Solid.Outline
	lo, hi := o.Extent()
	size := hi.Sub(lo)
	height := f.Fit.Solid.Height()
	scale := min((drawRight-2*margin)/size.X, 380/size.Y, 600/(size.Y+height*1.4))
	middle := geometry.Vec2{X: margin + (drawRight-margin)/2, Y: margin + 30 + size.Y*scale/2}
	centre := lo.Add(hi).Scale(0.5)
	place := func(p geometry.Vec2) geometry.Vec2 {
		d := p.Sub(centre).Scale(scale)
		return geometry.Vec2{X: middle.X + d.X, Y: middle.Y - d.Y}
	}
	ring := func(share float64, shift geometry.Vec2) []geometry.Vec2 {
		const corners = 180
		var out []geometry.Vec2
		for i := range corners {
			theta := 2 * math.Pi * float64(i) / corners
			r := share * o.Radius(theta)
			out = append(out, place(geometry.Vec2{X: r * math.Cos(theta), Y: r * math.Sin(theta)}).Add(shift))
		}
		return out
	}
	c.shapes = append(c.shapes, shape{ring(1, geometry.Vec2{}), rim})
	const rings = 28
	for i := range rings {
		t := float64(i) / (rings - 1)
		off := size.Y * scale * 0.16 * t * t
		inner := ring(0.975*(1-t)+0.04*t, geometry.Vec2{X: -off, Y: -off})
		c.shapes = append(c.shapes, shape{inner, mix(stone[0], stone[1], t)})
	}
	y := middle.Y + size.Y*scale/2
	length := f.Size
	c.measure(fmt.Sprintf("%.1f x %.1f mm", length[0], length[1]), middle.X, y+36, wide)
	c.side(f, geometry.Vec2{X: middle.X, Y: y + 70}, scale)
	c.measure(fmt.Sprintf("%.1f mm high", length[2]), middle.X, y+70+height*scale+36, wide)
	if f.Fit != nil && !f.Measured {
		c.measure("drawn as planned", middle.X, y+70+height*scale+66, wide)
	}
}

// side draws the stone from the side, its dome up, the highest point at the top.
func (c *card) side(f Facts, top geometry.Vec2, scale float64) {
	body := f.Fit.Solid
	lo, hi := body.Outline.Extent()
	centre := (lo.X + hi.X) / 2
	const steps = 90
	var upper, lower []geometry.Vec2
	crown := body.Wall + body.Dome
	for i := range steps + 1 {
		u := lo.X + (hi.X-lo.X)*float64(i)/steps
		rho := min(1, body.Outline.Gauge(u, 0))
		at := func(w float64) geometry.Vec2 {
			return geometry.Vec2{X: top.X + (u-centre)*scale, Y: top.Y + (crown-w)*scale}
		}
		upper, lower = append(upper, at(body.Upper(rho))), append(lower, at(body.Lower(rho)))
	}
	for i := len(lower) - 1; i >= 0; i-- {
		upper = append(upper, lower[i])
	}
	c.shapes = append(c.shapes, shape{upper, mix(stone[0], stone[1], 0.35)})
}

// measure sets a measure in the middle of x.
func (c *card) measure(text string, x, y float64, wide func(string, float64, bool) float64) {
	const size = 20
	at := geometry.Vec2{X: x - wide(text, size, false)/2, Y: y}
	c.words = append(c.words, words{at: at, size: size, fill: grey, text: text})
}

func mix(a, b color.NRGBA, t float64) color.NRGBA {
	part := func(x, y uint8) uint8 { return uint8(math.Round(float64(x) + (float64(y)-float64(x))*t)) }
	return color.NRGBA{part(a.R, b.R), part(a.G, b.G), part(a.B, b.B), 255}
}

// broken breaks a text between words into lines of at most a width.
func broken(text string, width float64, wide func(string) float64) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(text) {
		switch next := strings.TrimSpace(line + " " + word); {
		case line == "" || wide(next) <= width:
			line = next
		default:
			lines = append(lines, line)
			line = word
		}
		for wide(line) > width && len([]rune(line)) > 1 {
			letters := []rune(line)
			n := max(1, sort.Search(len(letters), func(n int) bool { return wide(string(letters[:n+1])) > width }))
			lines, line = append(lines, string(letters[:n])), string(letters[n:])
		}
	}
	return append(lines, line)
}

// printable drops what does not print: a picture shows letters.
func printable(text string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsPrint(r) && r != unicode.ReplacementChar {
			return r
		}
		return ' '
	}, text)
}
