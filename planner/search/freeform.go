package search

import (
	"math"

	"cabwright/geometry"
	"cabwright/geometry/outline"
	"cabwright/geometry/solid"
	"cabwright/planner"
	"cabwright/presets"
)

// Freeform is the name of the shape of freeform fits.
const Freeform = "freeform"

// FreeformRadius is the least radius of curvature of a freeform's outline, mm,
// where the options do not say: a bezel is hard to set round anything sharper
// (common practice).
const FreeformRadius = 1.5

// freeform looks for the freeform of greatest volume on one face with one back and
// one dome style. With wall, dome, back and pose given, every direction from the
// centre can be asked on its own how far the outline may go, because along a ray the
// solid's section depends only on the gauge; what results is star-shaped, is cut down
// to a convex part and has its corners rounded. The pose is improved by a pattern
// search (Hooke and Jeeves 1961) over position and tilt; the turn does not matter,
// the outline being free.
type freeform struct {
	run    *run
	face   planner.Face
	back   presets.BackStyle
	style  presets.DomeStyle
	wall   presets.Wall
	detail detail
}

// detail is how closely the outline is looked at.
type detail struct {
	rays    int
	section []float64 // where on dome and back it is asked, as angles from the rim up
	step    float64   // the pattern search ends below it, mm
	found   float64   // how closely the reach along a ray is found, mm
}

// A rough look picks the places, a close one moves the pose, and the outline itself is
// asked in most directions.
var (
	roughDetail = detail{rays: 20, section: []float64{0.6, 1.1}, step: 0.12, found: 0.03}
	closeDetail = detail{rays: 48, section: []float64{0.25, 0.5, 0.75, 1, 1.25}, step: 0.02, found: 0.01}
	finalRays   = 144
)

// on returns the pose of the pivot's coordinates. A freeform is as high as its width
// makes it, so the pivot that its pose is given by stands on the girdle plane.
func (ff *freeform) on(at coord) Pose {
	m := model{flip: ff.face == planner.Base}
	return m.pose(at)
}

// profile is the section of the solid along a ray, as gauge and height.
type profile struct{ rho, w float64 }

// profiles returns points of the section: rim, wall, dome and back. The crown is the
// same for all rays.
func (ff *freeform) profiles(width float64) (points []profile, crown float64) {
	c := ff.body(width)
	r := c.RimRatio()
	points = []profile{{1, 0}, {r, c.Wall}}
	for _, a := range ff.detail.section {
		s, co := math.Sincos(a)
		points = append(points, profile{r * co, c.Wall + c.Dome*s})
	}
	if back := c.BackDepth(); back > 0 {
		for _, a := range ff.detail.section {
			s, co := math.Sincos(a)
			points = append(points, profile{co, -back * s})
		}
		return points, c.Wall + c.Dome
	}
	for k := range ff.detail.section {
		points = append(points, profile{0.8 - 0.2*float64(k), 0})
	}
	return points, c.Wall + c.Dome
}

// body is the solid without its outline: only the width counts for its heights.
func (ff *freeform) body(width float64) solid.Cabochon {
	c := solid.Cabochon{Outline: outline.Outline{Width: width}, Wall: ff.wall.Height, WallLeanDeg: ff.wall.LeanDeg, Dome: ff.style.HeightByWidth * width, Sides: ff.back.Sides()}
	if c.Sides == 2 {
		c.Back = ff.back.Depth(c.Wall, c.Dome)
	}
	return c
}

