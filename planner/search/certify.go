package search

import (
	"container/heap"
	"math"

	"cabwright/geometry"
	"cabwright/geometry/field"
	"cabwright/geometry/solid"
)

// certified is the clearance of one pose on the exact geometry.
type certified struct {
	lower float64       // no point of the solid keeps less
	least float64       // least clearance at a point that was looked at: lower <= clearance <= least
	worst geometry.Vec3 // that point, in the solid's own axes
}

// resolution is how far below the least clearance seen the certified one may
// lie, in mm: a tenth of the usual tolerance, 0.1% of the weight of a 12 mm stone.
const resolution = 0.005

// patch is a piece of the solid's skin: a range of the direction and of one of
// its side's own parameters.
type patch struct {
	side           *side
	a0, a1, b0, b1 float64
	lower          float64
}

// side is one smooth part of the skin, as a map from (direction, parameter).
type side struct {
	at     func(theta, b float64) geometry.Vec3
	b0, b1 float64
	cuts   int // first division along b
}

type patches []patch

func (h patches) Len() int           { return len(h) }
func (h patches) Less(i, j int) bool { return h[i].lower < h[j].lower }
func (h patches) Swap(i, j int)      { h[i], h[j] = h[j], h[i] }
func (h *patches) Push(x any)        { *h = append(*h, x.(patch)) }
func (h *patches) Pop() any {
	old := *h
	c := old[len(old)-1]
	*h = old[:len(old)-1]
	return c
}

// sides returns the parts of a cabochon's skin.
func sides(c solid.Cabochon) []side {
	r := c.RimRatio()
	on := func(theta, rho, w float64) geometry.Vec3 {
		s, co := math.Sincos(theta)
		q := rho * c.Outline.Radius(theta)
		return geometry.Vec3{X: q * co, Y: q * s, Z: w}
	}
	out := []side{{func(t, b float64) geometry.Vec3 {
		s, co := math.Sincos(b)
		return on(t, r*co, c.Wall+c.Dome*s)
	}, 0, math.Pi / 2, 6}}
	if c.Wall > 0 {
		out = append(out, side{func(t, b float64) geometry.Vec3 { return on(t, 1-b*(1-r), b*c.Wall) }, 0, 1, 1})
	}
	if back := c.BackDepth(); back > 0 {
		out = append(out, side{func(t, b float64) geometry.Vec3 {
			s, co := math.Sincos(b)
			return on(t, co, -back*s)
		}, 0, math.Pi / 2, 5})
	} else {
		out = append(out, side{func(t, b float64) geometry.Vec3 { return on(t, b, 0) }, 0, 1, 4})
	}
	return out
}

// certify bounds the clearance of a pose from below by dividing the skin into
// patches: every patch lies within its sag of the surface spanned bilinearly by
// its four corners, whose points are convex combinations of them, and
// field.Over bounds the clearance of those. The least bound is refined until it
// is within the resolution of a clearance that was met, stands above enough, or a
// clearance below 0 was met.
// start is a point of the skin, in the solid's own axes, where little clearance is
// expected: knowing one spares most patches a closer look.
//
// Inside the skin no obstacle can hide: each is in one piece, so the point of it
// that is looked at would have to be inside too.
func certify(f *field.Field, c solid.Cabochon, pose Pose, start geometry.Vec3, enough float64) certified {
	res := certified{least: f.Lower(pose.Place(start), math.Inf(1)), worst: start}
	parts := sides(c)
	var queue patches
	directions := directionsOf(c)
	for i := range parts {
		s := &parts[i]
		for k := 0; k+1 < len(directions); k++ {
			for b := 0; b < s.cuts; b++ {
				step := (s.b1 - s.b0) / float64(s.cuts)
				p := patch{side: s, a0: directions[k], a1: directions[k+1], b0: s.b0 + float64(b)*step, b1: s.b0 + float64(b+1)*step}
				measure(f, &p, pose, &res)
				queue = append(queue, p)
			}
		}
	}
	heap.Init(&queue)
	// Each division halves a patch both ways; forty thousand is far beyond what any
	// pose of a real stone needs and only keeps a degenerate one from running on.
	for n := 0; n < 40000 && res.least >= 0; n++ {
		p := queue[0]
		if p.lower >= res.least-resolution || p.lower >= enough {
			break
		}
		heap.Pop(&queue)
		am, bm := (p.a0+p.a1)/2, (p.b0+p.b1)/2
		for _, q := range [4]patch{
			{side: p.side, a0: p.a0, a1: am, b0: p.b0, b1: bm}, {side: p.side, a0: am, a1: p.a1, b0: p.b0, b1: bm},
			{side: p.side, a0: p.a0, a1: am, b0: bm, b1: p.b1}, {side: p.side, a0: am, a1: p.a1, b0: bm, b1: p.b1},
		} {
			measure(f, &q, pose, &res)
			heap.Push(&queue, q)
		}
	}
	res.lower = min(queue[0].lower, res.least)
	for k := 1; k < f.Obstacles(); k++ {
		if holds(c, pose.Local(f.Witness(k))) {
			res.lower = min(res.lower, -1e-3)
			res.least = min(res.least, -1e-3)
		}
	}
	return res
}

