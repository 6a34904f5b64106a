package drawing

import (
	"strconv"

	"cabwright/geometry"
	"cabwright/planner"
	"cabwright/ui/canvas"
)

// Plan draws the scene in plan on c, whose view is set already. What matters
// most is drawn last.
func Plan(c *canvas.Canvas, s Scene) {
	if !s.Bare {
		c.Grid(canvas.Grid)
	}
	zones(c, s)
	pockets(c, s)
	c.Polyline(s.Stone.Outline, true, canvas.Pen{Class: canvas.Edge})
	cracks(c, s)
	if s.Readings {
		readings(c, s)
	}
	if s.Fit != nil {
		fitPlan(c, s)
	}
	if s.Names {
		names(c, s)
	}
	if s.Corners {
		for i, p := range s.Stone.Outline {
			c.Put(p, canvas.CornerMark, canvas.Corner)
			if s.Names {
				c.Label(p, strconv.Itoa(i+1), canvas.FromLeft, 1, canvas.Label)
			}
		}
	}
	if !s.Bare {
		c.ScaleBar(canvas.Scale)
	}
}

// zones draws the colour seen on the face looked at.
func zones(c *canvas.Canvas, s Scene) {
	for _, z := range s.Stone.Colour {
		if z.Face != s.face() {
			continue
		}
		if !s.Bare {
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
		c.Fill(p.Outline, canvas.Rising, class)
		c.Polyline(p.Outline, true, canvas.Pen{Class: class})
	}
}

// cracks draws each crack's path dashed on its own face and dotted on the
// other, its run-on dotted, and dotted where its sheet ends deep in the stone.
func cracks(c *canvas.Canvas, s Scene) {
	for _, k := range s.Stone.Cracks {
		own := canvas.Crack
		if k.Sealed {
			own = canvas.Sealed
		}
		class := s.class(k.ID, own)
		stroke := canvas.Dotted
		if k.Face == s.face() {
			stroke = canvas.Dashed
		}
		c.Polyline(k.Path, false, canvas.Pen{Class: class, Stroke: stroke})
		further := s.class(k.ID, canvas.RunOn)
		if before, after, ok := runOns(k); ok {
			c.Line(k.Path[0], before, canvas.Pen{Class: further, Stroke: canvas.Dotted})
			c.Line(k.Path[len(k.Path)-1], after, canvas.Pen{Class: further, Stroke: canvas.Dotted})
		}
		if s.Rough != nil && k.Lean > 0 {
			c.Polyline(lowerEdge(s.Rough, k), false, canvas.Pen{Class: further, Stroke: canvas.Dotted})
		}
	}
}

func readings(c *canvas.Canvas, s Scene) {
	list := s.Stone.Top
	if s.face() == planner.Base {
		list = s.Stone.Base
	}
	for _, r := range list {
		c.Put(r.XY(), canvas.ReadingMark, canvas.Reading)
		c.Label(r.XY(), strconv.FormatFloat(r.Z, 'f', 1, 64), canvas.FromLeft, 1, canvas.Reading)
	}
}

// names writes each mark's id where it starts.
func names(c *canvas.Canvas, s Scene) {
	for _, z := range s.Stone.Colour {
		if z.Face == s.face() && len(z.Outline) > 0 {
			c.Label(z.Outline[0], s.title(z.ID), canvas.FromLeft, 1, s.class(z.ID, canvas.Colour))
		}
	}
	for _, p := range s.Stone.Pockets {
		if len(p.Outline) > 0 {
			c.Label(middle(p.Outline), s.title(p.ID), canvas.Centred, 0, s.class(p.ID, canvas.Pocket))
		}
	}
	for _, k := range s.Stone.Cracks {
		if len(k.Path) > 0 {
			c.Label(k.Path[0], s.title(k.ID), canvas.FromLeft, 1, s.class(k.ID, canvas.Crack))
		}
	}
}

// middle returns the middle of the rectangle around pts.
func middle(pts []geometry.Vec2) geometry.Vec2 {
	lo, hi := geometry.Bounds(pts)
	return lo.Add(hi.Sub(lo).Scale(0.5))
}
