package sheet

import (
	"fmt"
	"slices"
	"strings"

	"cabwright/planner"
	"cabwright/planner/cuts"
	"cabwright/planner/diary"
)

// Sizes of text on the pages of steps, mm.
const (
	headSize = 4.4
	bodySize = 3.3
	leading  = 4.7
	indent   = 7.0
)

// writer fills pages with lines of text.
type writer struct {
	p     *pager
	items []item
	y     float64
	said  []string // keys of the cautions written
}

// steps adds the pages that say what to do, in order.
func (p *pager) steps() {
	w := &writer{p: p}
	w.begin()
	if p.c.enlargement() > 1 && len(p.c.Layout.Steps) > 0 {
		w.drawing(p.c.enlarged())
	}
	w.cuts()
	for i, f := range p.c.Layout.Fits {
		w.afterSaw(f, p.c.stoneName(i))
	}
	w.together(func() {
		w.finish()
		w.buyer()
		w.cautions()
	})
	w.end()
}

// together begins a new page for what would be torn apart by the end of one, so that
// no caution is left alone on the last.
func (w *writer) together(write func()) {
	pages, before := len(w.p.pages), *w
	write()
	if len(w.p.pages) == pages || len(before.items) == 0 {
		return
	}
	w.p.pages = w.p.pages[:pages]
	*w = before
	w.end()
	w.begin()
	write()
}

func (w *writer) begin() { w.items, w.y = nil, margin+4 }

func (w *writer) end() {
	w.p.pages = append(w.p.pages, Page{Width: w.p.opt.Paper.Width, Height: w.p.opt.Paper.Height, items: w.items})
}

// room goes on to a new page when so many millimetres are not left.
func (w *writer) room(height float64) {
	if w.y+height > w.p.opt.Paper.Height-margin-6 {
		w.end()
		w.begin()
	}
}

// head writes a heading, kept with the lines that follow it.
func (w *writer) head(s string) {
	w.room(headSize + 4*leading)
	w.y += headSize + 3
	w.items = append(w.items, text{at: at(margin, w.y), size: headSize, bold: true, string: s})
	w.y += 1.6
	w.items = append(w.items, line(at(margin, w.y), at(w.p.opt.Paper.Width-margin, w.y), thinPen))
	w.y += 1.2
}

// drawing puts a block across the page.
func (w *writer) drawing(b block) {
	w.room(titleRoom + b.height)
	w.items = append(w.items, text{at: at(margin, w.y+3.5), size: 3.2, bold: true, string: b.title})
	w.items = append(w.items, moved(b.items, at(1, 1), at(margin, w.y+titleRoom))...)
	w.y += titleRoom + b.height
}

// item writes a paragraph with a box to tick before it, or a sign of its own.
func (w *writer) item(sign, s string, bold bool) {
	lines := wrap(s, bodySize, w.p.opt.Paper.Width-2*margin-indent, bold)
	w.room(float64(len(lines)) * leading)
	for i, l := range lines {
		w.y += leading
		if i == 0 && sign == "" {
			w.items = append(w.items, rectangle(at(margin+0.5, w.y-2.7), at(margin+3.5, w.y+0.3), pen{width: 0.2}))
		} else if i == 0 {
			w.items = append(w.items, text{at: at(margin+0.8, w.y), size: bodySize, bold: true, string: sign})
		}
		w.items = append(w.items, text{at: at(margin+indent, w.y), size: bodySize, bold: bold, string: l})
	}
	w.y += 0.8
}

// warn writes a caution with the step that it belongs to.
func (w *writer) warn(s string) { w.item("!", s, true) }

// cuts writes the saw cuts in order.
func (w *writer) cuts() {
	c := w.p.c
	steps := c.Layout.Steps
	if len(steps) == 0 {
		w.head("At the saw")
		w.item("-", "No saw cut takes enough off to be worth setting up: grind.", false)
		return
	}
	w.head(fmt.Sprintf("At the saw: %s, kerf %s mm", planner.Visible(c.Bench.Saw.Name), short(c.Bench.Saw.Kerf)))
	w.caution("machines")
	w.item("", "Scribe all lines before the first cut, from the numbered corners; "+
		"pencil washes off, an aluminium point stays.", false)
	if m, ok := c.Set.Material(c.Body.Stone.Material); ok {
		if m.Porous {
			w.warn("This material takes up water: let no cut run wet into an open crack; " +
				"seal the crack, or cut dry with the dust drawn off.")
		}
	}
	for i, s := range steps {
		w.cut(i+1, s)
	}
	for _, n := range c.Notes {
		w.item("-", n, false)
	}
}

func (w *writer) cut(order int, s cuts.Step) {
	c := w.p.c
	task := s.Task()
	parts := []string{strings.ToUpper(task[:1]) + task[1:]}
	if line := s.Line(); line != "" {
		parts = append(parts, "line "+line)
	}
	if lean := s.LeanWords(); lean != "" {
		parts = append(parts, lean)
	}
	parts = append(parts, fmt.Sprintf("right when it is %.1f mm across", s.Across))
	if s.Offcut > 0 {
		parts = append(parts, fmt.Sprintf("takes %.2f ct off", planner.Carat(s.Offcut, c.Body.SG)))
	}
	parts = append(parts, fmt.Sprintf("%.2f ct to dust", planner.Carat(s.KerfLost, c.Body.SG)))
	if s.Spare == s.Spare { // there is a stone beside it
		parts = append(parts, fmt.Sprintf("%.1f mm to spare", s.Spare))
	}
	w.item(fmt.Sprintf("%d", order), strings.Join(parts, "; ")+".", false)
	for _, warning := range s.Warnings(cuts.BladeOf(c.Bench.Saw)) {
		w.warn(strings.ToUpper(warning[:1]) + warning[1:] + ".")
	}
}

