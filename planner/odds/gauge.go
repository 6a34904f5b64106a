package odds

import (
	"math"

	"cabwright/planner/search"
)

// gauge measures one solid at many poses: first by samples of it, which tell at once
// about how far each mark may go, and what that leaves open on the exact shapes.
// Each goroutine has its own.
type gauge struct {
	judge    *Judge
	fit      search.Candidate
	pose     search.Pose
	screen   *search.Screen
	hints    [][]hint // by question and slice, at the pose; nil: not asked for yet
	touching [2][]int32
}

func (j *Judge) newGauge(c search.Candidate) *gauge {
	return &gauge{judge: j, fit: c, screen: search.NewScreen(c), hints: make([][]hint, len(j.questions))}
}

// lay puts the solid at a pose.
func (g *gauge) lay(at search.Pose) {
	g.pose = at
	g.screen.Lay(at)
	clear(g.hints)
}

// hintsOf returns what the samples tell of the reaches of a question, by slice. One
// slice's run-on holds the one's before, so what touches that touches this.
func (g *gauge) hintsOf(k int) []hint {
	if g.hints[k] != nil {
		return g.hints[k]
	}
	q := g.judge.questions[k]
	out := make([]hint, len(q.slices))
	among, use := []int32(nil), 0
	for i := len(out) - 1; i >= 0; i-- {
		out[i] = q.unknown()
		if i+1 < len(out) && among == nil {
			continue // even the further run-on touches nothing
		}
		site := g.judge.site(k, i, q.last())
		if site == nil {
			among = nil
			continue
		}
		touched := g.screen.Touching(site, fine, among, g.touching[use][:0])
		g.touching[use] = touched
		use = 1 - use
		if len(touched) == 0 {
			among = nil
			continue
		}
		among = touched
		out[i] = g.bisect(k, i, touched)
	}
	g.hints[k] = out
	return out
}

// fewRungs is how many rungs of a spread the samples are held against: more tables of
// marks take longer to make than the closer look is worth.
const fewRungs = 32

// clearOf is a clearance, mm, that decides nothing: what keeps more may be taken to keep
// just that.
const clearOf = 1.0

// bisect finds between which two of a few rungs samples begin to break the allowance,
// and about where between these. The samples break it at the worst.
func (g *gauge) bisect(k, slice int, touching []int32) hint {
	q := g.judge.questions[k]
	h := hint{-1, q.last(), -1}
	if q.What == There {
		return h
	}
	least := func(rung int) float64 {
		site := g.judge.site(k, slice, rung)
		if site == nil {
			return clearOf
		}
		return g.screen.Least(site, touching, clearOf)
	}
	above := least(0)
	if above < -fine {
		h.fails = 0
		return h
	}
	below := least(h.fails)
	stride := q.last()/fewRungs + 1
	good := 0
	for h.fails-good > stride {
		m := (good + h.fails) / 2 / stride * stride
		if m <= good {
			m = good + stride
		}
		if v := least(m); v < -fine {
			h.fails, below = m, v
		} else {
			good, above = m, v
		}
	}
	// Clearance falls evenly where a mark comes straight on.
	share := (above + fine) / math.Max(1e-9, above-below)
	h.guess = good + int(float64(h.fails-good)*math.Min(1, math.Max(0, share)))
	return h
}

// atMost returns the largest odds that a question can have at the pose, about, as the
// samples tell.
func (g *gauge) atMost(k int) float64 {
	return g.judge.questions[k].limit(g.hoped(k)).Factor
}

// hoped is how much of each slice the samples allow.
func (g *gauge) hoped(k int) []reach {
	q := g.judge.questions[k]
	out := make([]reach, len(q.slices))
	for i, h := range g.hintsOf(k) {
		out[i] = q.reachTo(min(h.guess, h.fails-1))
	}
	return out
}

// reaches finds how much of each slice of a question the solid allows, on the exact
// shapes, or false as soon as its factor can't be more than need. One slice's run-on holds
// the one's before, so that one allows no less.
func (g *gauge) reaches(k int, need float64) ([]reach, bool) {
	q, hints, out := g.judge.questions[k], g.hintsOf(k), g.hoped(k)
	keeps := -1
	for i := len(out) - 1; i >= 0; i-- {
		h := hints[i]
		h.keeps = min(keeps, h.fails-1)
		keeps = q.find(h, func(rung int) bool { return g.judge.keeps(k, i, rung, g.fit.Solid, g.pose) })
		out[i] = q.reachTo(keeps)
		if need > 0 && q.limit(out).Factor <= need {
			return out, false
		}
	}
	return out, true
}
