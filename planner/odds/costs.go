package odds

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"

	"cabwright/planner"
	"cabwright/planner/search"
)

// Cost is what a mark or a choice costs: by how many carats the best stone would be
// heavier otherwise. What is cheap to find is a lower bound.
type Cost struct {
	ID      string // the mark's, "" for all marks together
	What    string // in words: "without P1"
	AtLeast float64
	Decided bool // it is no more than that, either
}

// Variant is the stone with one thing otherwise.
type Variant struct {
	ID    string // the mark that is changed, "skin", "spare", or "" for more than one
	Name  string // in words: "without P1"
	Stone planner.Stone
	Less  float64 // how much less spare is wanted, mm
}

// thinnerSkin is how much less skin the choice of a thinner one leaves, mm: what half
// of the step from a wheel of 220 to one of 600 takes off (from memory).
const thinnerSkin = 0.2

// Without lists the stone without each crack and pocket, and last without any.
func Without(s planner.Stone) []Variant {
	var out []Variant
	for i, k := range s.Cracks {
		v := s
		v.Cracks = slices.Delete(slices.Clone(s.Cracks), i, i+1)
		out = append(out, Variant{ID: k.ID, Name: "without " + planner.Visible(k.ID), Stone: v})
	}
	for i, p := range s.Pockets {
		v := s
		v.Pockets = slices.Delete(slices.Clone(s.Pockets), i, i+1)
		out = append(out, Variant{ID: p.ID, Name: "without " + planner.Visible(p.ID), Stone: v})
	}
	if len(out) > 1 {
		v := s
		v.Cracks, v.Pockets = nil, nil
		out = append(out, Variant{ID: "", Name: "without any of them", Stone: v})
	}
	return out
}

// Choices lists what the cutter could do otherwise: seal each crack that is not
// sealed, leave a thinner skin, or want half the spare, mm, if any is wanted.
func Choices(s planner.Stone, spare float64) []Variant {
	var out []Variant
	for i, k := range s.Cracks {
		if k.Sealed || s.Allowances.SealedCrack >= s.Allowances.Crack {
			continue
		}
		v := s
		v.Cracks = slices.Clone(s.Cracks)
		v.Cracks[i].Sealed = true
		out = append(out, Variant{ID: k.ID, Name: planner.Visible(k.ID) + " sealed", Stone: v})
	}
	if s.Allowances.Skin > thinnerSkin {
		v := s
		v.Allowances.Skin -= thinnerSkin
		out = append(out, Variant{ID: "skin", Name: "a skin thinner by 0.2 mm", Stone: v})
	}
	if spare > 0 {
		name := fmt.Sprintf("%.2g mm to spare, not %.2g", spare/2, spare)
		out = append(out, Variant{ID: "spare", Name: name, Stone: s, Less: spare / 2})
	}
	return out
}

// Gain finds by how much the best fit of a variant outweighs that of the plan, by a
// search of its own that goes on from the plan's; progress, if not nil, gets it as it grows.
func Gain(
	ctx context.Context, find Search, v Variant, plan search.Plan, opt search.Options, progress func(Cost),
) (Cost, error) {
	site, err := search.Open(plan.Stone)
	if err != nil {
		return Cost{}, err
	}
	wanted, best := opt.Spare, Heaviest(plan.Fits, opt.Spare)
	opt.Spare -= v.Less
	opt.After = &plan
	cost := func(p search.Plan, decided bool) Cost {
		// A freeform is never known to be the best: a heavier one that needs no change is
		// no gain of it.
		anyway := func(f search.Fit) bool {
			return freeform(f) && site.Clearance(f.Solid, f.Pose).Clearance >= wanted
		}
		return Cost{v.ID, v.Name, outweighs(p.Fits, best, opt.Spare, anyway), decided}
	}
	inner, stop := context.WithCancel(ctx)
	defer stop()
	var last *search.Plan
	done, err := find(inner, v.Stone, opt, func(p search.Plan) {
		if last != nil {
			return
		}
		if p.Settled {
			last = &p
			stop()
		} else if progress != nil {
			progress(cost(p, false))
		}
	})
	switch {
	case last != nil:
		return cost(*last, last.Decided()), nil
	case err != nil:
		return Cost{}, err
	}
	return cost(done, done.Stopped == search.Complete), nil
}

func freeform(f search.Fit) bool { return len(f.Solid.Outline.Polygon) > 0 }

// outweighs is by how many carats the heaviest of some fits with a spare, mm, is heavier
// than the best known and than any that can be had anyway.
func outweighs(fits []search.Fit, best, spare float64, anyway func(search.Fit) bool) float64 {
	most := best
	for _, f := range fits {
		if f.Carat <= best || !f.HasSpare(spare) {
			continue
		}
		if anyway(f) {
			best = f.Carat
		}
		most = max(most, f.Carat)
	}
	return most - best
}

