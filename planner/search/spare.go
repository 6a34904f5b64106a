package search

import (
	"math"
	"math/rand/v2"
	"slices"

	"cabwright/planner/search/internal/climbing"
)

// spareSought is how many of the heaviest fits are moved for the spare that is asked for:
// three screenfuls.
const spareSought = 3 * listed

// seekSpare looks for places that have the spare asked for, of the heaviest fits that have
// not: a fit is taken where it was met first, which need not be where it keeps most.
func (r *run) seekSpare(most int) {
	if r.opt.Spare <= 0 {
		return
	}
	var short []*trial
	for _, t := range r.trials {
		if t.fits() && most > 0 {
			if most--; t.lower < r.opt.Spare {
				short = append(short, t)
			}
		}
	}
	r.inWaves(short, func(*trial) bool { return true }, r.widen, func(*trial) {})
}

// widen moves a fit to better places, from all over the stone, until it has the spare.
func (r *run) widen(t *trial) {
	p := r.prober(t, r.tiltMax)
	improve(p, t, t.at)
	random := rand.New(rand.NewPCG(uint64(t.size+2), math.Float64bits(t.volume)))
	seeds := append(slices.Clone(r.pools[t.Face].Poses), t.at)
	for _, s := range climbing.Evolve(p, climbing.WideCrowd, seeds, random, 4) {
		if t.lower >= r.opt.Spare || r.ctx.Err() != nil {
			return
		}
		improve(p, t, s.At)
	}
}

// HasSpare reports whether a fit has the clearance beyond the allowances that is
// asked for, in mm.
func (f Fit) HasSpare(spare float64) bool { return f.Clearance >= spare }

// SpareFirst puts the fits that have the spare asked for, in mm, before those
// that have not, each in the order they were in.
func SpareFirst(fits []Fit, spare float64) {
	if spare <= 0 {
		return
	}
	slices.SortStableFunc(fits, func(a, b Fit) int {
		switch has := a.HasSpare(spare); {
		case has == b.HasSpare(spare):
			return 0
		case has:
			return -1
		default:
			return 1
		}
	})
}
