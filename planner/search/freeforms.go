package search

import (
	"cmp"
	"math"
	"slices"

	"cabwright/geometry"
	"cabwright/planner"
	"cabwright/planner/search/internal/bounds"
	"cabwright/planner/search/internal/climbing"
	"cabwright/planner/search/internal/freeform"
	"cabwright/planner/search/internal/poses"
	"cabwright/presets"
)

// wantsFreeform tells whether the options ask for freeforms.
func (o Options) wantsFreeform() bool {
	if o.NoFreeform {
		return false
	}
	return len(o.Shapes) == 0 || slices.Contains(o.Shapes, Freeform)
}

// Freeform is the name of the shape of freeform fits.
const Freeform = "freeform"

// FreeformRadius is the least radius of curvature of a freeform's outline, mm,
// where the options do not say: a bezel is hard to set round anything sharper
// (common practice).
const FreeformRadius = 1.5

// How many places freeforms are improved from, for one face and back, and of how many
// calibrated fits the places are looked at.
const (
	mostSpots   = 4
	mostRough   = 10 // of which the best are looked at closely
	mostOfFits  = 10
	spotsApart  = 1.5 // mm: nearer ones lead to the same freeform
	spotsAlike  = 0.3 // mm, of the middle or of a point so far from it: they hold the same one
	spotArm     = 8.0
	quickSpots  = 1
	firstWidth  = 0.7 // of a deep place: the share of its clearance all round that is tried first as half the width
	leastWidth  = 4.0 // mm: narrower freeforms are not asked about
	tangentStep = 2 * math.Pi / 720
)

// faceAndBack is what one freeform is found for.
type faceAndBack struct {
	face planner.Face
	back string
}

// freeforms adds to the trials the best freeform for every face and back. At first
// only where the heaviest calibrated fit lies, which takes little and comes near; in
// full from the poses of several fits and from deep places all over the stone. Leaning
// ones begin where the level ones ended.
func (r *run) freeforms(full bool) {
	type ask struct {
		face planner.Face
		back presets.BackStyle
	}
	var asks []ask
	for _, face := range r.opt.Faces {
		for _, back := range r.set.BackStyles {
			if len(r.opt.Sides) == 0 || slices.Contains(r.opt.Sides, back.Sides()) {
				asks = append(asks, ask{face, back})
			}
		}
	}
	found, spots := make([]*trial, len(asks)), make([][]spotOf, len(asks))
	r.wave(len(asks), func(k int) { found[k], spots[k] = r.freeformOf(asks[k].face, asks[k].back, full) })
	for k, t := range found {
		if full && r.tiltMax == 0 && r.ended != nil {
			r.ended[faceAndBack{asks[k].face, asks[k].back.Key}] = spots[k]
		}
		if t != nil {
			r.addFreeform(t)
		}
	}
	r.tell()
}

// boundFreeforms bounds what a level freeform can have, whatever its face, back and dome.
func (r *run) boundFreeforms() {
	if r.ctx.Err() != nil {
		return
	}
	room, most := freeform.NewRoom(r.field, r.opt.Workers), 0.0
	for _, face := range r.opt.Faces {
		for _, back := range r.set.BackStyles {
			for _, style := range r.set.DomeStyles {
				if r.ctx.Err() != nil {
					return // the largest of some is no bound
				}
				if len(r.opt.Sides) == 0 || slices.Contains(r.opt.Sides, back.Sides()) {
					most = max(most, room.Most(r.freeformLike(face, back, style)))
				}
			}
		}
	}
	r.most = most
}

// addFreeform puts a freeform among the trials, in place of a lighter one of the same
// face and back.
func (r *run) addFreeform(t *trial) {
	for k, o := range r.trials {
		if o.size < 0 && o.Face == t.Face && o.BackStyle == t.BackStyle {
			if o.volume >= t.volume {
				return
			}
			r.trials = slices.Delete(r.trials, k, k+1)
			break
		}
	}
	r.trials = append(r.trials, t)
	heaviestFirst(r.trials)
}

// spotOf is a spot with the dome style that it was looked at with.
type spotOf struct {
	ff   *freeform.Shaper
	spot freeform.Spot
}

// finishedShare is the share of what a spot was measured to hold that the freeform finished
// there has at the most, as a rule: what lies between the rays takes a little.
const finishedShare = 0.99

func heaviestSpotFirst(spots []spotOf) {
	slices.SortStableFunc(spots, func(a, b spotOf) int { return cmp.Compare(b.spot.Volume, a.spot.Volume) })
}

