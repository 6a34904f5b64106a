package sheet

import (
	"fmt"
	"math"
	"strconv"

	"cabwright/geometry"
	"cabwright/planner"
	"cabwright/planner/cuts"
)

// section is a cut through rough and stone along an upright plane: s mm along a
// direction from the stone's origin, at height z.
type section struct {
	c     *Content
	fit   cuts.Placed
	along geometry.Vec2 // unit vector in plan
	out   []item
	taken []geometry.Vec2 // places of the cuts' numbers
}

// sections are those along the length and the width of a stone.
func (c *Content) sections(f cuts.Placed, name string) []block {
	return []block{
		c.section(f, f.Pose.Axes.U, geometry.Vec3{X: 1}, "Section along the length of "+name),
		c.section(f, f.Pose.Axes.V, geometry.Vec3{Y: 1}, "Section along the width of "+name),
	}
}

func (c *Content) section(f cuts.Placed, axis, local geometry.Vec3, title string) block {
	x := &section{c: c, fit: f, along: unit(axis.XY())}
	low, high := x.rough()
	x.cracks()
	x.stone(local)
	x.cuts(low.Sub(at(1.5, 1.5)), high.Add(at(1.5, 1.5)))
	top := high.Y + 4
	for _, q := range x.taken {
		top = math.Max(top, q.Y+2.5)
	}
	return drawn(title, low.Sub(at(4, 3)), at(high.X+4, top), x.out)
}

// plan is the place s mm along the section.
func (x *section) plan(s float64) geometry.Vec2 {
	return x.fit.Pose.Origin.XY().Add(x.along.Scale(s))
}

// rough draws the rough's own section and returns its bounds.
func (x *section) rough() (low, high geometry.Vec2) {
	rough := x.c.Body.Rough
	lo, hi := geometry.Bounds(rough.Outline)
	far := hi.Sub(lo).Norm()
	var all, top, base []geometry.Vec2
	finish := func() {
		if len(top) > 1 {
			ring := append([]geometry.Vec2(nil), top...)
			for i := len(base) - 1; i >= 0; i-- {
				ring = append(ring, base[i])
			}
			x.out = append(x.out, polygon(ring, rimPen))
			all = append(all, ring...)
		}
		top, base = nil, nil
	}
	const step = 0.1
	for s := -far; s <= far; s += step {
		p := x.plan(s)
		t, b := rough.Top(p.X, p.Y), rough.Base(p.X, p.Y)
		if !geometry.InPolygon(rough.Outline, p) || t <= b {
			finish()
			continue
		}
		top, base = append(top, at(s, t)), append(base, at(s, b))
	}
	finish()
	return geometry.Bounds(all)
}

// stone draws the finished stone's profile over one of its axes.
func (x *section) stone(local geometry.Vec3) {
	solid := x.fit.Solid
	reach := func(sign float64) float64 { return solid.Outline.Radius(math.Atan2(sign*local.Y, sign*local.X)) }
	place := func(rho, sign, w float64) geometry.Vec2 {
		r := rho * sign * reach(sign)
		p := x.fit.Pose.Place(geometry.Vec3{X: r * local.X, Y: r * local.Y, Z: w})
		return at(p.XY().Sub(x.fit.Pose.Origin.XY()).Dot(x.along), p.Z)
	}
	var ring []geometry.Vec2
	const parts = 40
	upper := func(sign float64, k int) {
		// Evenly in the angle at which the dome is round, then the wall.
		sin, cos := math.Sincos(float64(k) / parts * math.Pi / 2)
		ring = append(ring, place(solid.RimRatio()*sin, sign, solid.Wall+solid.Dome*cos))
	}
	lower := func(sign float64, k int) {
		rho := math.Sin(float64(k) / parts * math.Pi / 2)
		ring = append(ring, place(rho, sign, solid.Lower(rho)))
	}
	for k := 0; k <= parts; k++ {
		upper(1, k)
	}
	for k := parts; k >= 0; k-- {
		lower(1, k)
	}
	for k := 0; k <= parts; k++ {
		lower(-1, k)
	}
	for k := parts; k >= 0; k-- {
		upper(-1, k)
	}
	shape := polygon(ring, stonePen)
	x.out = append(x.out, shape, line(place(1.15, -1, 0), place(1.15, 1, 0), centrePen))
	top := place(0, 1, solid.Wall+solid.Dome)
	middle := top.Add(place(0, 1, -solid.BackDepth())).Scale(0.5)
	x.out = append(x.out, label(middle, 2.4, fmt.Sprintf("%.1f high", solid.Height()), false)...)
}

