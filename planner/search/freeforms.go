package search

import (
	"cmp"
	"math"
	"slices"

	"cabwright/geometry"
	"cabwright/planner"
	"cabwright/presets"
)

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

// How many places freeforms are improved from, for one face and back, and of how many
// calibrated fits the places are looked at.
const (
	mostSpots   = 4
	mostOfFits  = 5
	spotsApart  = 1.5 // mm: nearer ones lead to the same freeform
	quickSpots  = 1
	firstWidth  = 0.7 // of a deep place: the share of its clearance all round that is tried first as half the width
	leastWidth  = 4.0 // mm: narrower freeforms are not asked about
	tangentStep = 2 * math.Pi / 720
)

// freeforms adds to the trials the best freeform for every face and back. At first
// only where the heaviest calibrated fit lies, which takes little and comes near; in
// full from the poses of several fits and from deep places all over the stone.
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
	found := make([]*trial, len(asks))
	r.wave(len(asks), func(k int) { found[k] = r.freeformOf(asks[k].face, asks[k].back, full) })
	for _, t := range found {
		if t != nil {
			r.addFreeform(t)
		}
	}
	r.tell()
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
	ff *freeform
	spot
}

// freeformOf returns the heaviest freeform found for one face and back, or nil.
func (r *run) freeformOf(face planner.Face, back presets.BackStyle, full bool) *trial {
	wall, _ := r.set.Wall(r.set.Defaults.Wall)
	var fits []*trial
	for _, t := range r.trials {
		if t.size >= 0 && t.fits() && t.Face == face && t.BackStyle == back.Key {
			fits = append(fits, t)
		}
	}
	var best *trial
	better := func(t *trial) {
		if t != nil && t.verdict == Fits && (best == nil || t.volume > best.volume) {
			best = t
		}
	}
	var starts []spotOf
	for _, style := range r.set.DomeStyles {
		ff := &freeform{run: r, face: face, back: back, style: style, wall: wall, detail: roughDetail}
		for _, s := range ff.spots(fits, full) {
			starts = append(starts, spotOf{ff, s})
		}
	}
	slices.SortStableFunc(starts, func(a, b spotOf) int { return cmp.Compare(b.spot.volume, a.spot.volume) })
	most := quickSpots
	if full {
		most = mostSpots
	}
	for _, s := range starts[:min(most, len(starts))] {
		if r.ctx.Err() == nil {
			better(s.ff.from(s.spot, full))
		}
	}
	if full {
		for _, t := range fits {
			if best != nil && t.volume <= best.volume {
				break
			}
			style := r.set.DomeStyles[slices.IndexFunc(r.set.DomeStyles, func(d presets.DomeStyle) bool { return d.Key == t.DomeStyle })]
			ff := &freeform{run: r, face: face, back: back, style: style, wall: wall, detail: closeDetail}
			better(ff.same(t))
		}
	}
	return best
}

// spots returns where freeforms are improved from, those that hold most first: the
// poses of calibrated fits with the same dome style, and deep places.
func (ff *freeform) spots(fits []*trial, full bool) []spot {
	var all []spot
	for _, t := range fits[:min(len(fits), mostOfFits)] {
		if full || t.DomeStyle == ff.style.Key {
			all = append(all, spot{at: girdle(t), width: t.Solid.Outline.Width})
		}
	}
	if full || len(all) == 0 {
		f := ff.run.field
		for _, d := range ff.run.deep {
			half := f.Estimate(d, math.Inf(1)) + f.Allowance()
			width := max(leastWidth, 2*half/firstWidth)
			c := ff.body(width)
			z := (c.Wall + c.Dome - c.BackDepth()) / 2
			if ff.face == planner.Base {
				z = -z
			}
			all = append(all, spot{at: coord{d.X, d.Y, d.Z - z}, width: width})
		}
	}
	for k := range all {
		if ff.run.ctx.Err() != nil {
			return nil
		}
		all[k].volume, _ = ff.volume(all[k].at, all[k].width)
	}
	slices.SortStableFunc(all, func(a, b spot) int { return cmp.Compare(b.volume, a.volume) })
	most := quickSpots
	if full {
		most = mostSpots
	}
	var out []spot
	for _, s := range all {
		apart := s.volume > 0
		for _, o := range out {
			apart = apart && o.at.place().Sub(s.at.place()).Norm() >= spotsApart
		}
		if apart && len(out) < most {
			out = append(out, s)
		}
	}
	return out
}

// girdle returns a fit's pose with the pivot on its girdle plane and the length axis
// where the outline's own is.
func girdle(t *trial) coord {
	flat := model{flip: t.model.flip}
	return flat.coordOf(t.model.pose(t.at))
}

// from improves a spot and returns the trial it leads to. Level comes first, so that
// what may lean is never lighter than what may not.
func (ff *freeform) from(s spot, full bool) *trial {
	var best *trial
	limits := []float64{0}
	if ff.run.tiltMax > 0 {
		limits = append(limits, ff.run.tiltMax)
	}
	for _, limit := range limits {
		if limit == 0 && within(s.at, 0) != s.at && len(limits) > 1 {
			continue // it leans already
		}
		s.at = within(s.at, limit)
		ff.detail = roughDetail
		s = ff.improve(s, limit)
		if full {
			ff.detail = closeDetail
			s = ff.improve(s, limit)
		}
		ff.detail = closeDetail
		if t := ff.finish(s); t != nil && (best == nil || t.volume > best.volume) {
			best = t
		}
	}
	return best
}

// same returns a calibrated fit's own outline as a freeform, where it is convex and
// nowhere too sharp: the lines that touch it, so close that they stand off by less than
// a micrometre. It stands where no freeform found is as heavy.
func (ff *freeform) same(t *trial) *trial {
	o := t.Solid.Outline
	if !o.Convex() || len(o.Corners()) > 0 {
		return nil
	}
	n := int(2 * math.Pi / tangentStep)
	points := o.Points(n)
	poly := make([]geometry.Vec2, 0, n)
	for i, p := range points {
		before, q := points[(i+n-1)%n], points[(i+1)%n]
		if sharper(before, p, q, ff.run.opt.CornerRadius) {
			return nil
		}
		// Where the touching lines at two neighbours meet, both taken along the chords.
		after := points[(i+2)%n]
		poly = append(poly, meeting(p, q.Sub(before), q, after.Sub(p)))
	}
	free := ff.trial(poly, t.model.pose(t.at))
	if free != nil && free.verdict != Fits {
		free.at = free.model.coordOf(t.model.pose(t.at))
		accept(newProber(ff.run.field, free.model, ff.run.tiltMax), free, free.at, fewSteps)
	}
	return free
}

// sharper tells whether the circle through three points has less than the radius.
func sharper(a, b, c geometry.Vec2, radius float64) bool {
	ab, bc, ca := b.Sub(a), c.Sub(b), a.Sub(c)
	twice := math.Abs(ab.Cross(bc))
	return ab.Norm()*bc.Norm()*ca.Norm() < 2*twice*radius
}
