package freeform

import (
	"context"
	"math"

	"cabwright/geometry"
	"cabwright/geometry/field"
	"cabwright/geometry/outline"
	"cabwright/geometry/solid"
	"cabwright/planner/search/internal/poses"
	"cabwright/presets"
)

// Shaper looks for the freeform of greatest volume on one face with one back and
// one dome style. With wall, dome, back and pose given, every direction from the
// centre can be asked on its own how far the outline may go, because along a ray the
// solid's section depends only on the gauge; what results is star-shaped, is cut down
// to a convex part and has its corners rounded. The pose is improved by a pattern
// search (Hooke and Jeeves 1961) over position and tilt; the turn does not matter,
// the outline being free.
type Shaper struct {
	Ctx    context.Context
	Field  *field.Field
	Flip   bool    // the dome points out of the base
	Radius float64 // least radius of curvature of the outline, mm
	Back   presets.BackStyle
	Style  presets.DomeStyle
	Wall   presets.Wall
	Detail Detail
}

// Shaped is a freeform at the pose it was made for.
type Shaped struct {
	Solid solid.Cabochon
	Model *poses.Model
	At    poses.Coord
	Value float64 // its clearance as the samples see it
	Lower float64 // its certified clearance, where it fits
	Fits  bool

	worst geometry.Vec3 // where it comes nearest, in its own axes
	lacks float64       // and by how much too near, mm
}

// Detail is how closely the outline is looked at.
type Detail struct {
	rays    int
	section []float64 // where on dome and back it is asked, as angles from the rim up
	step    float64   // the pattern search ends below it, mm
	found   float64   // how closely the reach along a ray is found, mm
	margin  float64   // the clearance that it is to have, mm
}

// A rough look picks the places, a close one moves the pose, and the outline itself is
// asked in most directions, with a margin for what lies between those and for the tables
// that the clearance is taken from.
var (
	RoughDetail = Detail{rays: 20, section: []float64{0.6, 1.1}, step: 0.12, found: 0.03}
	closeDetail = Detail{rays: 48, section: []float64{0.25, 0.5, 0.75, 1, 1.25}, step: 0.02, found: 0.01}
	finalDetail = Detail{
		rays: 144, section: []float64{0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1, 1.1, 1.2, 1.3, 1.4}, found: 0.004,
		margin: 0.008,
	}
)

// on returns the pose of the pivot's coordinates. A freeform is as high as its width
// makes it, so the pivot that its pose is given by stands on the girdle plane.
func (ff *Shaper) on(at poses.Coord) poses.Pose {
	m := poses.Model{Flip: ff.Flip}
	return m.Pose(at)
}

// profile is the section of the solid along a ray, as gauge and height.
type profile struct{ rho, w float64 }

// profiles returns points of the section: rim, wall, dome and back. The crown is the
// same for all rays.
func (ff *Shaper) profiles(width float64) (points []profile, crown float64) {
	c := ff.Body(width)
	r := c.RimRatio()
	points = []profile{{1, 0}, {r, c.Wall}}
	for _, a := range ff.Detail.section {
		s, co := math.Sincos(a)
		points = append(points, profile{r * co, c.Wall + c.Dome*s})
	}
	if back := c.BackDepth(); back > 0 {
		for _, a := range ff.Detail.section {
			s, co := math.Sincos(a)
			points = append(points, profile{co, -back * s})
		}
		return points, c.Wall + c.Dome
	}
	n := float64(len(ff.Detail.section))
	for k := range ff.Detail.section {
		points = append(points, profile{0.8 * (1 - float64(k)/n), 0})
	}
	return points, c.Wall + c.Dome
}

// Body is the solid without its outline: only the width counts for its heights.
func (ff *Shaper) Body(width float64) solid.Cabochon {
	c := solid.Cabochon{
		Outline: outline.Outline{Width: width}, Wall: ff.Wall.Height, WallLeanDeg: ff.Wall.LeanDeg,
		Dome: ff.Style.HeightByWidth * width, Sides: ff.Back.Sides(),
	}
	if c.Sides == 2 {
		c.Back = ff.Back.Depth(c.Wall, c.Dome)
	}
	return c
}