// eachOnce returns the spots, heaviest first, without those that have come to where a
// heavier one is.
func eachOnce(spots []spotOf) (out []spotOf) {
	for _, s := range spots {
		again := func(o spotOf) bool {
			a, b := o.spot.At, s.spot.At
			leans := math.Abs(a[poses.Lean]-b[poses.Lean]) + math.Abs(a[poses.Lean+1]-b[poses.Lean+1])
			return o.ff.Style.Key == s.ff.Style.Key && a.Pivot().Sub(b.Pivot()).Norm()+spotArm*leans < spotsAlike
		}
		if !slices.ContainsFunc(out, again) {
			out = append(out, s)
		}
	}
	return out
}

// freeformOf returns the heaviest freeform found for one face and back, or nil, and the
// places that were looked at closely.
func (r *run) freeformOf(face planner.Face, back presets.BackStyle, full bool) (best *trial, improved []spotOf) {
	var fits []*trial
	for _, t := range r.trials {
		if t.size >= 0 && t.fits() && t.Face == face && t.BackStyle == back.Key {
			fits = append(fits, t)
		}
	}
	better := func(t *trial) {
		if t != nil && t.verdict == Fits && (best == nil || t.volume > best.volume) {
			best = t
		}
	}
	improved = r.improvedSpots(face, back, fits, full)
	// Most time goes into certifying, so what can hardly be the heaviest is left out.
	heaviestSpotFirst(improved)
	improved = eachOnce(improved)
	for _, s := range improved {
		if r.ctx.Err() == nil && (best == nil || best.volume < s.spot.Volume*finishedShare) {
			better(r.trialOf(s.ff, s.ff.Finish(s.spot), face))
		}
	}
	if full {
		for _, t := range fits {
			if best != nil && t.volume <= best.volume {
				break
			}
			of := func(d presets.DomeStyle) bool { return d.Key == t.DomeStyle }
			style := r.set.DomeStyles[slices.IndexFunc(r.set.DomeStyles, of)]
			better(r.same(r.freeformLike(face, back, style), t))
		}
	}
	return best, improved
}

// improvedSpots returns places for freeforms of one face and back, moved to where they
// hold most.
func (r *run) improvedSpots(face planner.Face, back presets.BackStyle, fits []*trial, full bool) []spotOf {
	var starts []spotOf
	for _, style := range r.set.DomeStyles {
		ff := r.freeformLike(face, back, style)
		for _, s := range r.spots(ff, fits, full) {
			starts = append(starts, spotOf{ff, s})
		}
	}
	heaviestSpotFirst(starts)
	if !full {
		return r.movedRoughly(starts[:min(quickSpots, len(starts))])
	}
	starts = starts[:min(mostRough, len(starts))]
	if r.tiltMax > 0 {
		ended := r.ended[faceAndBack{face, back.Key}]
		starts = append(starts, ended[:min(mostSpots, len(ended))]...)
	}
	improved := r.movedClosely(starts)
	return append(improved, r.movedAside(improved)...)
}

// movedRoughly moves spots to about where they hold most, the heaviest first then.
func (r *run) movedRoughly(starts []spotOf) []spotOf {
	rough := make([]spotOf, len(starts))
	for k, s := range starts {
		rough[k] = spotOf{s.ff, s.ff.Rough(s.spot, r.tiltMax)}
	}
	heaviestSpotFirst(rough)
	return eachOnce(rough)
}

// movedClosely moves spots to where they hold most. What holds most at first is often not
// what does in the end, so that all are moved about roughly, and only the best of these are
// looked at closely.
func (r *run) movedClosely(starts []spotOf) (out []spotOf) {
	rough := r.movedRoughly(starts)
	for _, s := range rough[:min(mostSpots, len(rough))] {
		out = append(out, spotOf{s.ff, s.ff.Close(s.spot, r.tiltMax)})
	}
	return out
}

// movedAside moves the heaviest spot some way to each side and improves it again: a pattern
// search ends on any ridge.
func (r *run) movedAside(spots []spotOf) (out []spotOf) {
	if len(spots) == 0 {
		return nil
	}
	heaviestSpotFirst(spots)
	best := spots[0]
	for k := range asideTurns {
		s, c := math.Sincos(2 * math.Pi * float64(k) / asideTurns)
		from := best.spot
		from.At[0] += asideBy * c
		from.At[1] += asideBy * s
		if spot := best.ff.Rough(from, r.tiltMax); spot.Volume > best.spot.Volume*asideShare {
			out = append(out, spotOf{best.ff, best.ff.Close(spot, r.tiltMax)})
		}
	}
	return out
}

// How often and how far, mm, the heaviest spot is moved aside, and the share of what it
// holds that is worth a close look then.
const (
	asideTurns = 6
	asideBy    = 1.5
	asideShare = 0.97
)

// freeformLike makes the search for the freeforms of one face, back and dome style.
func (r *run) freeformLike(face planner.Face, back presets.BackStyle, style presets.DomeStyle) *freeform.Shaper {
	wall, _ := r.set.Wall(r.set.Defaults.Wall)
	return &freeform.Shaper{
		Ctx: r.ctx, Field: r.field, Flip: face == planner.Base, Radius: r.opt.CornerRadius,
		Back: back, Style: style, Wall: wall, Detail: freeform.RoughDetail,
	}
}

