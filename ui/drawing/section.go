package drawing

import (
	"math"
	"strconv"

	"cabwright/geometry"
	"cabwright/planner"
	"cabwright/ui/canvas"
)

// SectionWindow returns the view that shows a cut whole on a canvas of so many
// cells: x is the distance from A, y the height. It has room for the stone's
// whole length in that direction, so that stepping through it keeps the scale.
func (s Scene) SectionWindow(k Cut, width, height, margin int) canvas.View {
	var pts []geometry.Vec2
	low, high := 0.0, 0.0
	if s.Rough != nil {
		low, high = s.Rough.Heights()
	}
	if drawable(s.Fit) {
		for _, w := range []float64{s.Fit.Solid.Wall + s.Fit.Solid.Dome, -s.Fit.Solid.BackDepth()} {
			z := s.Fit.Pose.Place(geometry.Vec3{Z: w}).Z
			low, high = math.Min(low, z), math.Max(high, z)
		}
	}
	for _, p := range s.Stone.Outline {
		t, _ := k.Of(p)
		pts = append(pts, geometry.Vec2{X: t, Y: low}, geometry.Vec2{X: t, Y: high})
	}
	return canvas.FitTo(pts, width, height, margin)
}

// Section draws a cut through the scene on c, whose view (see SectionWindow) is
// set already. Without surfaces there is nothing to draw.
func Section(c *canvas.Canvas, s Scene, k Cut) {
	if !s.Bare && !s.painted(c) {
		c.Grid(canvas.Grid)
	}
	if s.Rough == nil {
		return
	}
	x := slicer{scene: s, rough: s.Rough, cut: k, step: sampling(c), labels: labels{c: c}}
	x.spans = k.through(s.Stone.Outline)
	if s.painted(c) {
		x.paint()
	}
	x.colour()
	x.pockets()
	x.skin()
	x.cracks()
	x.fit()
	x.sawCuts()
	x.ticks()
	if s.Over != nil {
		s.Over(c)
	}
	x.limitMark()
	x.readings()
	for _, m := range s.Spots {
		c.Put(m.At, m.Mark, m.Class)
	}
	if !s.Bare {
		c.ScaleBar(canvas.Scale)
	}
	s.caption(c)
	if s.Names {
		x.names()
	}
	x.labels.place()
}

// sampling returns a step along the cut of a dot, in mm, but never so fine
// that a section takes more than a few thousand of them.
func sampling(c *canvas.Canvas) float64 {
	return math.Max(0.02, c.View().MMPerCell/2)
}

// slicer draws one section.
type slicer struct {
	scene Scene
	rough *planner.Rough
	cut   Cut
	step  float64 // mm along the cut
	spans []span  // where the cut is inside the outline
	labels
}

// heights returns the rough's base and top t mm from A.
func (x *slicer) heights(t float64) (low, high float64) {
	p := x.cut.At(t)
	return x.rough.Base(p.X, p.Y), x.rough.Top(p.X, p.Y)
}

// bands calls draw with each body that lies over the spans between two heights
// given from the rough's own at each place, as a closed curve: upper edge left
// to right, then the lower one back. Where nothing is left between them the
// body ends.
func (x *slicer) bands(
	spans []span,
	between func(t, low, high float64) (float64, float64),
	draw func(body []geometry.Vec2, upper int),
) {
	for _, s := range spans {
		n := int(math.Min(4000, math.Ceil((s.to-s.from)/x.step))) // 4000: more than any terminal has dots
		var up, down []geometry.Vec2
		flush := func() {
			if len(up) > 1 {
				body := append([]geometry.Vec2(nil), up...)
				for i := len(down) - 1; i >= 0; i-- {
					body = append(body, down[i])
				}
				draw(body, len(up))
			}
			up, down = nil, nil
		}
		for i := 0; i <= n; i++ {
			t := s.from + (s.to-s.from)*float64(i)/math.Max(1, float64(n))
			low, high := x.heights(t)
			a, b := between(t, low, high)
			if !(a < b) {
				flush()
				continue
			}
			up, down = append(up, geometry.Vec2{X: t, Y: b}), append(down, geometry.Vec2{X: t, Y: a})
		}
		flush()
	}
}

// skin draws the rough itself.
func (x *slicer) skin() {
	whole := func(_, low, high float64) (float64, float64) { return low, high }
	x.bands(x.spans, whole, func(body []geometry.Vec2, _ int) {
		x.c.Polyline(body, true, canvas.Pen{Class: canvas.Edge})
	})
}

// colour draws how deep each zone's colour goes; where that is not known, only
// the stretch of the face it is seen on.
func (x *slicer) colour() {
	painted := x.scene.painted(x.c)
	for _, z := range x.scene.Stone.Colour {
		if painted && z.ID != x.scene.Chosen {
			continue
		}
		class := x.scene.class(z.ID, canvas.Colour)
		x.bands(both(x.spans, x.cut.through(z.Outline)), func(_, low, high float64) (float64, float64) {
			return zoneHeights(z, x.step, low, high)
		}, func(body []geometry.Vec2, _ int) {
			if !x.scene.Bare && !painted {
				x.c.Fill(body, canvas.Sparse, class)
			}
			x.c.Polyline(body, true, canvas.Pen{Class: class, Stroke: canvas.DashDot})
		})
	}
}

