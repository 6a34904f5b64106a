package drawing

import (
	"math"

	"cabwright/geometry"
	"cabwright/planner/search"
	"cabwright/ui/canvas"
	"cabwright/ui/style"
)

// paint fills a section: rock, colour to its depth, pockets, the fits, what is
// cut off, and red where a fit breaks an allowance.
func (x *slicer) paint() {
	g := newGround(x.c, *x.scene.Palette)
	cols := x.columns(g)
	x.paintRock(g, cols)
	x.paintZones(g, cols)
	x.paintHollows(g, cols)
	for i := range x.scene.Also {
		x.paintFit(g, cols, &x.scene.Also[i])
	}
	x.paintFit(g, cols, x.scene.Fit)
	for _, k := range x.scene.Saw {
		x.paintOffcut(g, cols, k)
	}
	g.paint()
}

// column is one column of half cells of a section.
type column struct {
	t         float64 // mm from A
	at        geometry.Vec2
	low, high float64 // of the rough
	share     float32 // how much of the column's width is inside the outline
}

// columns looks at the rough once for each column of half cells.
func (x *slicer) columns(g *ground) []column {
	out := make([]column, g.w)
	size := g.size()
	for i := range out {
		k := &out[i]
		k.t = g.middle(i, 0).X
		k.at = x.cut.At(k.t)
		for _, s := range x.spans {
			k.share += float32(math.Max(0, math.Min(s.to, k.t+size/2)-math.Max(s.from, k.t-size/2)) / size)
		}
		if k.share > 0 {
			k.low, k.high = x.rough.Base(k.at.X, k.at.Y), x.rough.Top(k.at.X, k.at.Y)
		}
	}
	return out
}

// band calls f for the half cells of a column between two heights, with the
// share of each that lies between them.
func (g *ground) band(col int, low, high float64, f func(i int, z float64, share float32)) {
	if !(low < high) {
		return
	}
	size := g.size()
	_, top := g.half(geometry.Vec2{Y: high})
	_, bottom := g.half(geometry.Vec2{Y: low})
	if !(math.Abs(top) < farthest && math.Abs(bottom) < farthest) {
		return
	}
	for y := max(0, int(math.Floor(top))); y < g.h && float64(y) < bottom; y++ {
		share := math.Min(bottom, float64(y+1)) - math.Max(top, float64(y))
		z := high - (float64(y)+0.5-top)*size
		f(y*g.w+col, z, float32(math.Min(1, share)))
	}
}

// depthLight is the light at a depth below the upper edge of a section: as if it
// came from above and got a little way in, dying off much as exp(-x) does.
func depthLight(depth float64) float32 {
	x := float32(max(0, depth)) / 1.6
	return 0.75 + 0.4/(1+x+x*x/2)
}

func (x *slicer) paintRock(g *ground, cols []column) {
	rock := g.palette.Rock.Lit(g.palette.Ambient + (1-g.palette.Ambient)*0.55)
	for i, k := range cols {
		if k.share <= 0 {
			continue
		}
		g.band(i, k.low, k.high, func(at int, z float64, share float32) {
			g.cover[at], g.what[at] = share*k.share, canvas.Rock
			g.colour[at] = rock.Lit(depthLight(k.high - z))
		})
	}
}

// over mixes a colour into a band of a column, where there is stone.
func (g *ground) over(col int, low, high float64, what canvas.Material, colour style.RGB, strong float32) {
	g.band(col, low, high, func(i int, z float64, share float32) {
		if g.cover[i] > 0 {
			g.colour[i] = g.colour[i].Mix(colour.Lit(depthLight(high-z)), strong*share)
			g.set(i, what, share)
		}
	})
}

// unknownDepth is how deep, in mm, a zone is painted whose depth is not known: a
// skinDepth on the face.
const unknownDepth = 0.35

