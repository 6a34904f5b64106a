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
		touch := x.scene.Nearest.Of(x.rough, x.scene.Stone, f)
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
	line := newPlumb(f)
	for i := 0; i <= n; i++ {
		t := reach.from + (reach.to-reach.from)*float64(i)/math.Max(1, float64(n))
		low, high, ok := line.at(k.At(t))
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

// plumb looks for where upright lines run inside a fit's solid.
type plumb struct {
	fit    *search.Fit
	up     geometry.Vec3 // straight up, in the solid's own axes
	rim    float64
	inside float64 // a height inside it on the last line, a good guess on the next
}

func newPlumb(f *search.Fit) *plumb {
	return &plumb{fit: f, up: f.Pose.Axes.Transposed(geometry.Vec3{Z: 1}), rim: f.Solid.RimRatio(), inside: math.NaN()}
}

// halvings is how often a height is narrowed down: 5 mm halved 14 times is 0.3 um.
const halvings = 14

// at returns between which heights the upright line through p runs inside the
// solid; ok is false where it misses it.
func (q *plumb) at(p geometry.Vec2) (low, high float64, ok bool) {
	body := q.fit.Solid
	if q.up.Z == 0 {
		return 0, 0, false // on its side: no fit is tilted that far
	}
	foot := q.fit.Pose.Local(geometry.Vec3{X: p.X, Y: p.Y})
	// The heights at which the line passes the solid's lowest and highest level.
	from := (-body.BackDepth() - foot.Z) / q.up.Z
	to := (body.Wall + body.Dome - foot.Z) / q.up.Z
	if from > to {
		from, to = to, from
	}
	mid, ok := q.find(foot, from, to)
	if !ok {
		return 0, 0, false
	}
	q.inside = mid
	edge := func(in, out float64) float64 {
		if q.holds(foot, out) {
			return out
		}
		for range halvings {
			if half := (in + out) / 2; q.holds(foot, half) {
				in = half
			} else {
				out = half
			}
		}
		return in
	}
	return edge(mid, from), edge(mid, to), true
}

// find returns a height inside the solid between two: the last one if it still is.
func (q *plumb) find(foot geometry.Vec3, from, to float64) (float64, bool) {
	if q.inside >= from && q.inside <= to && q.holds(foot, q.inside) {
		return q.inside, true
	}
	const looks = 24 // a stone some 5 mm high is looked at every 0.2 mm
	for i := 0; i <= looks; i++ {
		if z := from + (to-from)*float64(i)/looks; q.holds(foot, z) {
			return z, true
		}
	}
	return 0, false
}

// holds reports whether the finished stone holds the point at height z over a
// point given in its own axes.
func (q *plumb) holds(foot geometry.Vec3, z float64) bool {
	p := foot.Add(q.up.Scale(z))
	body := q.fit.Solid
	rho := body.Outline.Gauge(p.X, p.Y)
	if !(rho <= 1) || p.Z > body.Wall+body.Dome || p.Z < -body.BackDepth() {
		return false
	}
	if p.Z < 0 {
		return p.Z >= body.Lower(rho)
	}
	// As solid.Cabochon.Upper, with the rim ratio reckoned once.
	if rho > q.rim {
		return p.Z <= body.Wall*(1-rho)/(1-q.rim)
	}
	r := rho / q.rim
	return p.Z <= body.Wall+body.Dome*math.Sqrt(math.Max(0, 1-r*r))
}

// upright returns between which heights the upright line through p runs inside
// the fit's solid; ok is false where it misses it.
func upright(f *search.Fit, p geometry.Vec2) (low, high float64, ok bool) { return newPlumb(f).at(p) }
