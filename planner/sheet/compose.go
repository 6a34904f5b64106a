package sheet

import (
	"fmt"
	"strings"

	"cabwright/geometry"
	"cabwright/planner"
	"cabwright/planner/cuts"
	"cabwright/presets"
)

// Content is what a sheet is made of.
type Content struct {
	Body   *cuts.Body
	Layout cuts.Layout // the stones, and how they are sawn out
	Bench  cuts.Bench
	Set    *presets.Set
	Notes  []string // said under the cuts, such as what a thinner blade would free
}

// Paper is a size of paper, upright.
type Paper struct {
	Name          string
	Width, Height float64
}

// Papers are the sizes known: ISO 216 A4, and Letter, 8.5 by 11 inches (ANSI
// X3.151).
var Papers = []Paper{{"A4", 210, 297}, {"Letter", 215.9, 279.4}}

// Options say how a sheet is printed.
type Options struct {
	Paper Paper
	// MeasuredX and MeasuredY are what the bars of 100 mm measured on an earlier
	// print of the same printer, mm; 0: 100. The sheet is drawn so much larger or
	// smaller that they come out at 100.
	MeasuredX, MeasuredY float64
}

// Measures of a page, mm. Most printers leave 3 to 6 mm of the edge white
// (common practice).
const (
	margin     = 12.0
	headRoom   = 16.0 // the title on the first page, without the weights under it
	footRoom   = 17.0 // the level bar
	sideRoom   = 14.0 // the upright bar
	squareSide = 50.0
	barLength  = 100.0
)

// Compose lays out the pages: those at true scale first, then the steps.
func Compose(c *Content, opt Options) []Page {
	p := &pager{c: c, opt: opt}
	p.first()
	for _, b := range c.blocks() {
		p.place(b)
	}
	p.flush()
	p.steps()
	for i := range p.pages {
		page := &p.pages[i]
		page.items = append(page.items, text{
			at: at(page.Width-margin, page.Height-6), size: 2.6, align: right, grey: 0.25,
			string: fmt.Sprintf("%s, sheet %d of %d", p.name(), i+1, len(p.pages)),
		})
		page.correct(opt)
	}
	return p.pages
}

// correct stretches what is drawn about the middle of the paper by what the
// printer takes off.
func (p *Page) correct(opt Options) {
	scale := at(1, 1)
	if opt.MeasuredX > 0 {
		scale.X = barLength / opt.MeasuredX
	}
	if opt.MeasuredY > 0 {
		scale.Y = barLength / opt.MeasuredY
	}
	middle := at(p.Width/2, p.Height/2)
	p.items = moved(p.items, scale, at(middle.X*(1-scale.X), middle.Y*(1-scale.Y)))
}

// blocks are all drawings, in the order in which they are wanted.
func (c *Content) blocks() []block {
	out := []block{c.view(planner.Top), c.view(planner.Base)}
	for i, f := range c.Layout.Fits {
		out = append(out, c.templates(f, c.stoneName(i))...)
	}
	for i, f := range c.Layout.Fits {
		if i < 2 { // the two heaviest: more would bury the steps
			out = append(out, c.sections(f, c.stoneName(i))...)
		}
	}
	return out
}

// stoneName is what a stone is called on the sheet: "A, oval 14x10", its letter
// left out when there is only one.
func (c *Content) stoneName(i int) string {
	size := sizeOf(c.Layout.Fits[i].Solid.Outline)
	if len(c.Layout.Fits) == 1 {
		return size
	}
	return letter(i) + ", " + size
}

func letter(i int) string { return string(rune('A' + i)) }

// pager fills pages with blocks, from left to right in rows.
type pager struct {
	c     *Content
	opt   Options
	pages []Page

	items       []item  // of the page that is being filled
	x, y        float64 // where the next block goes
	row         float64 // height of the row
	left, right float64
	top, bottom float64
	open        bool
}

func (p *pager) name() string {
	if name := planner.Visible(p.c.Body.Stone.Name); name != "" {
		return name
	}
	return "Unnamed stone"
}

