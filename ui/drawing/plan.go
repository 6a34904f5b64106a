package drawing

import (
	"slices"
	"strconv"

	"cabwright/geometry"
	"cabwright/planner"
	"cabwright/ui/canvas"
)

// Plan draws the scene in plan on c, whose view is set already: the ground, the
// lines with what matters most last, and above them the marks and the words.
func Plan(c *canvas.Canvas, s Scene) {
	paintPlan(c, s)
	if !s.Bare && !s.painted(c) {
		c.Grid(canvas.Grid)
	}
	zones(c, s)
	pockets(c, s)
	c.Polyline(s.Stone.Outline, true, canvas.Pen{Class: canvas.Edge})
	cracks(c, s)
	fits(c, s)
	sawCuts(c, s)
	sectionLine(c, s)
	chosen(c, s)
	if s.Over != nil {
		s.Over(c)
	}
	l := &labels{c: c}
	if s.Readings {
		readings(c, s, l)
	}
	if s.Corners {
		corners(c, s, l)
	}
	limitMark(c, s)
	for _, m := range s.Spots {
		c.Put(m.At, m.Mark, m.Class)
		l.add(label{text: m.Text, class: m.Class, matters: chosenMatters, near: []geometry.Vec2{m.At}, marked: true})
	}
	if !s.Bare {
		c.ScaleBar(canvas.Scale)
	}
	s.caption(c)
	if s.Names {
		names(s, l)
	}
	l.place()
}

// fits draws the fits of the scene, the faint one first.
func fits(c *canvas.Canvas, s Scene) {
	if drawable(s.Ghost) {
		c.Polyline(flat(ring(s.Ghost, 1, 0)), true, canvas.Pen{Class: canvas.Shadow, Stroke: canvas.Dotted})
	}
	for i := range s.Also {
		if f := &s.Also[i]; drawable(f) {
			c.Polyline(flat(ring(f, 1, 0)), true, canvas.Pen{Class: canvas.Girdle, Stroke: s.fitStroke(c)})
		}
	}
	if s.Fit != nil {
		fitPlan(c, s)
	}
}

// chosen draws the selected mark once more, above all other lines.
func chosen(c *canvas.Canvas, s Scene) {
	if s.Chosen == "" {
		return
	}
	pen := canvas.Pen{Class: canvas.Chosen}
	for _, z := range s.Stone.Colour {
		if z.ID == s.Chosen {
			c.Polyline(z.Outline, true, pen)
		}
	}
	for _, p := range s.Stone.Pockets {
		if p.ID == s.Chosen {
			c.Polyline(p.Outline, true, pen)
		}
	}
	for _, k := range s.Stone.Cracks {
		if k.ID == s.Chosen {
			c.Polyline(k.Path, false, pen)
		}
	}
}

func corners(c *canvas.Canvas, s Scene, l *labels) {
	for i, p := range s.Stone.Outline {
		c.Put(p, canvas.CornerMark, canvas.Corner)
		if s.Names {
			l.add(
				label{
					text:    strconv.Itoa(i + 1),
					class:   canvas.Label,
					matters: cornerMatters,
					near:    []geometry.Vec2{p},
					marked:  true,
				},
			)
		}
	}
}

// sectionLine draws where a section runs, with its ends named. Over a painted
// stone its ends are enough to see it by.
func sectionLine(c *canvas.Canvas, s Scene) {
	if s.Line == nil {
		return
	}
	pen := canvas.Pen{Class: canvas.CutLine, Stroke: canvas.DashDot}
	a, b := s.Line.A, s.Line.B
	if !s.painted(c) || s.WholeLine {
		c.Line(a, b, pen)
		return
	}
	pen.Stroke = canvas.Solid
	end := b.Sub(a).Scale(0.07)
	out := unit2(b.Sub(a)).Scale(1.5 * c.View().MMPerCell)
	c.Line(a.Sub(out), a.Add(end), pen)
	c.Line(b.Add(out), b.Sub(end), pen)
}

func unit2(v geometry.Vec2) geometry.Vec2 {
	if n := v.Norm(); n > 0 {
		return v.Scale(1 / n)
	}
	return geometry.Vec2{X: 1}
}

// zones draws the colour seen on the face looked at.
func zones(c *canvas.Canvas, s Scene) {
	for _, z := range s.Stone.Colour {
		if z.Face != s.face() {
			continue
		}
		if s.painted(c) && z.ID != s.Chosen {
			continue
		}
		if !s.Bare && !s.painted(c) {
			c.Fill(z.Outline, canvas.Sparse, canvas.Colour)
		}
		c.Polyline(z.Outline, true, canvas.Pen{Class: s.class(z.ID, canvas.Colour), Stroke: canvas.DashDot})
	}
}

