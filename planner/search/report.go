package search

import (
	"cmp"
	"slices"
	"time"

	"cabwright/geometry/field"
	"cabwright/planner"
	"cabwright/planner/search/internal/bounds"
	"cabwright/planner/search/internal/certify"
	"cabwright/planner/search/internal/poses"
	"cabwright/presets"
)

// report turns trials into the fits of a plan.
type report struct {
	gravity planner.Gravity
	rough   *planner.Rough
	zones   []planner.Zone

	field     *field.Field
	names     []string // of its obstacles
	tolerance float64
}

func newReport(stone planner.Stone, rough *planner.Rough, set *presets.Set) report {
	return report{gravity: planner.GravityOf(stone, set, rough.Volume()), rough: rough, zones: stone.Colour}
}

// nearest names the obstacles within the tolerance of the least clearance, as the
// samples see it.
func (rep report) nearest(t *trial) []string {
	if t.near != nil && t.nearAt == t.at {
		return t.near
	}
	p := bounds.NewProber(rep.field, t.model, 0)
	t.near, t.nearAt = []string{}, t.at
	clearances := p.Clearances(t.at, len(rep.names))
	least := slices.Min(clearances)
	for k, d := range clearances {
		if d <= least+rep.tolerance {
			t.near = append(t.near, rep.names[k])
		}
	}
	return t.near
}

// fit describes a trial that fits.
func (rep report) fit(t *trial) Fit {
	c := t.Solid
	size := [3]float64{c.Outline.Length, c.Outline.Width, c.Height()}
	band := planner.CaratBand(t.volume, size, planner.DimensionTolerance, rep.gravity)
	pose := t.model.Pose(t.at)
	if !t.weighed || t.weighedAt != t.at {
		t.weighed, t.weighedAt = true, t.at
		t.colour = planner.ColourShare(rep.rough, rep.zones, t.Face, t.Solid, pose.Place)
	}
	limits := t.limits
	if t.limits == nil || t.limitsAt != t.at {
		limits = rep.nearest(t) // until they are certified
	}
	return Fit{
		Candidate: t.Candidate, Pose: pose, Clearance: t.lower, Proved: t.proved, LimitedBy: limits,
		Volume: t.volume, Carat: band.Likely, CaratLow: band.Low, CaratHigh: band.High, Colour: t.colour,
	}
}

// describe certifies what the heaviest fits are limited by, so many of them at most.
func (r *run) describe(most int) {
	var fits []*trial
	for _, t := range r.trials {
		if t.fits() && len(fits) < most && (t.limits == nil || t.limitsAt != t.at) {
			fits = append(fits, t)
		}
	}
	r.inWaves(fits, func(*trial) bool { return true }, func(t *trial) {
		t.limitsAt = t.at
		t.limits = certify.Limits(r.field, r.names, t.Solid, t.model.Pose(t.at), t.lower+certify.Resolution, r.opt.Tolerance)
	}, func(*trial) {})
}

// refusalOf describes a trial that does not fit or is undecided.
func (r *run) refusalOf(t *trial) RuledOut {
	out := RuledOut{Candidate: t.Candidate, Bound: t.bound, Verdict: t.verdict}
	if t.model != nil && t.value > unknownValue {
		out.Pose, out.Clearance = t.model.Pose(t.at), t.value
		if t.whyAt == t.at {
			out.Short = t.why
		}
	}
	why := t.reason()
	for _, s := range why {
		if s.MM >= why[0].MM-r.opt.Tolerance {
			out.LimitedBy = append(out.LimitedBy, s.ID)
		}
	}
	return out
}

// reason is what is in the way of a trial, or of the one whose refusal ruled it out.
func (t *trial) reason() []Shortfall {
	for o := t; o != nil; o = o.from {
		if o.why != nil {
			return o.why
		}
	}
	return nil
}

// explainAll notes what is in the way of all that does not fit, at the best poses known.
func (r *run) explainAll() {
	r.inWaves(slices.Clone(r.trials), func(t *trial) bool { return t.verdict != Fits && !t.passed }, r.explain,
		func(*trial) {})
}

// explain notes what is in the way of a trial at the best pose known.
func (r *run) explain(t *trial) {
	if t.value == unknownValue || t.why != nil && t.whyAt == t.at {
		return
	}
	t.whyAt, t.why = t.at, shortfalls(r.prober(t, 0), t.at, r.names)
}

// shortfalls returns by how much each obstacle is in the way at a pose, as the
// samples see it, the most first.
func shortfalls(p *bounds.Prober, at poses.Coord, names []string) []Shortfall {
	out := []Shortfall{}
	for k, d := range p.Clearances(at, len(names)) {
		if d < 0 {
			out = append(out, Shortfall{names[k], -d})
		}
	}
	slices.SortStableFunc(out, func(a, b Shortfall) int { return cmp.Compare(b.MM, a.MM) })
	return out
}

// snapshotEvery is how often a plan in the making is handed out at most: a screen
// shows no more.
const snapshotEvery = 50 * time.Millisecond

// tell hands out a snapshot if the last one is old enough. While the last list is
// looked at again there is none: it stays as it was until all of it was.
func (r *run) tell() {
	if r.emit == nil || r.stage == stageRecall || time.Since(r.last) < snapshotEvery && r.stage != stageDone {
		return
	}
	r.emit(r.plan())
	r.last = time.Now()
}

// plan gathers what was found so far, when no task runs.
func (r *run) plan() Plan {
	p := Plan{
		Stone: r.stone, Sizes: r.sizes, TiltMaxDeg: r.opt.TiltMaxDeg, Tolerance: r.opt.Tolerance, Progress: r.done,
		Elapsed: time.Since(r.start), Stage: r.stage, Settled: r.answered, Boxes: r.boxes, memory: r.remember(),
		FreeformMost: planner.Carat(r.most, r.report.gravity.Likely),
	}
	for _, t := range r.trials {
		switch {
		case t.passed:
		case t.verdict == Fits:
			p.Fits = append(p.Fits, r.report.fit(t))
		default:
			p.RuledOut = append(p.RuledOut, r.refusalOf(t))
			if t.open() {
				p.HeaviestOpen = max(p.HeaviestOpen, planner.Carat(t.volume, r.report.gravity.Likely))
			}
		}
	}
	if r.stage == stageDone || r.ctx.Err() != nil {
		p.Stopped = r.reason()
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