// begin opens a page at true scale with its bars.
func (p *pager) begin(top float64) {
	p.left, p.right = margin, p.opt.Paper.Width-margin-sideRoom
	p.top, p.bottom = top, p.opt.Paper.Height-margin-footRoom
	p.x, p.y, p.row = p.left, p.top, 0
	p.items, p.open = p.bars(), true
}

// flush closes the page that is being filled.
func (p *pager) flush() {
	if p.open {
		p.pages = append(p.pages, Page{Width: p.opt.Paper.Width, Height: p.opt.Paper.Height, items: p.items})
		p.open = false
	}
}

// first begins the first page, with the heading and the square.
func (p *pager) first() {
	var head []string
	for _, s := range p.heading() {
		head = append(head, wrap(s, 3.4, p.opt.Paper.Width-2*margin, false)...)
	}
	y := margin + headRoom + 5*float64(len(head))
	p.begin(y)
	p.items = append(p.items,
		text{at: at(margin, margin+6), size: 7, bold: true, string: p.name()},
		line(at(margin, y-4), at(p.opt.Paper.Width-margin, y-4), thinPen))
	for i, s := range head {
		p.items = append(p.items, text{at: at(margin, margin+11+5*float64(i)), size: 3.4, string: s})
	}
	low := at(p.right-squareSide, p.bottom-squareSide)
	square := rectangle(low, low.Add(at(squareSide, squareSide)), pen{width: 0.2})
	p.items = append(p.items, square)
	for i, s := range []string{
		"50 x 50 mm", "Measure this square and both", "bars before use: print at", "100%, not \"fit to page\".",
	} {
		here := low.Add(at(squareSide/2, 20+5*float64(i)))
		p.items = append(p.items, text{at: here, size: 3.2, bold: i == 0, align: centre, string: s})
	}
	p.bottom -= squareSide + 2 // the rows of the first page end above the square
}

// heading says what the rough weighs and what is to come of it.
func (p *pager) heading() []string {
	b := p.c.Body
	material := "material not named"
	if m, ok := p.c.Set.Material(b.Stone.Material); ok {
		material = planner.Visible(m.Name)
	}
	size := planner.Extent(b.Stone.Outline)
	low, high := b.Rough.Heights()
	rough := fmt.Sprintf(
		"%s, SG %.2f; rough %.1f x %.1f x %.1f mm, %.1f ct as drawn", material, b.SG, size.Length, size.Width, high-low,
		planner.Carat(b.Rough.Volume(), b.SG),
	)
	if b.Stone.ScaleCt > 0 {
		rough += fmt.Sprintf(", %.1f ct on the scale", b.Stone.ScaleCt)
	}
	var stones []string
	for i, f := range p.c.Layout.Fits {
		stones = append(stones, fmt.Sprintf("%s, %.1f high, %.2f ct (%.2f to %.2f)",
			p.c.stoneName(i), f.Solid.Height(), f.Carat, f.CaratLow, f.CaratHigh))
	}
	return []string{rough, "Planned: " + strings.Join(stones, "; ")}
}

// bars draws the level and the upright bar of 100 mm.
func (p *pager) bars() []item {
	var out []item
	ticks := func(from, along, across geometry.Vec2) {
		out = append(out, line(from, from.Add(along.Scale(barLength)), pen{width: 0.25}))
		for k := 0; k <= 20; k++ {
			length := 1.6
			if k%2 == 0 {
				length = 3
			}
			tick := from.Add(along.Scale(float64(k) * barLength / 20))
			out = append(out, line(tick, tick.Add(across.Scale(length)), pen{width: 0.1}))
		}
	}
	bottom, side := p.opt.Paper.Height-margin-4, p.opt.Paper.Width-margin-4
	ticks(at(margin, bottom), at(1, 0), at(0, -1))
	ticks(at(side, bottom-footRoom-barLength), at(0, 1), at(-1, 0))
	return append(out,
		text{at: at(margin+barLength+3, bottom), size: 3, string: "100 mm across"},
		text{at: at(side, bottom-footRoom-barLength-5.6), size: 3, align: right, string: "100 mm"},
		text{at: at(side, bottom-footRoom-barLength-2), size: 3, align: right, string: "down"},
	)
}

