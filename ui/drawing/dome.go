package drawing

import (
	"math"

	"cabwright/geometry"
	"cabwright/planner"
	"cabwright/planner/search"
	"cabwright/ui/canvas"
)

// spokes is how many directions a fit's skin is cut into: between two of them
// the curve of a 30 mm stone strays by 0.03 mm, less than a dot.
const spokes = 96

// skinned is one point of a fit's skin as the eye sees it.
type skinned struct {
	x, y, z float64 // half cells right and down, mm towards the eye
	light   float32 // falling on it, 0 to 1
	gloss   float32 // thrown back by it, 0 to 1
	breach  float32 // how far, in mm, it lies nearer to something than it may
}

// net is a part of a fit's skin: rings of spokes points each, from the middle out.
type net struct {
	rings [][]skinned
	what  canvas.Material
}

// skin returns the skin of a fit as nets. tooNear, which may be nil, says by how
// much a point of the rough lies nearer to something than it may.
func (g *ground) skin(f *search.Fit, face planner.Face, tooNear func(geometry.Vec3) float64) []net {
	body := f.Solid
	rim := math.Max(0, body.RimRatio())
	upper := make([][2]float64, 0, 16) // gauge and height
	const arcs = 9
	for i := 0; i <= arcs; i++ {
		s, c := math.Sincos(float64(i) / arcs * math.Pi / 2)
		upper = append(upper, [2]float64{rim * s, body.Wall + body.Dome*c})
	}
	wall := [][2]float64{{rim, body.Wall}, {(1 + rim) / 2, body.Wall / 2}, {1, 0}}
	lower := make([][2]float64, 0, 8)
	for i := 0; i <= 5; i++ {
		s, c := math.Sincos(float64(i) / 5 * math.Pi / 2)
		lower = append(lower, [2]float64{s, -body.BackDepth() * c})
	}
	return []net{
		g.net(f, face, upper, canvas.Finished, 1, tooNear),
		g.net(f, face, wall, canvas.Finished, 1, tooNear),
		g.net(f, face, lower, canvas.Back, -1, tooNear),
	}
}

// net places one part of the skin, given as gauges and heights, and lights it.
// side is 1 where its normals point along the dome's axis, -1 on the back.
func (g *ground) net(
	f *search.Fit,
	face planner.Face,
	at [][2]float64,
	what canvas.Material,
	side float64,
	tooNear func(geometry.Vec3) float64,
) net {
	out := net{rings: make([][]skinned, len(at)), what: what}
	toward := 1.0
	if face == planner.Base {
		toward = -1
	}
	edge := make([]geometry.Vec2, spokes)
	for k := range edge {
		sin, cos := math.Sincos(2 * math.Pi * float64(k) / spokes)
		r := f.Solid.Outline.Radius(2 * math.Pi * float64(k) / spokes)
		edge[k] = geometry.Vec2{X: r * cos, Y: r * sin}
	}
	place := func(i, k int) geometry.Vec3 {
		p := edge[(k+spokes)%spokes]
		return geometry.Vec3{X: at[i][0] * p.X, Y: at[i][0] * p.Y, Z: at[i][1]}
	}
	mirror := 1.0
	if g.c.View().Mirror {
		mirror = -1
	}
	for i := range at {
		out.rings[i] = make([]skinned, spokes)
		for k := range edge {
			p := f.Pose.Place(place(i, k))
			n := f.Pose.Axes.Apply(normal(place, i, k, len(at)).Scale(side))
			n = geometry.Vec3{X: n.X * mirror, Y: n.Y, Z: n.Z * toward}
			v := skinned{z: p.Z * toward}
			v.x, v.y = g.half(p.XY())
			v.light = float32(math.Max(0, n.Dot(sun)))
			v.gloss = float32(math.Pow(math.Max(0, n.Dot(half)), shine))
			if tooNear != nil {
				v.breach = float32(tooNear(p))
			}
			out.rings[i][k] = v
		}
	}
	return out
}

// shine says how small a polished dome's highlight is: the exponent of Blinn's
// reflection, chosen by eye.
const shine = 28

// normal returns the unit normal of a net, on the side of its axis, from the
// places of its neighbours.
func normal(place func(i, k int) geometry.Vec3, i, k, rings int) geometry.Vec3 {
	in, out := max(0, i-1), min(rings-1, i+1)
	around := place(i, k+1).Sub(place(i, k-1))
	along := place(out, k).Sub(place(in, k))
	n := along.Cross(around)
	if n.Norm() < 1e-12 { // the middle: all spokes meet
		return geometry.Vec3{Z: 1}
	}
	return unit(n)
}