func (x *slicer) pockets() {
	for _, p := range x.scene.Stone.Pockets {
		class := x.scene.class(p.ID, canvas.Pocket)
		for _, e := range extents(surePocket(p)) {
			pen := canvas.Pen{Class: class, Stroke: e.stroke()}
			if surePocket(p) && !doubtful(p.Chance) {
				pen.Stroke = canvas.Solid
			}
			x.bands(both(x.spans, x.cut.through(p.Outline)), func(_, low, high float64) (float64, float64) {
				return pocketHeights(p, e, low, high)
			}, func(body []geometry.Vec2, _ int) {
				if !x.scene.painted(x.c) && (e == least || surePocket(p)) {
					x.c.Fill(body, canvas.Rising, class)
				}
				x.c.Polyline(body, true, pen)
			})
		}
	}
}

// nearCut is how near to the cut, in mm, a reading is still shown in it: about
// the width of the caliper's jaw it was taken with.
const nearCut = 1.0

// readings marks the readings near the cut, and writes the rough's thickness
// under it at even places.
func (x *slicer) readings() {
	if x.scene.Bare {
		return
	}
	for _, list := range [][]geometry.Vec3{x.scene.Stone.Top, x.scene.Stone.Base} {
		for _, r := range list {
			if t, off := x.cut.Of(r.XY()); math.Abs(off) <= nearCut {
				x.c.Put(geometry.Vec2{X: t, Y: r.Z}, canvas.ReadingMark, canvas.Reading)
			}
		}
	}
	low := math.Inf(1)
	for _, s := range x.spans {
		const looks = 24 // a base bends little between two of them
		for i := range looks + 1 {
			z, _ := x.heights(s.from + (s.to-s.from)*float64(i)/looks)
			low = math.Min(low, z)
		}
	}
	if drawable(x.scene.Fit) { // one moved by hand may stick out below
		low = math.Min(low, x.scene.Fit.Pose.Origin.Z-x.scene.Fit.Solid.BackDepth())
	}
	v := x.c.View()
	cols, rows := x.c.Size()
	_, lowest := v.Cell(cols, rows, geometry.Vec2{Y: low})
	below := v.At(cols, rows, 0, int(math.Floor(lowest))+1).Y // the first row free of the base
	every := math.Max(v.GridStep(), 7*v.MMPerCell)            // a figure takes five cells
	for _, s := range x.spans {
		if (s.to-s.from)/every > 1000 {
			continue
		}
		const hair = 1e-6 // mm: a figure at the very end is not lost to rounding
		for t := math.Ceil((s.from-hair)/every) * every; t <= s.to+hair; t += every {
			if a, b := x.heights(t); b > a {
				x.add(label{text: strconv.FormatFloat(b-a, 'f', 1, 64), class: canvas.Reading, matters: figureMatters,
					near: []geometry.Vec2{{X: t, Y: below}}, only: true})
			}
		}
	}
}

// names asks for a place for the name of each thing in the section, inside it.
func (x *slicer) names() {
	type heightsOf = func(low, high float64) (from, to float64)
	write := func(id string, outline []geometry.Vec2, class canvas.Class, heights heightsOf) {
		for _, s := range both(x.spans, x.cut.through(outline)) {
			t := (s.from + s.to) / 2
			from, to := heights(x.heights(t))
			if !(from < to) {
				continue
			}
			w := x.scene.name(id, class, markMatters, []geometry.Vec2{{X: t, Y: (from + to) / 2}}, true)
			slack := x.c.View().MMPerCell * canvas.CellAspect / 2
			w.within = func(p geometry.Vec2) bool {
				from, to := heights(x.heights(p.X))
				return x.holds(p.X, p.Y) && p.Y > from-slack && p.Y < to+slack
			}
			x.add(w)
		}
	}
	for _, z := range x.scene.Stone.Colour {
		write(z.ID, z.Outline, canvas.Colour, func(low, high float64) (float64, float64) {
			return zoneHeights(z, unknownDepth, low, high)
		})
	}
	for _, p := range x.scene.Stone.Pockets {
		write(p.ID, p.Outline, canvas.Pocket, func(low, high float64) (float64, float64) {
			return pocketHeights(p, likely, low, high)
		})
	}
	if n := len(x.spans); n > 0 && !x.scene.Bare {
		_, high := x.rough.Heights()
		gap := 2 * x.c.View().MMPerCell
		from, to := x.spans[0].from, x.spans[n-1].to
		x.add(
			label{
				text:    "A",
				class:   canvas.CutLine,
				matters: endMatters,
				near:    []geometry.Vec2{{X: from - gap, Y: high}, {X: from, Y: high}},
				over:    true,
			},
		)
		x.add(
			label{
				text:    "B",
				class:   canvas.CutLine,
				matters: endMatters,
				near:    []geometry.Vec2{{X: to + gap, Y: high}, {X: to, Y: high}},
				over:    true,
			},
		)
	}
}
