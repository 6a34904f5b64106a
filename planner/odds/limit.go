package odds

import (
	"cmp"
	"math"
)

// Grid is the step, mm, that limits are found on: a caliper shows 0.01 to 0.05.
const Grid = 0.02

// reach is how much of a spread one placed stone allows: everything, nothing, or
// up to a value on the grid.
type reach struct {
	all, none bool
	upTo      float64 // one step beyond the start when none
	rung      int     // the last that keeps, -1 when none
}

// steps returns how many whole steps lie within a spread.
func (u Unsure) steps() int { return int(math.Floor((u.Range.Most-u.Range.Least)/Grid + 1e-9)) }

// last is the rung of the worst value, behind the last whole step.
func (u Unsure) last() int {
	if u.What == There {
		return 0
	}
	return u.steps() + 1
}

// value returns the value of a rung: whole steps of the grid up from the least, or down
// from the most for a bottom, and last the worst. NaN for There.
func (u Unsure) value(rung int) float64 {
	switch {
	case u.What == There:
		return math.NaN()
	case rung == u.last():
		return u.worst()
	case u.What == Bottom:
		return u.Range.Most - Grid*float64(rung)
	}
	return u.Range.Least + Grid*float64(rung)
}

// worst returns the end of the spread that leaves the least room.
func (u Unsure) worst() float64 {
	if u.What == Bottom {
		return u.Range.Least
	}
	return u.Range.Most
}

// share returns the chance that a number which is there is no worse than a reach.
func (u Unsure) share(r reach) float64 {
	switch {
	case r.all:
		return 1
	case r.none:
		return 0
	case u.What == Bottom:
		return 1 - u.Range.Below(r.upTo)
	default:
		return u.Range.Below(r.upTo)
	}
}

// further orders reaches, the one that allows less first.
func (u Unsure) further(a, b reach) int {
	rank := func(r reach) int {
		switch {
		case r.none:
			return 0
		case r.all:
			return 2
		}
		return 1
	}
	if rank(a) != 1 || rank(b) != 1 {
		return cmp.Compare(rank(a), rank(b))
	}
	if u.What == Bottom {
		return cmp.Compare(b.upTo, a.upTo)
	}
	return cmp.Compare(a.upTo, b.upTo)
}

// hint is what is known of a reach before it is asked for: a rung that keeps, one that
// does not, and about the last that does. They may lie one before the first rung and one
// behind the last.
type hint struct{ keeps, fails, guess int }

// unknown is the hint that says nothing: most marks are out of the way at their worst.
func (u Unsure) unknown() hint { return hint{-1, u.last() + 1, u.last()} }

// reachTo is the reach whose last rung that keeps is the given one; -1: none does.
func (u Unsure) reachTo(rung int) reach {
	return reach{all: rung == u.last(), none: rung < 0, upTo: u.value(rung), rung: rung}
}

// find looks for the last rung that keeps, and keeps is asked about a rung as seldom as can
// be: it must go from true to false once on the way to the worst. With a good guess two
// questions are enough, for the rung guessed and the next.
func (u Unsure) find(h hint, keeps func(rung int) bool) int {
	at, width := min(max(h.guess, h.keeps+1), h.fails-1), 1
	up, down := at == u.last(), false // the worst says nothing of where it would fail
	for h.fails-h.keeps > 1 {
		if keeps(at) {
			h.keeps, up = at, true
			at += width
		} else {
			h.fails, down = at, true
			at -= width
		}
		width *= 4
		if up && down || at <= h.keeps || at >= h.fails || at < 0 {
			at = (h.keeps + h.fails) / 2
		}
	}
	return h.keeps
}

// Limit is how much of one mark a place allows.
type Limit struct {
	ID   string
	What What
	// UpTo is the largest value, mm, at which the mark keeps its allowance from the
	// stone (the smallest for a bottom); below the least when none does. Of a crack
	// whose run-on is unsure too it is the depth however far that goes.
	UpTo   float64
	Always bool    // even at its worst it keeps away: UpTo is that, or NaN for There
	Factor float64 // the chance that it keeps away

	reaches []reach // by slice of the run-on
}

// limit puts the reaches of a question's slices together.
func (q question) limit(reaches []reach) Limit {
	last := reaches[len(reaches)-1]
	l := Limit{ID: q.ID, What: q.What, UpTo: last.upTo, Always: true, reaches: reaches}
	share := 0.0
	for i, r := range reaches {
		share += q.slices[i].weight * q.share(r)
		l.Always = l.Always && r.all
	}
	if l.Always {
		share = 1
	}
	l.Factor = math.Max(0, math.Min(1, 1-q.Chance+q.Chance*share))
	return l
}
