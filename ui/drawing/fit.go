package drawing

import (
	"math"

	"cabwright/geometry"
	"cabwright/planner/search"
	"cabwright/ui/canvas"
)

// directions is how many points a drawn outline has at least: on a 30 mm stone
// a chord is then within 0.01 mm of the curve, far under a dot.
const directions = 120

// drawable reports whether there is a fit with an outline to draw.
func drawable(f *search.Fit) bool {
	return f != nil && f.Solid.Outline.Shape != "" && f.Solid.Outline.Length > 0
}

// ring returns the points of the fit at gauge rho and height w, in the rough.
func ring(f *search.Fit, rho, w float64) []geometry.Vec3 {
	pts := f.Solid.Outline.Points(directions)
	out := make([]geometry.Vec3, len(pts))
	for i, p := range pts {
		out[i] = f.Pose.Place(geometry.Vec3{X: rho * p.X, Y: rho * p.Y, Z: w})
	}
	return out
}

// flat returns points seen from above.
func flat(pts []geometry.Vec3) []geometry.Vec2 {
	out := make([]geometry.Vec2, len(pts))
	for i, p := range pts {
		out[i] = p.XY()
	}
	return out
}

// fitPlan draws the fit from above: girdle, dome rim, the ring that its skin
// allowance keeps free, the length axis, and where the skin is nearest.
func fitPlan(c *canvas.Canvas, s Scene) {
	f := s.Fit
	if !drawable(f) {
		return
	}
	girdle := flat(ring(f, 1, 0))
	allowance(c, s, girdle)
	// A rim less than a cell inside the girdle would only thicken its line.
	if r := f.Solid.RimRatio(); r > 0 && (1-r)*f.Solid.Outline.Width/2 > c.View().MMPerCell {
		c.Polyline(flat(ring(f, r, f.Solid.Wall)), true, canvas.Pen{Class: canvas.Dome, Stroke: canvas.Dotted})
	}
	c.Polyline(girdle, true, canvas.Pen{Class: canvas.Girdle, Stroke: s.fitStroke(c)})
}

// limitMark marks where the fit's skin is nearest to the outside, if that limits
// it, and the top of its dome where the ground does not show it.
func limitMark(c *canvas.Canvas, s Scene) {
	f := s.Fit
	if !drawable(f) {
		return
	}
	if !s.painted(c) {
		top := f.Pose.Place(geometry.Vec3{Z: f.Solid.Wall + f.Solid.Dome})
		c.Put(top.XY(), canvas.CentreMark, canvas.Girdle)
	}
	if s.limits("skin") && s.Rough != nil {
		if t := s.Nearest.Of(s.Rough, s.Stone, f); t.Where != "" {
			c.Put(t.At.XY(), canvas.LimitMark, canvas.Limit)
		}
	}
}

// fitStroke is how a fit's edge is drawn: without a painted ground heavier than
// the rough's, so that the two are told apart.
func (s Scene) fitStroke(c *canvas.Canvas) canvas.Stroke {
	if s.painted(c) {
		return canvas.Solid
	}
	return canvas.Heavy
}

// kept returns the distance that the ring about a fit shows: the allowance of
// what limits it, or the skin's, which every fit keeps.
func kept(s Scene) float64 {
	a := s.Stone.Allowances
	widest := 0.0
	for _, k := range s.Stone.Cracks {
		if s.limits(k.ID) && k.Sealed {
			widest = math.Max(widest, a.SealedCrack)
		} else if s.limits(k.ID) {
			widest = math.Max(widest, a.Crack)
		}
	}
	for _, p := range s.Stone.Pockets {
		if s.limits(p.ID) {
			widest = math.Max(widest, a.Pocket)
		}
	}
	if widest == 0 || s.limits("skin") {
		return a.Skin
	}
	return widest
}

// allowance draws about a closed curve of the fit the distance it keeps.
func allowance(c *canvas.Canvas, s Scene, curve []geometry.Vec2) {
	if d := kept(s); d > 0 {
		c.Polyline(offset(curve, d), true, canvas.Pen{Class: canvas.Allowance, Stroke: canvas.Dotted})
	}
}

// offset returns the curve that runs d mm outside a closed curve given
// counter-clockwise, round about its sharp corners. In a cleft narrower than d
// it crosses itself.
func offset(pts []geometry.Vec2, d float64) []geometry.Vec2 {
	pts = geometry.CounterClockwise(pts)
	n := len(pts)
	out := make([]geometry.Vec2, 0, n+16)
	for i, p := range pts {
		before, after := outward(pts[(i+n-1)%n], p), outward(p, pts[(i+1)%n])
		turn := math.Atan2(before.Cross(after), before.Dot(after))
		// One more point for every 15 degrees keeps the arc within a
		// hundredth of d.
		parts := int(math.Max(0, math.Ceil(turn/(math.Pi/12))))
		for k := 0; k <= parts; k++ {
			a := turn / 2
			if parts > 0 {
				a = turn * float64(k) / float64(parts)
			}
			sin, cos := math.Sincos(a)
			out = append(out, p.Add(geometry.Vec2{X: before.X*cos - before.Y*sin, Y: before.X*sin + before.Y*cos}.Scale(d)))
		}
	}
	return out
}

// outward returns the unit vector to the right of the way from a to b.
func outward(a, b geometry.Vec2) geometry.Vec2 {
	d := b.Sub(a)
	if l := d.Norm(); l > 0 {
		return geometry.Vec2{X: d.Y / l, Y: -d.X / l}
	}
	return geometry.Vec2{X: 1}
}