// cuts draws where the cuts run through the section, as wide as they are there,
// within a box around the rough.
func (x *section) cuts(low, high geometry.Vec2) {
	origin := x.fit.Pose.Origin
	for i, c := range x.c.Layout.Steps {
		n := at(c.Normal.X*x.along.X+c.Normal.Y*x.along.Y, c.Normal.Z)
		if n.Norm() < 0.3 {
			continue // it runs beside the section
		}
		from := c.Normal.Dot(c.Point) - c.Normal.X*origin.X - c.Normal.Y*origin.Y
		across := unit(n)
		foot, down := across.Scale(from/n.Norm()), at(-across.Y, across.X)
		half := across.Scale(c.Kerf / 2 / n.Norm())
		a, b, ok := inBox(foot, down, low, high)
		if !ok {
			continue // it passes the rough by
		}
		for _, side := range []geometry.Vec2{half, half.Scale(-1)} {
			x.out = append(x.out, line(a.Add(side), b.Add(side), cutPen))
		}
		if b.Y > a.Y {
			a = b
		}
		number := a.Add(at(0, 2))
		for x.hidden(number) {
			number.Y += 4.2
		}
		x.taken = append(x.taken, number)
		x.out = append(x.out, circled(number, strconv.Itoa(i+1))...)
	}
}

// hidden tells whether a number stands there already.
func (x *section) hidden(p geometry.Vec2) bool {
	for _, q := range x.taken {
		if q.Sub(p).Norm() < 4.1 {
			return true
		}
	}
	return false
}

// inBox returns the part of a line through a foot that lies in a box.
func inBox(foot, along, low, high geometry.Vec2) (a, b geometry.Vec2, ok bool) {
	from, to := math.Inf(-1), math.Inf(1)
	for _, axis := range [2][4]float64{{foot.X, along.X, low.X, high.X}, {foot.Y, along.Y, low.Y, high.Y}} {
		at, rise := axis[0], axis[1]
		if math.Abs(rise) < 1e-9 {
			if at < axis[2] || at > axis[3] {
				return a, b, false
			}
			continue
		}
		t0, t1 := (axis[2]-at)/rise, (axis[3]-at)/rise
		from, to = math.Max(from, math.Min(t0, t1)), math.Min(to, math.Max(t0, t1))
	}
	return foot.Add(along.Scale(from)), foot.Add(along.Scale(to)), from < to
}

// cracks draws where their sheets meet the section: at each depth the crack's
// line, moved on by its lean, crosses it somewhere.
func (x *section) cracks() {
	low, high := x.c.Body.Rough.Heights()
	for _, k := range x.c.Body.Stone.Cracks {
		p := crackPen
		if k.Sealed {
			p = sealedPen
		}
		depth := k.Depth
		if k.Through {
			depth = high - low
		}
		s, c := math.Sincos(k.Toward * math.Pi / 180)
		lean := at(c, s).Scale(math.Tan(k.Lean * math.Pi / 180))
		path := planner.RunOn(k.Path, k.RunOn)
		named := false
		for i := 0; i+1 < len(path); i++ {
			for _, met := range x.met(k, path[i], path[i+1], lean, depth) {
				x.out = append(x.out, lines(met, p))
				if !named {
					out := met[0].Add(at(0, 1.6)) // away from the stone
					if k.Face == planner.Base {
						out = met[0].Add(at(0, -1.6))
					}
					x.out = append(x.out, label(out, 2.2, planner.Visible(k.ID), true)...)
					named = true
				}
			}
		}
	}
}

// met returns where the sheet of a crack below one straight piece a to b of its path
// meets the section inside the rough, as lines in the section's plane.
func (x *section) met(k planner.Crack, a, b, lean geometry.Vec2, depth float64) (out [][]geometry.Vec2) {
	rough, origin := x.c.Body.Rough, x.fit.Pose.Origin.XY()
	side := func(p geometry.Vec2) float64 { return x.along.Cross(p.Sub(origin)) }
	inside := func(p geometry.Vec2, z float64) bool {
		return geometry.InPolygon(rough.Outline, p) && z <= rough.Top(p.X, p.Y)+1e-6 && z >= rough.Base(p.X, p.Y)-1e-6
	}
	down := -1.0
	if k.Face == planner.Base {
		down = 1
	}
	var line []geometry.Vec2
	end := func() {
		if len(line) > 1 {
			out = append(out, line)
		}
		line = nil
	}
	for d := 0.0; d <= depth; d += 0.1 {
		from, to := side(a.Add(lean.Scale(d))), side(b.Add(lean.Scale(d)))
		if (from > 0) == (to > 0) {
			end()
			continue
		}
		start := a.Add(b.Sub(a).Scale(from / (from - to)))
		here := start.Add(lean.Scale(d))
		z := rough.Height(k.Face, start.X, start.Y) + down*d
		if !inside(here, z) {
			end()
			continue
		}
		line = append(line, at(here.Sub(origin).Dot(x.along), z))
	}
	end()
	return out
}
