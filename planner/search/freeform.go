package search

import (
	"cmp"
	"math"
	"slices"

	"cabwright/geometry"
	"cabwright/geometry/outline"
	"cabwright/geometry/solid"
	"cabwright/presets"
)

// Freeform is the name of the shape of freeform fits.
const Freeform = "freeform"

// FreeformRadius is the least radius of curvature of a freeform's outline, mm,
// where the options do not say: a bezel is hard to set round anything sharper
// (common practice).
const FreeformRadius = 1.5

// freeform looks for the freeform of greatest volume on one face with one back.
// With wall, dome, back and pose given, every direction from the centre can be
// asked on its own how far the outline may go, because along a ray the solid's
// section depends only on the gauge; what results is star-shaped, is cut down to a
// convex part and has its corners rounded. The pose is improved by a pattern
// search (Hooke and Jeeves 1961) over position and tilt; the turn does not matter,
// the outline being free.
type freeform struct {
	j      *job
	set    *presets.Set
	back   presets.BackStyle
	style  presets.DomeStyle
	wall   presets.Wall
	radius float64
}

// freeformRays is how many directions the search asks; the final outline is
// asked in three times as many.
const freeformRays = 48

// profile is the section of the solid along a ray, as gauge and height.
type profile struct{ rho, w float64 }

// profiles returns points of the section: rim, wall, dome and back.
func (ff *freeform) profiles(width float64) []profile {
	c := ff.body(width)
	r := c.RimRatio()
	out := []profile{{1, 0}, {r, c.Wall}, {0, c.Wall + c.Dome}, {0.6, c.Wall / 2}}
	for _, a := range []float64{0.25, 0.5, 0.75, 1, 1.25} {
		s, co := math.Sincos(a)
		out = append(out, profile{r * co, c.Wall + c.Dome*s})
	}
	if back := c.BackDepth(); back > 0 {
		for _, a := range []float64{0.25, 0.5, 0.75, 1, 1.25, math.Pi / 2} {
			s, co := math.Sincos(a)
			out = append(out, profile{co, -back * s})
		}
	} else {
		out = append(out, profile{0.8, 0}, profile{0.6, 0}, profile{0.4, 0})
	}
	return out
}

// body is the solid without its outline: only the width counts for its heights.
func (ff *freeform) body(width float64) solid.Cabochon {
	c := solid.Cabochon{Outline: outline.Outline{Width: width}, Wall: ff.wall.Height, WallLeanDeg: ff.wall.LeanDeg, Dome: ff.style.HeightByWidth * width, Sides: ff.back.Sides()}
	if c.Sides == 2 {
		c.Back = ff.back.Depth(c.Wall, c.Dome)
	}
	return c
}

// reachOf returns how far the outline may go in each of n directions.
func (ff *freeform) reachOf(at Pose, width float64, n int) []float64 {
	points := ff.profiles(width)
	lo, hi := ff.j.field.Bounds()
	far := math.Hypot(hi.X-lo.X, hi.Y-lo.Y)
	radii := make([]float64, n)
	start := 0.0
	for i := range radii {
		s, c := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		// Bracketed from the neighbour's reach, then halved.
		good, bad := 0.0, far
		if start > 0 {
			if ff.clear(at, points, c, s, start) {
				good = start
				for step := 0.5; good+step < far; step *= 2 {
					if !ff.clear(at, points, c, s, good+step) {
						bad = good + step
						break
					}
					good += step
				}
			} else {
				bad = start
			}
		}
		for bad-good > 0.01 {
			m := (good + bad) / 2
			if ff.clear(at, points, c, s, m) {
				good = m
			} else {
				bad = m
			}
		}
		radii[i], start = good, good
	}
	return radii
}

// clear tells whether the section with the given radius keeps the allowances.
func (ff *freeform) clear(at Pose, points []profile, c, s, radius float64) bool {
	for _, p := range points {
		q := p.rho * radius
		if ff.j.field.Estimate(at.Place(geometry.Vec3{X: q * c, Y: q * s, Z: p.w}), 0) < 0 {
			return false
		}
	}
	return true
}