// pockets draws those of the face looked at, and those right through, hatched,
// and the others dotted.
func pockets(c *canvas.Canvas, s Scene) {
	for _, p := range s.Stone.Pockets {
		class := s.class(p.ID, canvas.Pocket)
		if p.Face != s.face() && p.Face != planner.Through {
			c.Polyline(p.Outline, true, canvas.Pen{Class: class, Stroke: canvas.Dotted})
			continue
		}
		if !s.painted(c) {
			c.Fill(p.Outline, canvas.Rising, class)
		}
		c.Polyline(p.Outline, true, canvas.Pen{Class: class})
	}
}

// cracks draws each crack's path dashed on its own face and dotted on the
// other, its run-on dotted, and dotted where its sheet ends deep in the stone.
func cracks(c *canvas.Canvas, s Scene) {
	for _, k := range s.Stone.Cracks {
		class := s.class(k.ID, crackClass(k))
		stroke := canvas.Dotted
		if k.Face == s.face() {
			stroke = crackStroke(k)
		}
		c.Polyline(k.Path, false, canvas.Pen{Class: class, Stroke: stroke})
		further := s.class(k.ID, canvas.RunOn)
		if before, after, ok := runOns(k); ok {
			c.Line(k.Path[0], before, canvas.Pen{Class: further, Stroke: canvas.Dotted})
			c.Line(k.Path[len(k.Path)-1], after, canvas.Pen{Class: further, Stroke: canvas.Dotted})
		}
		if s.Rough != nil && k.Lean > 0 && !s.painted(c) {
			c.Polyline(lowerEdge(s.Rough, k), false, canvas.Pen{Class: further, Stroke: canvas.Dotted})
		}
	}
}

func readings(c *canvas.Canvas, s Scene, l *labels) {
	list := s.Stone.Top
	if s.face() == planner.Base {
		list = s.Stone.Base
	}
	for _, r := range list {
		c.Put(r.XY(), canvas.ReadingMark, canvas.Reading)
		l.add(label{text: strconv.FormatFloat(r.Z, 'f', 1, 64), class: canvas.Reading, matters: readingMatters,
			near: []geometry.Vec2{r.XY()}, marked: true})
	}
}

// names asks for a place for each mark's id.
func names(s Scene, l *labels) {
	for _, z := range s.Stone.Colour {
		if z.Face == s.face() && len(z.Outline) > 0 {
			l.add(s.name(z.ID, canvas.Colour, zoneMatters, append(slices.Clone(z.Outline), middle(z.Outline)), true))
		}
	}
	for _, p := range s.Stone.Pockets {
		if len(p.Outline) > 0 {
			l.add(s.name(p.ID, canvas.Pocket, markMatters, append([]geometry.Vec2{middle(p.Outline)}, p.Outline...), true))
		}
	}
	for _, k := range s.Stone.Cracks {
		if len(k.Path) > 0 {
			l.add(s.name(k.ID, crackClass(k), markMatters, k.Path, false))
		}
	}
	for _, k := range s.Saw {
		if traces := k.trace(s); len(traces) > 0 && k.Name != "" {
			path := traces[0]
			l.add(label{text: planner.Visible(k.Name), class: canvas.SawCut, matters: sawMatters,
				near: []geometry.Vec2{path[0], path[len(path)-1]}})
		}
	}
	if s.Line != nil {
		out := unit2(s.Line.B.Sub(s.Line.A)).Scale(2 * l.c.View().MMPerCell)
		l.add(
			label{
				text:    "A",
				class:   canvas.CutLine,
				matters: endMatters,
				near:    []geometry.Vec2{s.Line.A.Sub(out), s.Line.A},
				over:    true,
			},
		)
		l.add(
			label{
				text:    "B",
				class:   canvas.CutLine,
				matters: endMatters,
				near:    []geometry.Vec2{s.Line.B.Add(out), s.Line.B},
				over:    true,
			},
		)
	}
}

// name is the label of a mark.
func (s Scene) name(id string, own canvas.Class, matters int, near []geometry.Vec2, over bool) label {
	switch {
	case s.Chosen != "" && s.Chosen == id:
		matters = chosenMatters
	case s.limits(id):
		matters = limitMatters
	}
	return label{text: s.title(id), class: s.titleClass(id, own), matters: matters, near: near, over: over, dot: true}
}

// middle returns the middle of the rectangle around pts.
func middle(pts []geometry.Vec2) geometry.Vec2 {
	lo, hi := geometry.Bounds(pts)
	return lo.Add(hi.Sub(lo).Scale(0.5))
}
