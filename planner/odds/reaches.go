package odds

import (
	"math"

	"cabwright/geometry/solid"
	"cabwright/planner/search"
)

// reaches finds how much of each slice of a question a placed solid allows, on the exact
// shapes; guess says about which rung of a slice is the last that keeps.
func (j *Judge) reaches(k int, c solid.Cabochon, at search.Pose, guess func(slice int) int) []reach {
	q := &j.questions[k]
	last := make([]int, len(q.slices))
	ask := func(s, keeps, fails int) {
		h := hint{keeps, fails, guess(s)}
		last[s] = q.find(h, func(rung int) bool { return j.keeps(k, s, rung, c, at, fine) })
	}
	end := len(last) - 1
	ask(end, -1, q.last()+1)
	if end > 0 {
		ask(0, last[end], q.last()+1)
	}
	// One slice's run-on holds the one's before: what lies between two that allow as much
	// does too.
	var between func(from, to int)
	between = func(from, to int) {
		if to-from < 2 {
			return
		}
		m := (from + to) / 2
		ask(m, last[to], last[from]+1)
		between(from, m)
		between(m, to)
	}
	between(0, end)
	out := make([]reach, len(last))
	for s, rung := range last {
		out[s] = q.reachTo(rung)
	}
	return out
}

// glanced are the last rungs of a question as a glance sees them that lies at the pose.
func (j *Judge) glanced(g *glance, k int) func(slice int) int {
	g.factor(k, 0)
	return func(s int) int { return j.questions[k].rungAt(g.upTo[s], j.growths[k].worst) }
}

// rungAt is the last rung that a value at which a mark touches leaves, about.
func (q *question) rungAt(value, worst float64) int {
	switch {
	case value > worst:
		return q.last()
	case q.What == There:
		return -1
	case q.What == Bottom:
		value += q.Range.Most
	default:
		value -= q.Range.Least
	}
	return int(math.Max(-1, math.Min(float64(q.steps()), math.Floor(value/Grid))))
}
