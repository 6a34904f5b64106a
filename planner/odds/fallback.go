package odds

import (
	"context"
	"math"

	"cabwright/geometry"
	"cabwright/planner"
	"cabwright/planner/search"
)

// IfNot finds the heaviest stone that can be cut for sure when a place fails: one that
// keeps all allowances with every mark at its most and lies, seen from above, within
// the place's outline, as that is what the saw has left. sure are fits with every mark
// at its most, of which some may lie there; the candidates are tried in it, from the
// heaviest down. tilt is the largest allowed, degrees. It returns nil when none is
// found.
func (j *Judge) IfNot(
	ctx context.Context, p Place, sure []search.Fit, candidates []search.Candidate, tilt float64,
) *search.Fit {
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
	room := sizeOf(within)
	height := j.thickness - 2*stone.Allowances.Skin
	perMM3 := p.Carat / p.Volume
	tries := 0
	for _, c := range candidates {
		volume := c.Solid.Volume()
		if volume >= p.Volume {
			continue
		}
		if best != nil && volume*perMM3 <= best.Carat || ctx.Err() != nil || tries == mostTries {
			break
		}
		if c.Solid.Height() > height || !sizeOf(inPlan(c.Solid, search.Pose{Axes: geometry.Identity3()})).within(room) {
			continue
		}
		tries++
		if f, ok := tryIn(site, p, c, tilt); ok {
			f = j.weighed(f, p.Fit)
			best = &f
			break
		}
	}
	if best != nil {
		// It lies in the whole stone, which leaves it more room than the outline it was tried
		// in, and not every fit of a plan has what holds it measured.
		r := j.levelSite(1).Clearance(best.Solid, best.Pose)
		best.Clearance, best.LimitedBy = max(0, r.Clearance), r.LimitedBy
	}
	return best
}

// mostTries bounds the climbs for one place; what a place leaves is seldom far down
// the list of what its outline has room for.
const mostTries = 40

// size is what of a convex outline can be no larger than that of one that holds it.
type size struct{ area, around, width float64 }

func sizeOf(poly []geometry.Vec2) size {
	s := size{area: geometry.Area(poly), width: planner.Extent(poly).Width}
	for i, p := range poly {
		s.around += poly[(i+1)%len(poly)].Sub(p).Norm()
	}
	return s
}

func (s size) within(room size) bool {
	const rounding = 1e-3 // mm and mm2: both are chords of curves
	return s.area <= room.area+rounding && s.around <= room.around+rounding && s.width <= room.width+rounding
}

// hopeless is the clearance, mm, below which no climb from a pose is tried: the next
// smaller size has about half a millimetre more all round.
const hopeless = -0.5

// tryIn looks for a pose of a candidate about where a place is that keeps everything.
func tryIn(site *search.Site, p Place, c search.Candidate, tilt float64) (search.Fit, bool) {
	screen := search.NewScreen(c)
	for _, at := range startsIn(p, c) {
		screen.Lay(at)
		if screen.About(site, hopeless) < hopeless {
			continue
		}
		if !site.Keeps(c.Solid, at) {
			var kept float64
			if at, kept = site.Improve(c, at, tilt); kept < 0 {
				continue
			}
		}
		r := site.Clearance(c.Solid, at)
		return search.Fit{Candidate: c, Pose: at, Clearance: max(0, r.Clearance), LimitedBy: r.LimitedBy}, true
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

// weighed fills in the weight and the colour of a fit, by those of another of the same
// stone: both specific gravities of a band are what that one's weights say.
func (j *Judge) weighed(f, like search.Fit) search.Fit {
	f.Volume = f.Solid.Volume()
	f.Carat = f.Volume * like.Carat / like.Volume
	band := func(x search.Fit) planner.Band {
		c := x.Solid
		return planner.CaratBand(
			x.Volume, [3]float64{c.Outline.Length, c.Outline.Width, c.Height()}, planner.DimensionTolerance,
			planner.Gravity{Low: 1, Likely: 1, High: 1},
		)
	}
	own, its := band(f), band(like)
	f.CaratLow, f.CaratHigh = own.Low*like.CaratLow/its.Low, own.High*like.CaratHigh/its.High
	f.Colour = search.ColourShare(j.rough, j.stone, f.Candidate, f.Pose)
	return f
}
