package odds

import (
	"context"
	"math"

	"cabwright/geometry"
	"cabwright/geometry/outline"
	"cabwright/planner"
	"cabwright/planner/search"
)

// IfNot finds the heaviest stone that can be cut for sure when a place fails: one that
// keeps all allowances with every mark at its most and lies, seen from above, within
// the place's outline, as that is what the saw has left. sure are fits with every mark
// at its most, of which some may lie there; own are solids of the place's own outline,
// higher or lower than it; the candidates are tried in it, from the heaviest down. tilt is
// the largest allowed, degrees. It returns nil when none is found.
func (j *Judge) IfNot(
	ctx context.Context, p Place, sure []search.Fit, own, candidates []search.Candidate, tilt float64,
) *search.Fit {
	within := inPlan(p.Solid, p.Pose)
	best := j.ownIfNot(p, own)
	for _, f := range sure {
		if (best == nil || f.Carat > best.Carat) && f.Carat < p.Carat && insideOf(within, hullInPlan(f.Solid, f.Pose)) {
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
	climbs := mostClimbs
	for _, c := range candidates {
		volume := c.Solid.Volume()
		if volume >= p.Volume {
			continue
		}
		if best != nil && volume*perMM3 <= best.Carat || ctx.Err() != nil {
			break
		}
		if c.Solid.Height() > height || !sizeOf(inPlan(c.Solid, search.Pose{Axes: geometry.Identity3()})).within(room) {
			continue
		}
		if f, ok := tryIn(site, p, c, tilt, &climbs); ok {
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

// ownIfNot finds the heaviest solid of the place's own outline that is sure over or under
// the place; nil: none is.
func (j *Judge) ownIfNot(p Place, own []search.Candidate) *search.Fit {
	site := j.levelSite(1)
	for _, c := range own {
		if c.Solid.Volume() >= p.Volume || c.Face != p.Face && !evenAbout(c.Solid.Outline) {
			continue
		}
		at, room := lifted(search.NewScreen(c), site, startsIn(p, c)[0])
		if room > -screenDoubt && site.Keeps(c.Solid, at) {
			f := j.weighed(search.Fit{Candidate: c, Pose: at}, p.Fit)
			return &f
		}
	}
	return nil
}

// evenAbout reports whether an outline turned over about its length is as it was.
func evenAbout(o outline.Outline) bool {
	for i := range outlineSteps / 2 {
		angle := 2 * math.Pi * float64(i) / outlineSteps
		if math.Abs(o.Radius(angle)-o.Radius(-angle)) > 1e-6 {
			return false
		}
	}
	return true
}

// screenDoubt is by how much samples may see less room than there is, mm.
const screenDoubt = 0.02

// mostClimbs bounds the climbs for one place. What then is left of the list, lighter and
// lighter, is only tried in the middle of the place.
const mostClimbs = 40

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

// What is short by more than these, mm, is not raised or lowered, or not climbed for: the
// next smaller size has about half a millimetre more all round.
const (
	hopeless = -1.5
	nearMiss = -0.3
)

// tryIn looks for a pose of a candidate about where a place is that keeps everything, with
// no more climbs than are left.
func tryIn(site *search.Site, p Place, c search.Candidate, tilt float64, climbs *int) (search.Fit, bool) {
	screen := search.NewScreen(c)
	for _, at := range startsIn(p, c) {
		at, room := lifted(screen, site, at)
		if room < nearMiss {
			continue
		}
		if !site.Keeps(c.Solid, at) {
			if *climbs == 0 {
				continue
			}
			*climbs--
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

// lifted raises or lowers a solid to where it has the most room, mm, as its samples see it:
// what spoils a place is above or below it more often than not.
func lifted(screen *search.Screen, site *search.Site, at search.Pose) (search.Pose, float64) {
	look := func(at search.Pose, stop float64) float64 {
		screen.Lay(at)
		return screen.About(site, stop)
	}
	room := look(at, hopeless)
	if room < hopeless {
		return at, room
	}
	for _, step := range []float64{0.5, -0.5, 0.1, -0.1} {
		for room < 0 {
			next := at
			next.Origin.Z += step
			r := look(next, room)
			if r <= room {
				break
			}
			at, room = next, r
		}
	}
	return at, room
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
