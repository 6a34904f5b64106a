package drawing

import (
	"math"

	"cabwright/geometry"
	"cabwright/planner"
	"cabwright/planner/search"
	"cabwright/ui/canvas"
	"cabwright/ui/style"
)

// paintPlan paints the ground under a plan: the rough's face with its relief,
// zones, pockets, what a crack's sheet lies under, the fits, and the offcuts.
func paintPlan(c *canvas.Canvas, s Scene) {
	if !s.painted(c) {
		return
	}
	g := newGround(c, *s.Palette)
	stone := g.mask(s.Stone.Outline)
	light := g.rock(s, stone)
	g.zones(s, light)
	g.hollows(s)
	g.sheets(s)
	g.grooves(s)
	if drawable(s.Ghost) && !s.Palette.Flat {
		g.fit(s, s.Ghost, faintly)
	}
	for i := range s.Also {
		if drawable(&s.Also[i]) {
			g.kept(s, &s.Also[i])
			g.fit(s, &s.Also[i], fully)
		}
	}
	if drawable(s.Fit) {
		g.kept(s, s.Fit)
		g.fit(s, s.Fit, fully)
	}
	for _, k := range s.Saw {
		g.offcut(s, k)
	}
	g.paint()
}

// painted reports whether the ground is painted on a canvas.
func (s Scene) painted(c *canvas.Canvas) bool { return s.Palette != nil && c.Mode() != canvas.ASCII }

// bevel is how far from its edge, in mm, the rough is drawn rounded off.
const bevel = 0.9

// rock paints the rough's face and returns the light on it.
func (g *ground) rock(s Scene, stone *mask) []float32 {
	p := g.palette
	light := make([]float32, len(g.cover))
	if len(stone.share) == 0 {
		return light
	}
	var net *lit
	if s.Rough != nil {
		height := s.Rough.Top
		if s.face() == planner.Base {
			height = func(x, y float64) float64 { return -s.Rough.Base(x, y) }
		}
		net = g.relief(stone, func(q geometry.Vec2) float64 { return height(q.X, q.Y) })
	}
	edge := rounded(math.Max(1.2, bevel/g.size()))
	for y := stone.y0; y < stone.y1; y++ {
		for x := stone.x0; x < stone.x1; x++ {
			share := stone.at(x, y)
			if share <= 0 {
				continue
			}
			i := y*g.w + x
			l := float32(lambert(0, 0))
			if net != nil {
				l = net.at(stone, x, y)
			}
			l += 0.2 * edge.at(stone, x, y)
			light[i] = max(0, l)
			g.cover[i], g.what[i] = share, canvas.Rock
			g.colour[i] = p.Rock.Lit(p.Ambient + (1-p.Ambient)*1.1*light[i])
		}
	}
	return light
}

// zones paints the colour seen on the face looked at, stronger by its grade.
func (g *ground) zones(s Scene, light []float32) {
	p := g.palette
	for _, z := range s.Stone.Colour {
		if z.Face != s.face() {
			continue
		}
		strong := playShare(z.Grade)
		m := g.mask(z.Outline)
		g.each(m, func(i, _, _ int, share float32) {
			glow := p.Play.Lit(p.Ambient + (1-p.Ambient)*1.25*light[i] + 0.08)
			g.colour[i] = g.colour[i].Mix(glow, strong*share)
			g.set(i, canvas.Play, share)
		})
	}
}

// playShare is how much of a zone's colour covers the rock, by its grade of 0 to 5.
func playShare(grade float64) float32 { return float32(0.16 + 0.135*math.Max(0, math.Min(5, grade))) }

// hollows paints the pockets that open on the face looked at, sunk in.
func (g *ground) hollows(s Scene) {
	edge := rounded(math.Max(1, 0.6/g.size()))
	for _, k := range s.Stone.Pockets {
		if k.Face != s.face() && k.Face != planner.Through {
			continue
		}
		m := g.mask(k.Outline)
		g.each(m, func(i, x, y int, share float32) {
			// What turns to the light on a hill lies in the shade in a hollow.
			sunk := g.palette.Hollow.Lit(0.9 - 0.3*edge.at(m, x, y))
			g.colour[i] = g.colour[i].Mix(sunk, 0.85*share)
			g.set(i, canvas.Hollow, share)
		})
	}
}

