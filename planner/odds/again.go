package odds

import (
	"slices"

	"cabwright/planner"
)

// Again makes the stone ready after an edit of marks that were not sure and still are
// not, such as a range that was narrowed by looking. That takes far less time than
// NewJudge: the rough and what is sure are as they were. It reports false when more was
// edited, or nothing is unsure.
func (j *Judge) Again(s planner.Stone) (*Judge, bool) {
	next := judgeOf(s, j.rough)
	next.sure = j.sure
	edited := planner.Changed(sure(s, next.unsure), sure(j.stone, j.unsure))
	return next, len(next.unsure) > 0 && len(edited) == 0
}

// Rejudge judges places of the stone as it was before such an edit. Their limits then
// tell about where those of now are. What is left if one fails is kept while it is
// certain still.
func (j *Judge) Rejudge(old []Place) []Place {
	out := make([]Place, len(old))
	abreast(len(old), func(i int) {
		out[i] = j.rejudged(old[i])
		if was := old[i].Planned; was != nil {
			at := old[i]
			at.Pose = was.Pose
			out[i].Planned = &Planned{was.Pose, j.rejudged(at).Odds}
		}
		if left := old[i].IfNot; left != nil && j.rejudged(Place{Fit: *left}).Sure() {
			out[i].IfNot = left
		}
	})
	return out
}

// rejudged judges a place that keeps clear of all that is sure.
func (j *Judge) rejudged(old Place) Place {
	p := Place{Fit: old.Fit, Limits: make([]Limit, len(j.questions))}
	for k, q := range j.questions {
		at := slices.IndexFunc(old.Limits, func(l Limit) bool {
			return l.ID == q.ID && l.What == q.What && len(l.reaches) == len(q.slices)
		})
		guess := func(int) int { return q.last() }
		if at >= 0 {
			guess = func(slice int) int { return q.rungLike(old.Limits[at].reaches[slice]) }
		}
		p.Limits[k] = q.limit(j.reaches(k, p.Solid, p.Pose, guess))
	}
	p.settle()
	return p
}

// rungLike is the rung that allows as much as a reach over another spread did.
func (q *question) rungLike(r reach) int {
	switch {
	case r.all:
		return q.last()
	case r.none || q.What == There:
		return -1
	case q.What == Bottom:
		return q.rungAt(-r.upTo+rounding, -q.worst())
	}
	return q.rungAt(r.upTo+rounding, q.worst())
}

// rounding is more than a value of the grid is off by, mm.
const rounding = 1e-9

// AnswerOf is what is known at once when only places are: their odds, and what is worth
// looking at first. What a better search would find is not in it.
func (j *Judge) AnswerOf(places []Place) Answer {
	a := asking{judge: j}
	a.answer.Unsure = j.unsure
	a.tell(places)
	return a.answer
}