// trialOf makes a trial of a freeform that was found; nil of none.
func (r *run) trialOf(ff *freeform.Shaper, s *freeform.Shaped, face planner.Face) *trial {
	if s == nil {
		return nil
	}
	t := &trial{
		Candidate: Candidate{Solid: s.Solid, Face: face, DomeStyle: ff.Style.Key, BackStyle: ff.Back.Key},
		volume:    s.Solid.Volume(), model: s.Model, size: -1, bound: unknownBound, at: s.At, value: s.Value, lower: s.Lower,
	}
	if s.Fits {
		t.verdict = Fits
	}
	return t
}

// spots returns where freeforms are improved from, those that hold most first: the
// poses of calibrated fits with the same dome style, and deep places. In full, leaning ones
// begin from poses that lean and from where the level ones ended.
func (r *run) spots(ff *freeform.Shaper, fits []*trial, full bool) []freeform.Spot {
	var all []freeform.Spot
	for _, t := range fits[:min(len(fits), mostOfFits)] {
		if !full && t.DomeStyle == ff.Style.Key || full && (r.tiltMax == 0 || t.at.Tilt() > 0) {
			all = append(all, freeform.Spot{At: girdle(t), Width: t.Solid.Outline.Width})
		}
	}
	if full && r.tiltMax == 0 || len(all) == 0 {
		all = append(all, r.deepSpots(ff)...)
	}
	for k := range all {
		if r.ctx.Err() != nil {
			return nil
		}
		all[k].At = poses.Within(all[k].At, r.tiltMax)
		all[k].Volume, _ = ff.Volume(all[k].At, all[k].Width)
	}
	slices.SortStableFunc(all, func(a, b freeform.Spot) int { return cmp.Compare(b.Volume, a.Volume) })
	most := quickSpots
	if full {
		most = mostRough
	}
	var out []freeform.Spot
	for _, s := range all {
		apart := s.Volume > 0
		for _, o := range out {
			apart = apart && o.At.Pivot().Sub(s.At.Pivot()).Norm() >= spotsApart
		}
		if apart && len(out) < most {
			out = append(out, s)
		}
	}
	return out
}

// deepSpots returns the places of the stone with the most clearance, with a first width.
func (r *run) deepSpots(ff *freeform.Shaper) (out []freeform.Spot) {
	for _, d := range r.deep {
		half := r.field.Estimate(d, math.Inf(1)) + r.field.Allowance()
		width := max(leastWidth, 2*half/firstWidth)
		c := ff.Body(width)
		z := (c.Wall + c.Dome - c.BackDepth()) / 2
		if ff.Flip {
			z = -z
		}
		out = append(out, freeform.Spot{At: poses.Coord{d.X, d.Y, d.Z - z}, Width: width})
	}
	return out
}

// girdle returns a fit's pose with the pivot on its girdle plane and the length axis
// where the outline's own is.
func girdle(t *trial) poses.Coord {
	flat := poses.Model{Flip: t.model.Flip}
	return flat.CoordOf(t.model.Pose(t.at))
}

// same returns a calibrated fit's own outline as a freeform, where it is convex and
// nowhere too sharp: the lines that touch it, so close that they stand off by less than
// a micrometre. It stands where no freeform found is as heavy.
func (r *run) same(ff *freeform.Shaper, t *trial) *trial {
	o := t.Solid.Outline
	if !o.Convex() || len(o.Corners()) > 0 {
		return nil
	}
	n := int(2 * math.Pi / tangentStep)
	points := o.Points(n)
	poly := make([]geometry.Vec2, 0, n)
	for i, p := range points {
		before, q := points[(i+n-1)%n], points[(i+1)%n]
		if sharper(before, p, q, r.opt.CornerRadius) {
			return nil
		}
		// Where the touching lines at two neighbours meet, both taken along the chords.
		after := points[(i+2)%n]
		poly = append(poly, geometry.Meeting(p, q.Sub(before), q, after.Sub(p)))
	}
	free := r.trialOf(ff, ff.Over(poly, t.model.Pose(t.at)), t.Face)
	if free != nil && free.verdict != Fits {
		free.at = free.model.CoordOf(t.model.Pose(t.at))
		accept(bounds.NewProber(r.field, free.model, r.tiltMax), free, free.at, climbing.FewSteps)
	}
	return free
}

// sharper tells whether the circle through three points has less than the radius.
func sharper(a, b, c geometry.Vec2, radius float64) bool {
	ab, bc, ca := b.Sub(a), c.Sub(b), a.Sub(c)
	twice := math.Abs(ab.Cross(bc))
	return ab.Norm()*bc.Norm()*ca.Norm() < 2*twice*radius
}