// directionsOf divides the turn at the outline's corners and into steps of at
// most 15 degrees.
func directionsOf(c solid.Cabochon) []float64 {
	cuts := []float64{-math.Pi}
	cuts = append(cuts, c.Outline.Corners()...)
	if cuts[len(cuts)-1] < math.Pi {
		cuts = append(cuts, math.Pi)
	}
	out := []float64{-math.Pi}
	for i := 0; i+1 < len(cuts); i++ {
		n := math.Ceil((cuts[i+1] - cuts[i]) / (math.Pi / 12))
		for k := 1.0; k <= n; k++ {
			out = append(out, cuts[i]+(cuts[i+1]-cuts[i])*k/n)
		}
	}
	return out
}

// measure bounds one patch. The sag is taken from how far the middles of the
// edges and of the patch lie off the straight: for a smooth patch the deviation
// from the bilinear surface is largest about there, and a quarter is added for
// what its curvature changes over the patch.
func measure(f *field.Field, p *patch, pose Pose, res *certified) {
	at := p.side.at
	am, bm := (p.a0+p.a1)/2, (p.b0+p.b1)/2
	c00, c10, c01, c11 := at(p.a0, p.b0), at(p.a1, p.b0), at(p.a0, p.b1), at(p.a1, p.b1)
	mid := at(am, bm)
	off := func(m geometry.Vec3, a, b geometry.Vec3) float64 { return m.Sub(a.Add(b).Scale(0.5)).Norm() }
	across := max(off(at(am, p.b0), c00, c10), off(at(am, p.b1), c01, c11))
	along := max(off(at(p.a0, bm), c00, c01), off(at(p.a1, bm), c10, c11))
	centre := mid.Sub(c00.Add(c10).Add(c01).Add(c11).Scale(0.25)).Norm()
	sag := 1.25*max(across+along, centre) + 1e-6
	middle := c00.Add(c10).Add(c01).Add(c11).Scale(0.25)
	radius := 0.0
	corners := [4]geometry.Vec3{c00, c10, c01, c11}
	for i, v := range corners {
		radius = max(radius, v.Sub(middle).Norm())
		corners[i] = pose.Place(v)
	}
	// A point on the grid settles most patches at the price of one look.
	if cheap := f.AtLeast(pose.Place(middle)) - radius - sag; cheap > res.least {
		p.lower = cheap
		return
	}
	lower, least := f.Over(corners[:], radius, sag, res.least)
	p.lower = lower
	if least < res.least {
		res.least, res.worst = least, c00
		low := math.Inf(1)
		for _, v := range [4]geometry.Vec3{c00, c10, c01, c11} {
			if d := f.Lower(pose.Place(v), low); d < low {
				low, res.worst = d, v
			}
		}
	}
}

// holds tells whether a point in the solid's own axes lies inside it.
func holds(c solid.Cabochon, p geometry.Vec3) bool {
	rho := c.Outline.Gauge(p.X, p.Y)
	return rho < 1 && p.Z < c.Upper(rho) && p.Z > c.Lower(rho)
}