// seen is what the eye sees of a fit in each half cell of a rectangle.
type seen struct {
	x0, y0, x1, y1 int
	z              []float64 // mm towards the eye; -Inf where nothing is seen
	at             []skinned
	what           []canvas.Material
}

// project returns what the eye sees of nets of skin.
func (g *ground) project(nets []net) *seen {
	s := &seen{x0: g.w, y0: g.h}
	for _, n := range nets {
		for _, ring := range n.rings {
			for _, v := range ring {
				if !(math.Abs(v.x) < farthest && math.Abs(v.y) < farthest) {
					return &seen{}
				}
				s.x0, s.y0 = min(s.x0, int(math.Floor(v.x))), min(s.y0, int(math.Floor(v.y)))
				s.x1, s.y1 = max(s.x1, int(math.Ceil(v.x))), max(s.y1, int(math.Ceil(v.y)))
			}
		}
	}
	s.x0, s.y0, s.x1, s.y1 = max(0, s.x0), max(0, s.y0), min(g.w, s.x1), min(g.h, s.y1)
	if s.x0 >= s.x1 || s.y0 >= s.y1 {
		return &seen{}
	}
	n := (s.x1 - s.x0) * (s.y1 - s.y0)
	s.z, s.at, s.what = make([]float64, n), make([]skinned, n), make([]canvas.Material, n)
	for i := range s.z {
		s.z[i] = math.Inf(-1)
	}
	for _, n := range nets {
		for i := 1; i < len(n.rings); i++ {
			for k := range n.rings[i] {
				a, b := &n.rings[i-1][k], &n.rings[i-1][(k+1)%spokes]
				c, d := &n.rings[i][k], &n.rings[i][(k+1)%spokes]
				s.triangle(a, c, d, n.what)
				s.triangle(a, d, b, n.what)
			}
		}
	}
	return s
}

// triangle draws a piece of skin where it lies before what is there already.
func (s *seen) triangle(a, b, c *skinned, what canvas.Material) {
	area := (b.x-a.x)*(c.y-a.y) - (b.y-a.y)*(c.x-a.x)
	if area == 0 {
		return
	}
	x0, x1 := max(s.x0, int(math.Floor(min(a.x, b.x, c.x)-0.5))), min(s.x1-1, int(math.Ceil(max(a.x, b.x, c.x)-0.5)))
	y0, y1 := max(s.y0, int(math.Floor(min(a.y, b.y, c.y)-0.5))), min(s.y1-1, int(math.Ceil(max(a.y, b.y, c.y)-0.5)))
	// Shares of b and c in a point, which grow evenly along a row.
	du, dv := (c.y-a.y)/area, (a.y-b.y)/area
	const slack = 1e-9 // so that no half cell falls between two triangles
	for y := y0; y <= y1; y++ {
		px, py := float64(x0)+0.5-a.x, float64(y)+0.5-a.y
		u, v := px*du-py*(c.x-a.x)/area, px*dv+py*(b.x-a.x)/area
		row := (y - s.y0) * (s.x1 - s.x0)
		for x := x0; x <= x1; x, u, v = x+1, u+du, v+dv {
			if u >= -slack && v >= -slack && u+v <= 1+slack {
				s.see(row+x-s.x0, a, b, c, u, v, what)
			}
		}
	}
}

// see puts a point of a triangle, given by its shares of b and c, before what is
// seen in half cell i, if it is nearer. A breach shows through what is before it.
func (s *seen) see(i int, a, b, c *skinned, u, v float64, what canvas.Material) {
	fu, fv := float32(u), float32(v)
	at := &s.at[i]
	worst := max(a.breach+fu*(b.breach-a.breach)+fv*(c.breach-a.breach), at.breach)
	if z := a.z + u*(b.z-a.z) + v*(c.z-a.z); z > s.z[i] {
		s.z[i], s.what[i] = z, what
		at.light = a.light + fu*(b.light-a.light) + fv*(c.light-a.light)
		at.gloss = a.gloss + fu*(b.gloss-a.gloss) + fv*(c.gloss-a.gloss)
	}
	at.breach = worst
}
