package odds

import (
	"cmp"
	"context"
	"math"
	"slices"

	"cabwright/geometry"
	"cabwright/planner"
	"cabwright/planner/search"
)

// withinReach is how much less than its allowances a start may keep, mm, to be worth a
// climb: these gain a few tenths where a stone can move at all in another's outline.
const withinReach = -1.0

// IfNot finds the heaviest stone that can be cut for sure when a place fails: one that
// keeps all allowances with every mark at its most and lies, seen from above, within
// the place's outline, as that is what the saw has left. sure are fits with every mark
// at its most, of which some may lie there; the candidates are tried in it, from the
// heaviest down. tilt is the largest allowed, degrees. It returns nil when none is
// found.
func (j *Judge) IfNot(ctx context.Context, p Place, sure []search.Fit, candidates []search.Candidate, tilt float64) *search.Fit {
	within := inPlan(p.Solid, p.Pose)
	var best *search.Fit
	for _, f := range sure {
		if (best == nil || f.Carat > best.Carat) && f.Carat < p.Carat && insideOf(within, inPlan(f.Solid, f.Pose)) {
			best = &f
		}
	}
	stone := j.At(1)
	stone.Outline = grown(within, stone.Allowances.Skin)
	site, err := search.Open(stone)
	if err != nil {
		return best
	}
	size := planner.Extent(within)
	perMM3 := p.Carat / p.Volume
	for _, c := range candidates {
		volume := c.Solid.Volume()
		if volume >= p.Volume {
			continue
		}
		if best != nil && volume*perMM3 <= best.Carat || ctx.Err() != nil {
			break
		}
		o := c.Solid.Outline
		if o.Area() > geometry.Area(within) || min(o.Length, o.Width) > size.Width+1e-6 {
			continue
		}
		if f, ok := tryIn(site, p, c, tilt); ok {
			f.Volume, f.Carat = volume, volume*perMM3
			best = &f
			break
		}
	}
	return best
}

// tryIn looks for a pose of a candidate about where a place is that keeps everything.
func tryIn(site *search.Site, p Place, c search.Candidate, tilt float64) (search.Fit, bool) {
	for _, at := range startsIn(p, c) {
		r := site.Clearance(c.Solid, at)
		if r.Clearance < withinReach {
			continue
		}
		if r.Clearance < 0 {
			at, r = site.Settle(c, at, tilt)
		}
		if r.Clearance >= 0 {
			return search.Fit{Candidate: c, Pose: at, Clearance: r.Clearance, LimitedBy: r.LimitedBy}, true
		}
	}
	return search.Fit{}, false
}

// startsIn are poses of a candidate in the middle of a place: as long as that one
// and across it, with the girdles level and with the middles of their heights.
func startsIn(p Place, c search.Candidate) []search.Pose {
	axes := p.Pose.Axes
	if c.Face != p.Face {
		axes = axes.Mul(geometry.Mat3{U: geometry.Vec3{X: 1}, V: geometry.Vec3{Y: -1}, W: geometry.Vec3{Z: -1}})
	}
	lo, hi := p.Solid.Outline.Extent()
	middle := geometry.Vec3{X: (lo.X + hi.X) / 2, Y: (lo.Y + hi.Y) / 2, Z: p.Solid.CentreOfHeight()}
	to := p.Pose.Place(middle)
	lo, hi = c.Solid.Outline.Extent()
	own := geometry.Vec3{X: (lo.X + hi.X) / 2, Y: (lo.Y + hi.Y) / 2, Z: c.Solid.CentreOfHeight()}
	var out []search.Pose
	for _, turn := range []float64{0, math.Pi / 2} {
		a := axes.Mul(geometry.RotZ(turn))
		out = append(out, search.Pose{Origin: to.Sub(a.Apply(own)), Axes: a})
		if c.Solid.Outline.TurnPeriod() == 0 {
			break
		}
	}
	return out
}

// heaviestFirst orders candidates by volume.
func heaviestFirst(c []search.Candidate) {
	slices.SortStableFunc(c, func(a, b search.Candidate) int { return cmp.Compare(b.Solid.Volume(), a.Solid.Volume()) })
}
