package search

import (
	"cmp"
	"math"
	"slices"
	"time"

	"cabwright/planner"
)

// report is what one job has to show.
type report struct {
	fits []Fit
	out  []RuledOut
}

// reporter turns trials into the fits of a plan.
type reporter struct {
	gravity   planner.Gravity
	rough     *planner.Rough
	zones     []planner.Zone
	tolerance float64
}

func (r *run) reporter(rough *planner.Rough) reporter {
	return reporter{
		gravity: planner.GravityOf(r.stone, r.set, rough.Volume()),
		rough:   rough, zones: r.stone.Colour, tolerance: r.opt.Tolerance,
	}
}

// fit describes a trial that fits.
func (rep reporter) fit(j *job, t *trial) Fit {
	c := t.Solid
	band := planner.CaratBand(t.volume, [3]float64{c.Outline.Length, c.Outline.Width, c.Height()}, planner.DimensionTolerance, rep.gravity)
	pose := t.model.pose(t.at)
	return Fit{
		Candidate: t.Candidate, Pose: pose, Clearance: t.lower, Proved: t.proved,
		LimitedBy: limitsOf(j.field, j.names, c, pose, math.Inf(1), rep.tolerance),
		Volume:    t.volume, Carat: band.Likely, CaratLow: band.Low, CaratHigh: band.High,
		Colour: planner.ColourShare(rep.rough, rep.zones, t.Face, t.Solid, pose.Place),
	}
}

// show gathers what a job has, using again what it showed before of trials that
// have not changed since.
func (j *job) show() report {
	var rep report
	for _, t := range j.trials {
		switch {
		case t.passed:
		case t.verdict == Fits:
			if t.shown == nil || t.shownAt != t.at || t.shown.Clearance != t.lower || t.shown.Proved != t.proved {
				f := j.report.fit(j, t)
				t.shown, t.shownAt = &f, t.at
			}
			rep.fits = append(rep.fits, *t.shown)
		default:
			rep.out = append(rep.out, RuledOut{Candidate: t.Candidate, Bound: t.bound, LimitedBy: t.limits, Verdict: t.verdict})
		}
	}
	return rep
}

// told takes word that a job decided something, with the share of its stage that
// is done, and hands out a snapshot if the last one is old enough. It runs on the
// job's own goroutine.
func (r *run) told(j *job, share float64) {
	if r.emit == nil {
		return
	}
	r.mu.Lock()
	defer r.mu.Unlock()
	r.share[j] = share
	if time.Since(r.last) < 50*time.Millisecond {
		return
	}
	r.shown[j] = j.show()
	done := 0.0
	for _, s := range r.share {
		done += s
	}
	p := r.merge(r.begun + r.span*done/float64(len(r.jobs)))
	r.last = time.Now()
	r.emit(p)
}

// gather merges what all jobs have, when none runs.
func (r *run) gather(progress float64) Plan {
	for _, j := range r.jobs {
		r.shown[j] = j.show()
	}
	return r.merge(progress)
}

// merge ranks the fits that the jobs showed last.
func (r *run) merge(progress float64) Plan {
	p := Plan{Stone: r.stone, Sizes: r.sizes, TiltMaxDeg: r.opt.TiltMaxDeg, Tolerance: r.opt.Tolerance, Progress: progress, Elapsed: time.Since(r.start)}
	for _, j := range r.jobs {
		p.Fits = append(p.Fits, r.shown[j].fits...)
		p.RuledOut = append(p.RuledOut, r.shown[j].out...)
	}
	SortFits(p.Fits, r.opt.Rank)
	SpareFirst(p.Fits, r.opt.Spare)
	slices.SortStableFunc(p.RuledOut, func(a, b RuledOut) int { return cmp.Compare(b.Bound, a.Bound) })
	return p
}

// SortFits orders fits by a rank, ties by carats, clearance and then as they
// came.
func SortFits(fits []Fit, by Rank) {
	slices.SortStableFunc(fits, func(a, b Fit) int {
		first := 0
		switch by {
		case ByClearance:
			first = cmp.Compare(b.Clearance, a.Clearance)
		case ByColour:
			first = cmp.Compare(b.Carat*b.Colour, a.Carat*a.Colour)
		}
		return cmp.Or(first, cmp.Compare(b.Carat, a.Carat), cmp.Compare(b.Clearance, a.Clearance))
	})
}