// reachOf returns how far the outline may go in each of n directions; nil where the
// crown or the centre is in the way.
func (ff *freeform) reachOf(at Pose, width float64, n int) []float64 {
	points, crown := ff.profiles(width)
	f := ff.run.field
	depth := ff.body(width).BackDepth()
	if f.Estimate(at.Place(geometry.Vec3{Z: crown}), 0) < 0 || f.Estimate(at.Place(geometry.Vec3{Z: -depth}), 0) < 0 {
		return nil
	}
	lo, hi := f.Bounds()
	far := math.Hypot(hi.X-lo.X, hi.Y-lo.Y)
	radii := make([]float64, n)
	start := 0.0
	for i := range radii {
		s, c := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		free := func(radius float64) bool { return ff.clear(at, points, c, s, radius) }
		good, bad := around(free, start, far)
		for bad-good > ff.detail.found {
			if m := (good + bad) / 2; free(m) {
				good = m
			} else {
				bad = m
			}
		}
		radii[i], start = good, good
	}
	return radii
}

// around brackets the largest value that is free, from a guess, which is the reach of
// the ray beside it: the steps away from that double, up to far and down to nothing.
func around(free func(float64) bool, guess, far float64) (good, bad float64) {
	const first = 0.4 // mm
	if guess == 0 {
		return 0, far
	}
	if free(guess) {
		for step := first; guess+step < far; step *= 2 {
			if !free(guess + step) {
				return guess, guess + step
			}
			guess += step
		}
		return guess, far
	}
	bad = guess
	for step := first; step < guess; step *= 2 {
		if free(guess - step) {
			return guess - step, bad
		}
		bad = guess - step
	}
	return 0, bad
}

// clear tells whether the section with the given radius keeps the allowances.
func (ff *freeform) clear(at Pose, points []profile, c, s, radius float64) bool {
	for _, p := range points {
		q := p.rho * radius
		if ff.run.field.Estimate(at.Place(geometry.Vec3{X: q * c, Y: q * s, Z: p.w}), 0) < 0 {
			return false
		}
	}
	return true
}

// shape returns the outline at a pose, in the pose's axes, and its width; nil if
// there is none.
func (ff *freeform) shape(at Pose, width float64, n int) ([]geometry.Vec2, float64) {
	radii := ff.reachOf(at, width, n)
	if radii == nil {
		return nil, 0
	}
	for _, r := range radii {
		if r < ff.run.opt.CornerRadius {
			return nil, 0
		}
	}
	poly := make([]geometry.Vec2, n)
	for i, r := range geometry.ConvexPart(radii) {
		s, c := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		poly[i] = geometry.Vec2{X: r * c, Y: r * s}
	}
	poly = geometry.Rounded(poly, ff.run.opt.CornerRadius)
	if len(poly) < 8 {
		return nil, 0
	}
	way := geometry.NarrowWay(poly)
	least, most := math.Inf(1), math.Inf(-1)
	for _, p := range poly {
		least, most = min(least, way.Dot(p)), max(most, way.Dot(p))
	}
	return poly, most - least
}

// volume returns the volume at a pose, and the width found there.
func (ff *freeform) volume(at coord, width float64) (float64, float64) {
	poly, found := ff.shape(ff.on(at), width, ff.detail.rays)
	if poly == nil {
		return 0, width
	}
	// What can be cut of it: heights follow the real width, so an outline wider than
	// the one that the heights were taken for is scaled down to it.
	scale := min(1, width/found)
	return geometry.Area(poly) * scale * scale * ff.fullness(min(width, found)), found
}

// fullness returns the solid's volume per area of its outline (see
// solid.Cabochon.Volume).
func (ff *freeform) fullness(width float64) float64 {
	c := ff.body(width)
	r := c.RimRatio()
	return c.Wall*(1+r+r*r)/3 + 2.0/3*(c.Dome*r*r+c.BackDepth())
}

// spot is a pose with the width that the heights are taken for, and what it holds.
type spot struct {
	at     coord
	width  float64
	volume float64
}

// gain is the share of volume by which a step of the pattern search must pay: less is
// within what the rays' number leaves open.
const gain = 1.0005