// grooves darkens the rock along the cracks, so that they lie in it and not on it.
func (g *ground) grooves(s Scene) {
	wide := math.Max(0.22, 0.8*g.size())
	for _, k := range s.Stone.Cracks {
		deep := float32(0.55)
		if k.Face != s.face() {
			deep = 0.3
		}
		path := extended(k)
		for i := 1; i < len(path); i++ {
			off := outward(path[i-1], path[i]).Scale(wide)
			m := g.mask([]geometry.Vec2{path[i-1].Add(off), path[i].Add(off), path[i].Sub(off), path[i-1].Sub(off)})
			g.each(m, func(j, _, _ int, share float32) {
				g.colour[j] = g.colour[j].Mix(g.palette.Shade, deep*share)
			})
		}
	}
}

// kept shades the room that a fit keeps free about itself.
func (g *ground) kept(s Scene, f *search.Fit) {
	if g.palette.Flat {
		return
	}
	girdle := flat(ring(f, 1, 0))
	within := g.mask(girdle)
	g.each(g.mask(offset(girdle, kept(s))), func(i, x, y int, share float32) {
		g.colour[i] = g.colour[i].Mix(g.palette.Shade, 0.42*max(0, share-within.at(x, y)))
	})
}

// sheets tints the rock under which a leaning crack runs.
func (g *ground) sheets(s Scene) {
	if s.Rough == nil {
		return
	}
	for _, k := range s.Stone.Cracks {
		if k.Lean <= 0 || len(k.Path) < 2 {
			continue
		}
		path, edge := extended(k), lowerEdge(s.Rough, k)
		for i := 1; i < len(path) && i < len(edge); i++ {
			m := g.mask([]geometry.Vec2{path[i-1], path[i], edge[i], edge[i-1]})
			g.each(m, func(j, _, _ int, share float32) {
				g.colour[j] = g.colour[j].Mix(g.palette.Crack, 0.1*share)
			})
		}
	}
}

// strength is how much of what lies below a fit shows through it.
type strength struct {
	body, light, gloss float32
	what               canvas.Material
}

var (
	fully   = strength{0.5, 1, 1, canvas.Finished}
	faintly = strength{0.2, 0.45, 0.15, canvas.Ghost}
)

// fit paints a fit lit by its own shape, and red where it breaks an allowance.
func (g *ground) fit(s Scene, f *search.Fit, how strength) {
	var tooNear func(geometry.Vec3) float64
	if how == fully && f.Clearance < 0 && s.Rough != nil {
		near := newObstacles(s.Rough, s.Stone)
		tooNear = near.breach
	}
	p := g.palette
	projected := g.project(g.skin(f, s.face(), tooNear))
	for y := projected.y0; y < projected.y1; y++ {
		for x := projected.x0; x < projected.x1; x++ {
			k, i := (y-projected.y0)*(projected.x1-projected.x0)+x-projected.x0, y*g.w+x
			v := projected.at[k]
			if math.IsInf(projected.z[k], -1) {
				continue
			}
			if g.cover[i] <= 0 { // it sticks out of the stone
				g.cover[i], g.colour[i] = 1, p.Beyond
			}
			own := p.Finished
			if projected.what[k] == canvas.Back {
				own = p.Back
			}
			g.colour[i] = g.polished(g.colour[i], own, v, how)
			g.what[i] = how.what
			if v.breach > 0 {
				g.colour[i] = g.colour[i].Mix(p.Breach, 0.55+0.4*min(1, v.breach))
				g.what[i] = canvas.Breach
			}
		}
	}
}

// polished returns the colour of a polished face: some of what lies below seen
// through it, lit and shining.
func (g *ground) polished(below, own style.RGB, v skinned, how strength) style.RGB {
	p := g.palette
	body := below.Mix(own, how.body)
	// Light that went through comes out again on the side away from it.
	through := (1 - v.light) * (1 - v.light) * 0.12
	light := p.Ambient + 0.16 + (1-p.Ambient)*0.95*v.light + through
	return body.Lit(1 + (light-1)*how.light).Plus(p.Gloss * v.gloss * how.gloss)
}

// offcut dims what a saw cut takes off.
func (g *ground) offcut(s Scene, k SawCut) {
	if !k.Offcut {
		return
	}
	for i, cover := range g.cover {
		if cover <= 0 {
			continue
		}
		q := g.middle(i%g.w, i/g.w)
		if k.beyond(s.onFace(q)) {
			g.colour[i] = g.colour[i].Mix(g.palette.Offcut, 0.68)
			g.what[i] = canvas.Offcut
		}
	}
}
