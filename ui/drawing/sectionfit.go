package drawing

import (
	"math"

	"cabwright/geometry"
	"cabwright/planner/search"
	"cabwright/ui/canvas"
)

// fit draws the cabochon's section, the ring about it, and its girdle when it has
// two sides.
func (x *slicer) fit() {
	for i := range x.scene.Also {
		for _, body := range sections(&x.scene.Also[i], x.cut, x.step) {
			x.c.Polyline(body.closed(), true, canvas.Pen{Class: canvas.Girdle, Stroke: x.scene.fitStroke(x.c)})
		}
	}
	f := x.scene.Fit
	for _, body := range sections(f, x.cut, x.step) {
		closed := body.closed()
		allowance(x.c, x.scene, closed)
		if f.Solid.Sides == 2 {
			x.c.Polyline(body.level(f, x.cut, 0), false, canvas.Pen{Class: canvas.Dome, Stroke: canvas.Dotted})
		}
		x.c.Polyline(closed, true, canvas.Pen{Class: canvas.Girdle, Stroke: x.scene.fitStroke(x.c)})
	}
}

// limitMark marks where the fit's skin is nearest to the outside, if that limits
// it and is in the cut.
func (x *slicer) limitMark() {
	if f := x.scene.Fit; drawable(f) && x.scene.limits("skin") {
		touch := Nearest(x.rough, x.scene.Stone, f)
		if t, off := x.cut.Of(touch.At.XY()); touch.Where != "" && math.Abs(off) <= nearCut {
			x.c.Put(geometry.Vec2{X: t, Y: touch.At.Z}, canvas.LimitMark, canvas.Limit)
		}
	}
}

// body is a stretch of a solid's section: at each t from A the heights it lies
// between.
type body struct{ t, low, high []float64 }

// closed returns the outline of the section, counter-clockwise.
func (b body) closed() []geometry.Vec2 {
	out := make([]geometry.Vec2, 0, 2*len(b.t))
	for i, t := range b.t {
		out = append(out, geometry.Vec2{X: t, Y: b.low[i]})
	}
	for i := len(b.t) - 1; i >= 0; i-- {
		out = append(out, geometry.Vec2{X: b.t[i], Y: b.high[i]})
	}
	return out
}

// level returns where the plane w = height of the solid's own axes runs through
// the section.
func (b body) level(f *search.Fit, k Cut, height float64) []geometry.Vec2 {
	var out []geometry.Vec2
	for i, t := range b.t {
		p := k.At(t)
		at := f.Pose.Local(geometry.Vec3{X: p.X, Y: p.Y})
		up := f.Pose.Axes.Transposed(geometry.Vec3{Z: 1})
		if up.Z == 0 {
			continue
		}
		if z := (height - at.Z) / up.Z; z >= b.low[i] && z <= b.high[i] {
			out = append(out, geometry.Vec2{X: t, Y: z})
		}
	}
	return out
}

// sections returns the section of a fit's solid by a cut, upright line by
// upright line every step mm. A cabochon that is tilted by some degrees meets
// each upright line in one stretch.
func sections(f *search.Fit, k Cut, step float64) []body {
	if !drawable(f) {
		return nil
	}
	reach := span{math.Inf(1), math.Inf(-1)}
	for _, w := range []float64{0, f.Solid.Wall, f.Solid.Wall + f.Solid.Dome, -f.Solid.BackDepth()} {
		for _, p := range ring(f, 1, w) {
			t, _ := k.Of(p.XY())
			reach.from, reach.to = math.Min(reach.from, t), math.Max(reach.to, t)
		}
	}
	n := int(math.Min(4000, math.Ceil((reach.to-reach.from)/step)))
	var out []body
	var now body
	for i := 0; i <= n; i++ {
		t := reach.from + (reach.to-reach.from)*float64(i)/math.Max(1, float64(n))
		low, high, ok := upright(f, k.At(t))
		if ok {
			now.t, now.low, now.high = append(now.t, t), append(now.low, low), append(now.high, high)
			continue
		}
		if len(now.t) > 0 {
			out = append(out, now)
		}
		now = body{}
	}
	if len(now.t) > 0 {
		out = append(out, now)
	}
	return out
}

// upright returns between which heights the upright line through p runs inside
// the fit's solid; ok is false where it misses it.
func upright(f *search.Fit, p geometry.Vec2) (low, high float64, ok bool) {
	at := f.Pose.Local(geometry.Vec3{X: p.X, Y: p.Y})
	up := f.Pose.Axes.Transposed(geometry.Vec3{Z: 1})
	if up.Z == 0 {
		return 0, 0, false // on its side: no fit is tilted that far
	}
	// The heights at which the line passes the solid's lowest and highest level.
	from := (-f.Solid.BackDepth() - at.Z) / up.Z
	to := (f.Solid.Wall + f.Solid.Dome - at.Z) / up.Z
	if from > to {
		from, to = to, from
	}
	inside := func(z float64) bool { return holds(f, at.Add(up.Scale(z))) }
	const looks = 24 // a stone some 5 mm high is looked at every 0.2 mm
	first, last := -1, -1
	for i := 0; i <= looks; i++ {
		if inside(from + (to-from)*float64(i)/looks) {
			if first < 0 {
				first = i
			}
			last = i
		}
	}
	if first < 0 {
		return 0, 0, false
	}
	edge := func(in, out float64) float64 {
		for range 12 { // 0.2 mm halved 12 times is 0.05 um
			if mid := (in + out) / 2; inside(mid) {
				in = mid
			} else {
				out = mid
			}
		}
		return in
	}
	width := (to - from) / looks
	a, b := from+width*float64(first), from+width*float64(last)
	return edge(a, a-width), edge(b, b+width), true
}

// holds reports whether a point, in the solid's own axes, lies in the finished
// stone.
func holds(f *search.Fit, p geometry.Vec3) bool {
	rho := f.Solid.Outline.Gauge(p.X, p.Y)
	return rho <= 1 && p.Z <= f.Solid.Upper(rho) && p.Z >= f.Solid.Lower(rho)
}
