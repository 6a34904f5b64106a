package ui

import (
	"fmt"
	"strings"

	"github.com/charmbracelet/bubbles/viewport"
	"github.com/charmbracelet/x/ansi"

	"cabwright/geometry"
	"cabwright/ui/canvas"
	"cabwright/ui/drawing"
	"cabwright/ui/style"
	"cabwright/ui/view"
)

// pointing is a view with a place that its cursor points at.
type pointing interface {
	Pointed(s *view.State) (geometry.Vec2, bool)
}

// explaining is a view that says itself what is under its cursor: a line of its
// list, or a place of its drawing with so many mm to a cell.
type explaining interface {
	Explained(s *view.State, within float64) string
}

// explained says what lies under the cursor, as much of it as the line has room
// for; "" where there is none.
func (m *Model) explained() string {
	if m.drawn() < fullWidth {
		return ""
	}
	cols, _ := view.Columns(m.width)
	within := m.s.Plane(cols, m.viewRows()).MMPerCell
	switch v := m.views[m.at].(type) {
	case explaining:
		return leading(v.Explained(m.s, within), m.width)
	case pointing:
		p, ok := v.Pointed(m.s)
		if !ok {
			return ""
		}
		scene := m.s.Scene()
		scene.Ghost = m.s.Best()
		return leading(drawing.Explain(scene, p, within), m.width)
	}
	return leading(m.s.Waiting(), m.width)
}

// leading returns the parts of a text, which semicolons set apart, that a width has
// room for, the first at least.
func leading(text string, width int) string {
	for ansi.StringWidth(text) > width {
		i := strings.LastIndex(text, "; ")
		if i < 0 {
			break
		}
		text = text[:i]
	}
	return ansi.Truncate(text, width, "…")
}

// entry is one line of the legend: how a thing is drawn, and what it is.
type entry struct {
	mark   canvas.Mark // a single place; its Sign is empty for a line
	class  canvas.Class
	stroke canvas.Stroke
	area   bool // hatched where the ground is not painted
	hatch  canvas.Hatch
	tone   canvas.Material
	words  string
}

// entries returns the legend of the drawing as it is drawn on this terminal.
func entries(painted bool) []entry {
	fit := canvas.Solid
	if !painted {
		fit = canvas.Heavy
	}
	return []entry{
		{class: canvas.Edge, words: "edge of the rough"},
		{class: canvas.Girdle, stroke: fit, words: "the chosen fit"},
		{class: canvas.Allowance, stroke: canvas.Dotted, words: "room a fit keeps free; while editing, the best fit"},
		{class: canvas.Crack, stroke: canvas.Dashed, words: "open crack on this face; dotted: on the other"},
		{class: canvas.Sealed, stroke: canvas.LongDashed, words: "sealed crack"},
		{class: canvas.Pocket, area: !painted, hatch: canvas.Rising, words: "pocket that opens here; dotted: hidden"},
		{
			class:  canvas.Colour,
			area:   !painted,
			hatch:  canvas.Sparse,
			stroke: canvas.DashDot,
			tone:   canvas.Play,
			words:  "play-of-colour, stronger by its grade",
		},
		{class: canvas.SawCut, stroke: canvas.Double, words: "saw cut; what it takes off is dimmed"},
		{class: canvas.CutLine, stroke: canvas.DashDot, words: "where the section runs, from A to B"},
		{mark: canvas.LimitMark, class: canvas.Limit, words: "what limits the fit"},
		{mark: canvas.ChosenMark, class: canvas.Chosen, words: "what is selected"},
		{mark: canvas.CursorMark, class: canvas.Cursor, words: "the cursor"},
		{mark: canvas.ReadingMark, class: canvas.Reading, words: "reading, its height in mm"},
		{mark: canvas.CornerMark, class: canvas.Corner, words: "corner of the outline"},
		{mark: canvas.DoubtfulMark, class: canvas.Corner, words: "corner set by mouse, not yet exact"},
		{mark: canvas.RefusedMark, class: canvas.Refused, words: "a reading in doubt; what an edit was refused for"},
	}
}

// Widths of a legend's sample and of a whole entry, in cells.
const (
	sampleCols = 8
	entryCols  = sampleCols + 52
)