// place puts a block into the row, or begins a row, a page, or tiles it.
func (p *pager) place(b block) {
	height := b.height + titleRoom
	whole := p.opt.Paper.Height - margin - footRoom - margin
	if b.width > p.opt.Paper.Width-2*margin-sideRoom || height > whole {
		p.tile(b)
		return
	}
	titles := wrap(b.title, 3.2, maxOf(b.width, 40), true)
	width := maxOf(b.width, 0)
	for _, t := range titles {
		width = maxOf(width, widthOf(t, 3.2, true))
	}
	height = b.height + titleRoom + 4*float64(len(titles)-1)
	if p.x > p.left && p.x+width > p.right {
		p.x, p.y, p.row = p.left, p.y+p.row+gap, 0
	}
	if !p.open || p.y+height > p.bottom {
		p.flush()
		p.begin(margin)
	}
	for i, t := range titles {
		p.items = append(p.items, text{at: at(p.x, p.y+3.5+4*float64(i)), size: 3.2, bold: true, string: t})
	}
	p.items = append(p.items, moved(b.items, at(1, 1), at(p.x, p.y+height-b.height))...)
	p.x += width + gap
	p.row = maxOf(p.row, height)
}

func maxOf(a, b float64) float64 {
	if a > b {
		return a
	}
	return b
}

// tileOverlap is how far tiles show the same, to be glued over each other.
const tileOverlap = 10.0

// tile spreads a block that is larger than the paper over several pages, with
// marks to lay them over each other.
func (p *pager) tile(b block) {
	p.flush()
	p.begin(margin)
	width, height := p.right-p.left, p.bottom-p.top-titleRoom
	across := tiles(b.width, width)
	down := tiles(b.height, height)
	for j := range down {
		for i := range across {
			if i+j > 0 {
				p.begin(margin)
			}
			from := at(float64(i)*(width-tileOverlap), float64(j)*(height-tileOverlap))
			low := at(p.left, p.top+titleRoom)
			high := at(p.right, p.bottom)
			title := fmt.Sprintf("%s: part %d of %d, row %d, column %d", b.title, j*across+i+1, across*down, j+1, i+1)
			p.items = append(p.items,
				text{at: at(p.left, p.top+3.5), size: 3.2, bold: true, string: title},
				clip{low, high, moved(b.items, at(1, 1), low.Sub(from))})
			p.items = append(p.items, p.glue(low, high, i, j, across, down)...)
			p.flush()
		}
	}
}

// tiles is how many sheets a length takes.
func tiles(length, sheet float64) int {
	n := 1
	for float64(n)*(sheet-tileOverlap)+tileOverlap < length {
		n++
	}
	return n
}

// glue draws the edges that neighbouring tiles share, with crosses on them.
func (p *pager) glue(low, high geometry.Vec2, i, j, across, down int) []item {
	var out []item
	edge := func(a, b geometry.Vec2) {
		out = append(out, line(a, b, depthPen))
		for _, t := range []float64{0.25, 0.75} {
			c := a.Add(b.Sub(a).Scale(t))
			out = append(out,
				line(c.Sub(at(2.5, 0)), c.Add(at(2.5, 0)), thinPen),
				line(c.Sub(at(0, 2.5)), c.Add(at(0, 2.5)), thinPen))
		}
	}
	half := tileOverlap / 2
	if i > 0 {
		edge(at(low.X+half, low.Y), at(low.X+half, high.Y))
	}
	if i < across-1 {
		edge(at(high.X-half, low.Y), at(high.X-half, high.Y))
	}
	if j > 0 {
		edge(at(low.X, low.Y+half), at(high.X, low.Y+half))
	}
	if j < down-1 {
		edge(at(low.X, high.Y-half), at(high.X, high.Y-half))
	}
	return out
}