// afterSaw writes the measures of one stone from the saw to the polish.
func (w *writer) afterSaw(f cuts.Placed, name string) {
	c := w.p.c
	targets := cuts.Targets(f.Solid, c.Set.Wheels)
	w.room(2*headSize + float64(len(targets)+2)*leading) // the heading stays with its table
	w.head(fmt.Sprintf("Caliper targets of %s, dome out of the %s", name, f.Face))
	columns := []float64{margin + indent, 80, 102, 124, 146}
	row := func(bold bool, cells ...string) {
		w.y += leading
		for i, s := range cells {
			t := text{at: at(columns[i], w.y), size: bodySize, bold: bold, string: s}
			if i > 0 {
				t.align = right
				t.at.X += 14
			}
			w.items = append(w.items, t)
		}
	}
	row(true, "after", "left a side", "length", "width", "height")
	for _, t := range targets {
		row(
			false, planner.Visible(t.Step), fmt.Sprintf("%.2f", t.Left), fmt.Sprintf("%.2f", t.Length),
			fmt.Sprintf("%.2f", t.Width), fmt.Sprintf("%.2f", t.Height),
		)
		w.items = append(w.items, rectangle(at(margin+0.5, w.y-2.7), at(margin+3.5, w.y+0.3), pen{width: 0.2}))
	}
	w.y += 1
	var flats []string
	for i, b := range cuts.Bevels(f.Solid) {
		const bevel = "%d from %.1f to %.1f mm over the girdle, at %.0f degrees over the width and %.0f over the length"
		flats = append(flats, fmt.Sprintf(bevel, i+1, b.Foot, b.Head, b.AcrossDeg, b.AlongDeg))
	}
	if len(flats) > 0 {
		wall := fmt.Sprintf("Wall %.1f mm high, leaning in %.0f degrees.", f.Solid.Wall, f.Solid.WallLeanDeg)
		bevels := " Bevels round the dome, none cuts it: " + strings.Join(flats, "; ") + ". Then round the edges off."
		w.item("", wall+bevels, false)
	}
	if f.Solid.BackDepth() > 0 {
		w.item("", fmt.Sprintf("Back domed %.1f mm: turn the stone on the dop and do the same.", f.Solid.BackDepth()), false)
	}
}

// finish writes what comes after the first wheels, by material.
func (w *writer) finish() {
	c := w.p.c
	w.head("From the dop to the polish")
	w.item("", "Trace the preform template on the back with an aluminium point and grind to the line, "+
		"then lay the finished template on.", false)
	m, known := c.Set.Material(c.Body.Stone.Material)
	switch {
	case known && contains(m.Sensitive, "heat"):
		w.item("", "Dop with cold glue or cool wax: this material does not stand heat. Keep it cool on every wheel.", false)
	default:
		w.item("", "Dop the dry, clean stone upright on its back.", false)
	}
	w.caution("glue")
	w.caution("dust")
	w.caution("silica", "copper", "fibres", "soaking")
	w.item("", "Go through the wheels in order, crosswise to the last one's scratches; "+
		"go on only when they are gone under a loupe.", false)
	switch {
	case known && contains(m.Sensitive, "water"):
		w.item("", "Wet, it is ready only when its weight has stayed the same for days: "+
			"weigh it dry before the first wheel and after every wet step. Ground dry, draw the dust off.", false)
	case known && m.Porous:
		w.item("", "It takes up water, oil and dye: keep the coolant clean, and let it dry before gluing.", false)
	default:
		w.item("", "Grind wet, and rinse between the wheels so that no grit is carried on.", false)
	}
	w.item("", "Polish, take it off the dop, clean, weigh dry, and write down what it weighs and what was done to it: "+
		"a filled crack is disclosed (16 CFR 23.24).", false)
}

func contains(words []string, word string) bool {
	for _, w := range words {
		if strings.HasPrefix(w, word) {
			return true
		}
	}
	return false
}

// caution writes those of the general cautions and the material's that belong
// to a step, each once.
func (w *writer) caution(keys ...string) {
	m, _ := w.p.c.Set.Material(w.p.c.Body.Stone.Material)
	for _, c := range w.p.c.Set.CautionsFor(m) {
		if slices.Contains(keys, c.Key) && !slices.Contains(w.said, c.Key) {
			w.said = append(w.said, c.Key)
			w.warn(planner.Visible(c.Text))
		}
	}
}

// buyer writes what whoever buys the stone must be told (16 CFR 23.24), and above
// it, for the cutter, that a porous stone is not dry yet.
func (w *writer) buyer() {
	s := w.p.c.Body.Stone
	m, _ := w.p.c.Set.Material(s.Material)
	if remark := diary.NotDry(s, m.Porous, w.p.c.Set.Defaults.ScaleDivision); remark != "" {
		w.warn(planner.Visible(remark) + " Its weight now is no measure of what it will be.")
	}
	told := diary.Disclosures(s, m)
	if len(told) == 0 {
		return
	}
	w.head("For whoever buys it")
	for _, sentence := range told {
		w.item("", planner.Visible(sentence), false)
	}
}

// cautions writes those that no step has said.
func (w *writer) cautions() {
	m, _ := w.p.c.Set.Material(w.p.c.Body.Stone.Material)
	w.head("Above all")
	for _, c := range w.p.c.Set.CautionsFor(m) {
		w.caution(c.Key)
	}
}