// reachOf returns how far the outline may go in each of n directions; nil where the
// crown or the centre is in the way.
func (ff *Shaper) reachOf(at poses.Pose, width float64, n int) []float64 {
	points, crown := ff.profiles(width)
	f := ff.Field
	depth := ff.Body(width).BackDepth()
	if f.Estimate(at.Place(geometry.Vec3{Z: crown}), 0) < 0 || f.Estimate(at.Place(geometry.Vec3{Z: -depth}), 0) < 0 {
		return nil
	}
	lo, hi := f.Bounds()
	far := math.Hypot(hi.X-lo.X, hi.Y-lo.Y)
	radii := make([]float64, n)
	start, limiting := 0.0, 0
	for i := range radii {
		s, c := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		free := func(radius float64) bool { return ff.clear(at, points, c, s, radius, &limiting) }
		good, bad := around(free, start, far)
		for bad-good > ff.Detail.found {
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

// clear tells whether the section with the given radius keeps the allowances. It asks
// first about the point that was last in the way, and notes the one that is now.
func (ff *Shaper) clear(at poses.Pose, points []profile, c, s, radius float64, limiting *int) bool {
	free := func(k int) bool {
		q := points[k].rho * radius
		p := at.Place(geometry.Vec3{X: q * c, Y: q * s, Z: points[k].w})
		return ff.Field.AtLeast(p) >= ff.Detail.margin || ff.Field.Estimate(p, ff.Detail.margin) >= ff.Detail.margin
	}
	if !free(*limiting) {
		return false
	}
	for k := range points {
		if k != *limiting && !free(k) {
			*limiting = k
			return false
		}
	}
	return true
}

// outlineOf returns the outline that may go so far in each direction, no wider than the
// width that the heights are taken for, and the width that there is room for; nil if there
// is none.
func (ff *Shaper) outlineOf(radii []float64, width float64) ([]geometry.Vec2, float64) {
	for _, r := range radii {
		if r < ff.Radius {
			return nil, 0
		}
	}
	n := len(radii)
	poly := make([]geometry.Vec2, n)
	for i, r := range geometry.ConvexPart(radii) {
		s, c := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		poly[i] = geometry.Vec2{X: r * c, Y: r * s}
	}
	way := geometry.NarrowWay(poly)
	least, most := geometry.Across(poly, way)
	if poly = geometry.Rounded(geometry.Strip(poly, way, width, ff.Radius), ff.Radius); len(poly) < 8 {
		return nil, 0
	}
	return poly, most - least
}

// Volume returns the volume at a pose, mm3, and the width that there is room for.
func (ff *Shaper) Volume(at poses.Coord, width float64) (float64, float64) {
	return ff.over(at, width, 0)
}

// over is Volume, or 0 as soon as it is known to be no more than the floor.
func (ff *Shaper) over(at poses.Coord, width, floor float64) (float64, float64) {
	radii := ff.reachOf(ff.on(at), width, ff.Detail.rays)
	star := 0.0
	for i, r := range radii {
		star += r * radii[(i+1)%len(radii)]
	}
	// The outline is no larger than what the rays span, and no higher than for the width.
	if star*math.Sin(2*math.Pi/float64(ff.Detail.rays))/2*ff.fullness(width) <= floor {
		return 0, width
	}
	poly, found := ff.outlineOf(radii, width)
	if poly == nil {
		return 0, width
	}
	return geometry.Area(poly) * ff.fullness(min(width, found)), found
}

// fullness returns the solid's volume per area of its outline (see
// solid.Cabochon.Volume).
func (ff *Shaper) fullness(width float64) float64 {
	c := ff.Body(width)
	r := c.RimRatio()
	return c.Wall*(1+r+r*r)/3 + 2.0/3*(c.Dome*r*r+c.BackDepth())
}

// Spot is a pose with the width that the heights are taken for, and what it holds.
type Spot struct {
	At     poses.Coord
	Width  float64
	Volume float64
}

// gain is the share of volume by which a step of the pattern search must pay: less is
// within what the rays' number leaves open.
const gain = 1.0005

// The first steps of the pattern search, mm: a close look begins where a rough one ended.
const (
	firstStep = 0.6
	closeStep = 0.15
)

// improve moves the pose and the width uphill, by the given step first. Where the height
// holds, a wider stone has to stand lower: that no step alone finds.
func (ff *Shaper) improve(from Spot, step, tiltMax float64) Spot {
	c := ascent{ff: ff, at: from.At, width: from.Width}
	c.best, c.found = ff.Volume(c.at, c.width)
	for range 4 {
		c.adapt(0)
	}
	for again := 0; again == 0 || again < mostLowered && c.adapt(1); again++ {
		for by := step; by > ff.Detail.step && ff.Ctx.Err() == nil; by /= 2 {
			for c.round(by, tiltMax) && ff.Ctx.Err() == nil {
			}
		}
	}
	return Spot{c.at, c.width, c.best}
}

// mostLowered is how often a spot is moved about after it was made wider and lower.
const mostLowered = 4

// ascent is the state of a pattern search.
type ascent struct {
	ff          *Shaper
	at          poses.Coord
	width       float64
	best, found float64 // the volume here, and the width found with it
}

// adapt takes the width between the present one and the one found that gives most, for
// the wider the stone, the higher its dome and the less room is left, and lowers the stone
// by a share of what that makes it higher. It reports whether that paid.
func (c *ascent) adapt(lowered float64) bool {
	for _, share := range []float64{1, 0.5, 0.25, 0.12, 0.06, 0.03} {
		more, at := share*(c.found-c.width), c.at
		lower := lowered * more * c.ff.Style.HeightByWidth
		if c.ff.Flip {
			lower = -lower
		}
		at[2] -= lower
		if v, f := c.ff.over(at, c.width+more, c.best*gain); v > c.best*gain {
			c.at, c.best, c.found, c.width = at, v, f, c.width+more
			return true
		}
	}
	return false
}

// round tries a step either way along each of the pose's numbers but the turn, and
// reports whether any paid.
func (c *ascent) round(step, tiltMax float64) (moved bool) {
	for j := range poses.Dims {
		if j == poses.Turn || j > poses.Turn && tiltMax == 0 {
			continue
		}
		by := step
		if j > poses.Turn {
			by /= 8 // of a radian: about as far at the edge of a stone
		}
		for _, d := range [2]float64{by, -by} {
			next := c.at
			next[j] += d
			next = poses.Within(next, tiltMax)
			v, w := c.ff.over(next, c.width, c.best*gain)
			if v <= c.best*gain {
				continue
			}
			c.at, c.best, c.found, moved = next, v, w, true
			if math.Abs(w-c.width) > 0.05 {
				c.adapt(0)
			}
		}
	}
	return moved
}

// Rough moves a spot to about where it holds most.
func (ff *Shaper) Rough(s Spot, tiltMax float64) Spot {
	ff.Detail = RoughDetail
	s.At = poses.Within(s.At, tiltMax)
	return ff.improve(s, firstStep, tiltMax)
}

// Close moves a spot that was improved roughly to where it holds most on a close look.
func (ff *Shaper) Close(s Spot, tiltMax float64) Spot {
	ff.Detail = closeDetail
	return ff.improve(s, closeStep, tiltMax)
}

// Improve moves a spot to where it holds most on a close look, level, and where it may
// lean leaning too: from where it leans, or from the level one.
func (ff *Shaper) Improve(s Spot, tiltMax float64) []Spot {
	level := ff.Close(ff.Rough(s, 0), 0)
	if tiltMax == 0 {
		return []Spot{level}
	}
	from := s
	if poses.Within(s.At, 0) == s.At {
		from = level
	}
	return []Spot{level, ff.Close(ff.Rough(from, tiltMax), tiltMax)}
}