// shape returns the outline at a pose, in the pose's axes, and its width; nil if
// there is none.
func (ff *freeform) shape(at Pose, width float64, n int) ([]geometry.Vec2, float64) {
	radii := ff.reachOf(at, width, n)
	for _, r := range radii {
		if r < ff.radius {
			return nil, 0
		}
	}
	poly := make([]geometry.Vec2, n)
	for i, r := range geometry.ConvexPart(radii) {
		s, c := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		poly[i] = geometry.Vec2{X: r * c, Y: r * s}
	}
	poly = geometry.Rounded(poly, ff.radius)
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
func (ff *freeform) volume(at Pose, width float64) (float64, float64) {
	poly, found := ff.shape(at, width, freeformRays)
	if poly == nil {
		return 0, width
	}
	// What can be cut of it: heights follow the real width, so an outline wider than
	// the one that the heights were taken for is scaled down to it.
	scale := min(1, width/found)
	c := ff.body(min(width, found))
	r := c.RimRatio()
	// The solid's volume per area of its outline (see solid.Cabochon.Volume).
	return geometry.Area(poly) * scale * scale * (c.Wall*(1+r+r*r)/3 + 2.0/3*(c.Dome*r*r+c.BackDepth())), found
}

// improve moves the pose and the width uphill.
func (ff *freeform) improve(m *model, start coord, width float64, tiltMax float64) (coord, float64, float64) {
	at := start
	best, found := ff.volume(m.pose(at), width)
	// adapt takes the width between the present one and the one found that gives
	// most, for the wider the stone, the higher its dome and the less room is left.
	adapt := func(pose Pose) {
		for _, share := range []float64{1, 0.5, 0.25} {
			w := width + share*(found-width)
			if v, f := ff.volume(pose, w); v > best*1.0005 {
				best, found, width = v, f, w
				return
			}
		}
	}
	for range 4 {
		adapt(m.pose(at))
	}
	for step := 0.6; step > 0.02; step /= 2 {
		for moved := true; moved; {
			moved = false
			for k := 0; k < 10; k++ {
				next := at
				j := k / 2
				if j >= 3 {
					j++ // past the turn
					if tiltMax == 0 {
						continue
					}
				}
				d := step
				if j > 3 {
					d = step / 8
				}
				next[j] += d * float64(1-2*(k%2))
				next = within(next, tiltMax)
				v, w := ff.volume(m.pose(next), width)
				if v > best*1.0005 {
					at, best, found, moved = next, v, w, true
					if math.Abs(w-width) > 0.05 {
						adapt(m.pose(at))
					}
				}
			}
		}
	}
	return at, width, best
}

// finish turns the pose into a trial whose outline is shrunk, if need be, until
// the exact check accepts it.
func (ff *freeform) finish(m *model, at coord, width float64) *trial {
	pose := m.pose(at)
	poly, found := ff.shape(pose, width, 3*freeformRays)
	if poly == nil {
		return nil
	}
	fitting := min(1, width/found)
	// The length axis is square to the narrow way.
	way := geometry.NarrowWay(poly)
	turned := make([]geometry.Vec2, len(poly))
	for i, p := range poly {
		turned[i] = geometry.Vec2{X: p.X*way.Y - p.Y*way.X, Y: way.Dot(p)}
	}
	u := pose.Axes.U.Scale(way.Y).Sub(pose.Axes.V.Scale(way.X))
	v := pose.Axes.U.Scale(way.X).Add(pose.Axes.V.Scale(way.Y))
	pose.Axes = geometry.Mat3{U: u, V: v, W: pose.Axes.W}
	for scale := 1.0; scale > 0.8; scale -= 0.004 {
		scaled := make([]geometry.Vec2, len(turned))
		for i, p := range turned {
			scaled[i] = p.Scale(scale * fitting)
		}
		// Scaled down, its corners are sharper than they may be.
		// The hull takes away what rounding of numbers bends inwards.
		o, err := outline.Freeform(geometry.ConvexHull(geometry.Rounded(scaled, ff.radius)))
		if err != nil {
			return nil
		}
		c := ff.body(o.Width)
		c.Outline = o
		fm := newModel(c, m.flip)
		t := &trial{Candidate: Candidate{Solid: c, Face: ff.j.face, DomeStyle: ff.style.Key, BackStyle: ff.back.Key}, volume: c.Volume(), model: fm, size: -1}
		t.at = fm.coordOf(pose)
		p := newProber(ff.j.field, fm, 0)
		if t.value = p.value(t.at, 0); t.value < 0 {
			continue
		}
		if exact := p.certify(t.at, math.Inf(1)); exact.lower >= 0 {
			t.verdict, t.lower = Fits, exact.lower
			return t
		}
	}
	return nil
}

// from returns the freeform found from a calibrated fit, if it is heavier than best.
func (ff *freeform) from(start, best *trial) *trial {
	at, width, hope := ff.improve(start.model, start.at, start.Solid.Outline.Width, ff.j.tiltMax)
	if best != nil && hope <= best.volume {
		return nil
	}
	t := ff.finish(start.model, at, width)
	if t == nil {
		// The way there led over something that the rays did not meet.
		t = ff.finish(start.model, start.at, start.Solid.Outline.Width)
	}
	if t == nil || best != nil && t.volume <= best.volume {
		return nil
	}
	return t
}

// freeformStarts is how many of the heaviest calibrated fits a freeform is started
// from: their poses and dome styles differ.
const freeformStarts = 5

// freeforms adds to the job's trials the best freeform for every back, started
// from the heaviest calibrated fits with that back.
func (j *job) freeforms(set *presets.Set, radius float64) {
	wall, _ := set.Wall(set.Defaults.Wall)
	for _, back := range set.BackStyles {
		var starts []*trial
		for _, t := range j.trials {
			if t.verdict == Fits && t.BackStyle == back.Key && t.size >= 0 {
				starts = append(starts, t)
			}
		}
		slices.SortStableFunc(starts, func(a, b *trial) int { return cmp.Compare(b.volume, a.volume) })
		var best *trial
		for k, start := range starts[:min(len(starts), freeformStarts)] {
			for _, style := range set.DomeStyles {
				// A taller dome than the calibrated size has does not fit there either, and
				// lower ones are tried at the best pose alone.
				lower := start.Solid.Dome > style.HeightByWidth*start.Solid.Outline.Width*1.01
				taller := start.Solid.Dome < style.HeightByWidth*start.Solid.Outline.Width*0.99
				if taller || lower && k > 0 || j.ctx.Err() != nil {
					continue
				}
				ff := &freeform{j: j, set: set, back: back, style: style, wall: wall, radius: radius}
				if t := ff.from(start, best); t != nil {
					best = t
				}
			}
		}
		if best != nil {
			j.trials = append(j.trials, best)
			j.tell(0.5)
		}
	}
}

// wantsFreeform tells whether the options ask for freeforms.
func (o Options) wantsFreeform() bool {
	if o.NoFreeform {
		return false
	}
	for _, s := range o.Shapes {
		if s == Freeform {
			return true
		}
	}
	return len(o.Shapes) == 0
}