func (x *slicer) paintZones(g *ground, cols []column) {
	for _, z := range x.scene.Stone.Colour {
		spans := x.cut.through(z.Outline)
		skinDepth := math.Max(unknownDepth, g.size())
		for i, k := range cols {
			share := inSpans(spans, k.t) * k.share
			if share <= 0 {
				continue
			}
			low, high := zoneHeights(z, skinDepth, k.low, k.high)
			g.over(i, low, high, canvas.Play, g.palette.Play, playShare(z.Grade))
		}
	}
}

// inSpans is 1 where t lies in one of the spans.
func inSpans(spans []span, t float64) float32 {
	for _, s := range spans {
		if t >= s.from && t <= s.to {
			return 1
		}
	}
	return 0
}

func (x *slicer) paintHollows(g *ground, cols []column) {
	for _, p := range x.scene.Stone.Pockets {
		spans := x.cut.through(p.Outline)
		strong := func(e extent) float32 {
			if surePocket(p) && !doubtful(p.Chance) {
				return least.strength()
			}
			return e.strength()
		}
		for i, k := range cols {
			if inSpans(spans, k.t) > 0 && k.share > 0 {
				for _, e := range extents(surePocket(p)) {
					low, high := pocketHeights(p, e, k.low, k.high)
					g.over(i, low, high, canvas.Hollow, g.palette.Hollow.Lit(0.9), strong(e))
				}
			}
		}
	}
}

// paintFit fills a fit: its dome, wall and back in tones of their own.
func (x *slicer) paintFit(g *ground, cols []column, f *search.Fit) {
	if !drawable(f) {
		return
	}
	var near *obstacles
	if f.Clearance < 0 {
		near = newObstacles(x.rough, x.scene.Stone)
	}
	p := g.palette
	up := f.Pose.Axes.Transposed(geometry.Vec3{Z: 1})
	line := newPlumb(f)
	for i, k := range cols {
		low, high, ok := line.at(k.at)
		if !ok {
			continue
		}
		foot := f.Pose.Local(geometry.Vec3{X: k.at.X, Y: k.at.Y})
		g.band(i, low, high, func(at int, z float64, share float32) {
			if g.cover[at] <= 0 { // it sticks out of the stone
				g.cover[at], g.colour[at] = share, p.Beyond
			}
			own, what := p.Finished, canvas.Finished
			switch w := foot.Z + z*up.Z; {
			case w < 0:
				own, what = p.Back, canvas.Back
			case w < f.Solid.Wall:
				own, what = p.Wall, canvas.Wall
			}
			g.colour[at] = g.colour[at].Mix(own.Lit(depthLight(high-z)), 0.62*share)
			g.set(at, what, share)
		})
		if near != nil {
			x.paintBreach(g, i, near, k, low, high)
		}
	}
}

// breachDepth is how far into a fit, in mm, the red of a breach goes.
const breachDepth = 0.8

func (x *slicer) paintBreach(g *ground, col int, near *obstacles, k column, low, high float64) {
	red := func(from, to float64) {
		g.band(col, from, to, func(i int, _ float64, share float32) {
			if g.cover[i] > 0 {
				g.colour[i] = g.colour[i].Mix(g.palette.Breach, 0.85*share)
				g.set(i, canvas.Breach, share)
			}
		})
	}
	deep := math.Max(breachDepth, g.size())
	if near.breach(geometry.Vec3{X: k.at.X, Y: k.at.Y, Z: high}) > 0 {
		red(math.Max(low, high-deep), high)
	}
	if near.breach(geometry.Vec3{X: k.at.X, Y: k.at.Y, Z: low}) > 0 {
		red(low, math.Min(high, low+deep))
	}
}

func (x *slicer) paintOffcut(g *ground, cols []column, k SawCut) {
	if !k.Offcut {
		return
	}
	for i, c := range cols {
		if c.share <= 0 {
			continue
		}
		g.band(i, c.low, c.high, func(at int, z float64, _ float32) {
			if g.cover[at] > 0 && k.beyond(geometry.Vec3{X: c.at.X, Y: c.at.Y, Z: z}) {
				g.colour[at] = g.colour[at].Mix(g.palette.Offcut, 0.68)
				g.what[at] = canvas.Offcut
			}
		})
	}
}