// improve moves the pose and the width uphill.
func (ff *freeform) improve(from spot, tiltMax float64) spot {
	at, width := from.at, from.width
	best, found := ff.volume(at, width)
	// adapt takes the width between the present one and the one found that gives
	// most, for the wider the stone, the higher its dome and the less room is left.
	adapt := func() {
		for _, share := range []float64{1, 0.5, 0.25} {
			w := width + share*(found-width)
			if v, f := ff.volume(at, w); v > best*gain {
				best, found, width = v, f, w
				return
			}
		}
	}
	for range 4 {
		adapt()
	}
	for step := 0.6; step > ff.detail.step && ff.run.ctx.Err() == nil; step /= 2 {
		for moved := true; moved && ff.run.ctx.Err() == nil; {
			moved = false
			for k := range 2 * (dims - 1) {
				j := k / 2
				d := step * float64(1-2*(k%2))
				if j >= turn {
					if j++; tiltMax == 0 { // past the turn
						continue
					}
					d /= 8 // of a radian: about as far at the edge of a stone
				}
				next := at
				next[j] += d
				next = within(next, tiltMax)
				v, w := ff.volume(next, width)
				if v > best*gain {
					at, best, found, moved = next, v, w, true
					if math.Abs(w-width) > 0.05 {
						adapt()
					}
				}
			}
		}
	}
	return spot{at, width, best}
}

// leastScale is the share down to which an outline is shrunk, scaleStep at a time,
// until the exact check accepts it: the rays ask only some points of the section.
const (
	leastScale = 0.8
	scaleStep  = 0.004
)

// finish turns a spot into a trial whose outline is shrunk, if need be, until the
// exact check accepts it; nil if none is.
func (ff *freeform) finish(at spot) *trial {
	pose := ff.on(at.at)
	poly, found := ff.shape(pose, at.width, finalRays)
	if poly == nil {
		return nil
	}
	fitting := min(1, at.width/found)
	// The length axis is square to the narrow way.
	way := geometry.NarrowWay(poly)
	turned := make([]geometry.Vec2, len(poly))
	for i, p := range poly {
		turned[i] = geometry.Vec2{X: p.X*way.Y - p.Y*way.X, Y: way.Dot(p)}
	}
	u := pose.Axes.U.Scale(way.Y).Sub(pose.Axes.V.Scale(way.X))
	v := pose.Axes.U.Scale(way.X).Add(pose.Axes.V.Scale(way.Y))
	pose.Axes = geometry.Mat3{U: u, V: v, W: pose.Axes.W}
	for scale := 1.0; scale > leastScale && ff.run.ctx.Err() == nil; scale -= scaleStep {
		scaled := make([]geometry.Vec2, len(turned))
		for i, p := range turned {
			scaled[i] = p.Scale(scale * fitting)
		}
		// Scaled down, its corners are sharper than they may be.
		if t := ff.trial(geometry.Rounded(scaled, ff.run.opt.CornerRadius), pose); t != nil && t.verdict == Fits {
			return t
		}
	}
	return nil
}

// trial makes the solid over an outline and certifies it at the pose; nil without an
// outline.
func (ff *freeform) trial(poly []geometry.Vec2, pose Pose) *trial {
	// The hull takes away what rounding of numbers bends inwards.
	o, err := outline.Freeform(geometry.ConvexHull(poly))
	if err != nil {
		return nil
	}
	c := ff.body(o.Width)
	c.Outline = o
	t := &trial{
		Candidate: Candidate{Solid: c, Face: ff.face, DomeStyle: ff.style.Key, BackStyle: ff.back.Key},
		volume:    c.Volume(), model: newModel(c, ff.face == planner.Base), size: -1, bound: unknownBound,
	}
	t.at = t.model.coordOf(pose)
	p := newProber(ff.run.field, t.model, 0)
	if t.value = p.value(t.at, 0); t.value < 0 {
		return t
	}
	if exact := certifyAt(p, t.at, math.Inf(1), resolution); exact.lower >= leastClearance {
		t.verdict, t.lower = Fits, exact.lower
	}
	return t
}
