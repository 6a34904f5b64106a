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
}

// steps returns how many whole steps lie within a spread.
func (u Unsure) steps() int { return int(math.Floor((u.Range.Most-u.Range.Least)/Grid + 1e-9)) }

// value returns the k-th value of the grid: up from the least, or down from the
// most for a bottom.
func (u Unsure) value(k int) float64 {
	if u.What == Bottom {
		return u.Range.Most - Grid*float64(k)
	}
	return u.Range.Least + Grid*float64(k)
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

// find bisects on the grid for the reach of one question: keeps is asked about a
// value and must go from true to false once on the way to the worst.
func (u Unsure) find(keeps func(value float64) bool) reach {
	if u.What == There {
		ok := keeps(math.NaN())
		return reach{all: ok, none: !ok, upTo: math.NaN()}
	}
	if keeps(u.worst()) {
		return reach{all: true, upTo: u.worst()}
	}
	if !keeps(u.value(0)) {
		return reach{none: true, upTo: u.value(-1)}
	}
	good, bad := 0, u.steps()+1
	for bad-good > 1 {
		if k := (good + bad) / 2; keeps(u.value(k)) {
			good = k
		} else {
			bad = k
		}
	}
	return reach{upTo: u.value(good)}
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