// listSigns are the signs beside words and figures, each with what it says.
func (m *Model) listSigns() string {
	proved := "✓ proved, or with the spare wanted"
	if m.s.Glyphs == canvas.ASCII {
		proved = "= proved, v with the spare wanted" // as fits writes them there
	}
	return "In lists: ▸ chosen, * pinned, ! hardly any spare, ~ not proved, " + proved +
		", ≠ differs, + ways folded away"
}

// legendRows is how many rows the whole legend takes.
func (m *Model) legendRows() int { return 1 + len(m.legendBody(m.width)) }

// legendBody is the legend without its heading, in as many columns as the width holds.
func (m *Model) legendBody(width int) []string {
	list := entries(m.s.Palette() != nil)
	columns := max(1, width/entryCols)
	rows := (len(list) + columns - 1) / columns
	var out []string
	for r := range rows {
		line := ""
		for c := range columns {
			if i := c*rows + r; i < len(list) {
				line += view.Fit(m.sample(list[i])+" "+list[i].words, min(entryCols, width))
			}
		}
		out = append(out, view.Fit(line, width))
	}
	for _, line := range strings.Split(ansi.Wordwrap(m.listSigns(), width, ""), "\n") {
		out = append(out, view.Fit(line, width))
	}
	return out
}

// legendLines draws the legend; what finds no room is scrolled by page up and down.
func (m *Model) legendLines(width, height int) []string {
	body := m.legendBody(width)
	head := "Signs and colours"
	if m.s.Palette() != nil {
		head += ": red ground is where a fit lies too near"
	}
	room := max(1, min(height-1, len(body)))
	at := m.legendView.YOffset
	m.legendView = viewport.New(width, room)
	m.legendView.SetContent(strings.Join(body, "\n"))
	m.legendView.SetYOffset(at)
	if room < len(body) {
		from := m.legendView.YOffset + 1
		head = fmt.Sprintf("Signs, lines %d-%d of %d: page up, page down", from, from+room-1, len(body))
	}
	out := []string{m.s.Style.Paint(style.Key, view.Fit(head, width))}
	return append(out, strings.Split(m.legendView.View(), "\n")...)
}

// legendKey takes the keys that scroll a legend that is longer than its room.
func (m *Model) legendKey(key string) bool {
	if !m.legend || m.legendRows() <= m.bodyRows() {
		return false
	}
	switch key {
	case "pgdown":
		m.legendView.PageDown()
	case "pgup":
		m.legendView.PageUp()
	default:
		return false
	}
	return true
}

// sample draws an entry's sign on a ground of rock.
func (m *Model) sample(e entry) string {
	c := canvas.New(sampleCols, 1, m.s.Glyphs)
	if p := m.s.Palette(); p != nil {
		what, ground := canvas.Rock, p.Rock.Lit(0.9)
		switch {
		case e.tone == canvas.Play:
			what, ground = canvas.Play, p.Play
		case e.class == canvas.Pocket:
			what, ground = canvas.Hollow, p.Hollow
		case e.class == canvas.Girdle:
			what, ground = canvas.Finished, p.Finished
		}
		for x := 1; x < sampleCols; x++ {
			for y := range 2 {
				c.SetTone(x, y, canvas.NewTone(what, uint8(ground[0]), uint8(ground[1]), uint8(ground[2])))
			}
		}
	}
	c.SetView(canvas.View{MMPerCell: 1})
	left, right := geometry.Vec2{X: -float64(sampleCols)/2 + 1}, geometry.Vec2{X: float64(sampleCols) / 2}
	switch {
	case e.mark.Sign != "":
		c.Put(geometry.Vec2{}, e.mark, e.class)
	case e.area:
		up := geometry.Vec2{Y: 1}
		c.Fill([]geometry.Vec2{left.Sub(up), right.Sub(up), right.Add(up), left.Add(up)}, e.hatch, e.class)
	default:
		c.Line(left, right, canvas.Pen{Class: e.class, Stroke: e.stroke})
	}
	line := c.Lines(m.s.Style.Canvas)[0]
	return ansi.Truncate(line, sampleCols, "")
}