// Heaviest returns the carats of the heaviest fit that has the spare wanted, mm; 0 for
// none.
func Heaviest(fits []search.Fit, spare float64) float64 {
	most := 0.0
	for _, f := range fits {
		if f.HasSpare(spare) {
			most = max(most, f.Carat)
		}
	}
	return most
}

// costs finds quickly what each mark costs at the least: solids heavier than the best
// fit that are not ruled out by something else are tried without it, from the poses
// known for them, with the marks at their least and for the best fits.
func (a *asking) costs(ctx context.Context) (each []Cost, all Cost) {
	best := Heaviest(a.Plan.Fits, 0)
	variants := Without(a.Plan.Stone)
	out := make([]Cost, len(variants))
	abreast(len(variants), func(i int) {
		v := variants[i]
		out[i] = Cost{ID: v.ID, What: v.Name, AtLeast: max(0, a.triedWithout(ctx, v)-best)}
	})
	all, each = together(out)
	slices.SortStableFunc(each, func(x, y Cost) int { return cmp.Compare(y.AtLeast, x.AtLeast) })
	return each, all
}

// together splits off what all marks cost, which is no less than any of them does: what
// fits without one fits without any.
func together(costs []Cost) (all Cost, each []Cost) {
	most := 0.0
	for _, c := range costs {
		most = max(most, c.AtLeast)
		if c.ID == "" {
			all = c
		} else {
			each = append(each, c)
		}
	}
	all.AtLeast = most
	return all, each
}

// The solids tried for a cost and the poses tried for each: a second or so a mark.
const (
	solidsTried = 16
	posesTried  = 3
)

// triedWithout returns the carats of the heaviest solid found to fit a variant.
func (a *asking) triedWithout(ctx context.Context, v Variant) float64 {
	site := a.judge.sure.With(v.Stone)
	fits := a.Plan.Fits
	most := 0.0
	var heavier []search.RuledOut
	best := Heaviest(fits, 0)
	for _, r := range a.Plan.RuledOut {
		ct := a.carat(r.Candidate)
		if ct > best && (v.ID == "" || slices.Contains(r.LimitedBy, v.ID)) {
			heavier = append(heavier, r)
		}
	}
	// A proof that something cannot fit stops as soon as it stands, so bounds do not tell
	// what came nearest; what is a little heavier than the best fit is tried first.
	slices.SortStableFunc(
		heavier, func(x, y search.RuledOut) int { return cmp.Compare(a.carat(x.Candidate), a.carat(y.Candidate)) },
	)
	likely := a.judge.levelSite(0.5)
	has := func(s *search.Site, f search.Fit) bool { return s.Keeps(f.Solid, f.Pose) || a.improves(s, f) }
	for _, f := range a.least {
		if f.Carat <= max(most, best) || freeform(f) && has(likely, f) {
			continue // the plan's freeform is not known to be the best: this one needs no mark away
		}
		if has(site, f) {
			most = f.Carat
		}
	}
	for _, r := range heavier[:min(len(heavier), solidsTried)] {
		ct := a.carat(r.Candidate)
		if ct <= most {
			continue
		}
		for _, start := range a.startsFor(r) {
			if ctx.Err() != nil {
				return most
			}
			if _, got := site.Improve(r.Candidate, start, a.Plan.TiltMaxDeg); got >= 0 {
				most = ct
				break
			}
		}
	}
	return most
}

// improves reports whether a fit of the stone with its marks at their least is one near
// by on a site.
func (a *asking) improves(site *search.Site, f search.Fit) bool {
	_, got := site.Improve(f.Candidate, f.Pose, a.Plan.TiltMaxDeg)
	return got >= 0
}

// startsFor are the pose that came nearest for a solid and those of the heaviest fits
// on its face.
func (a *asking) startsFor(r search.RuledOut) []search.Pose {
	var out []search.Pose
	if r.Short != nil {
		out = append(out, r.Pose)
	}
	for _, f := range a.Plan.Fits {
		if len(out) >= posesTried {
			break
		}
		if f.Face == r.Face {
			p := Place{Fit: f}
			out = append(out, startsIn(p, r.Candidate)[0])
		}
	}
	return out
}

// carat weighs a solid as the plan's fits are weighed.
func (a *asking) carat(c search.Candidate) float64 {
	if len(a.Plan.Fits) > 0 {
		f := a.Plan.Fits[0]
		return c.Solid.Volume() * f.Carat / f.Volume
	}
	if a.Plan.Stone.SG > 0 {
		return planner.Carat(c.Solid.Volume(), a.Plan.Stone.SG)
	}
	return math.NaN()
}
