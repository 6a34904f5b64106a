package odds

import (
	"cmp"
	"math"
	"slices"
)

// mask is a set of places by index: the outcomes of up to maxPlaces bets.
type mask uint64

const maxPlaces = 64

func (m mask) has(i int) bool { return m>>i&1 == 1 }

func full(n int) mask { return mask(1<<n - 1) }

// cell is a part of what one mark can turn out to be over which no place changes
// between keeping and failing.
type cell struct {
	chance float64
	pass   mask
	here   bool    // the mark is there
	slice  int     // of the run-on
	end    float64 // the worst value in it
}

// cells divides what is asked about a mark at the limits of all places, of each its
// k-th limit, and at further values.
func (q question) cells(places []Place, k int, further ...float64) []cell {
	all := full(len(places))
	var out []cell
	if q.Chance < 1 {
		out = append(out, cell{chance: 1 - q.Chance, pass: all, end: math.NaN()})
	}
	for s, part := range q.slices {
		var ends []reach
		for _, p := range places {
			if r := p.Limits[k].reaches[s]; !r.all && !r.none {
				ends = append(ends, r)
			}
		}
		for _, v := range further {
			ends = append(ends, reach{upTo: v})
		}
		ends = append(ends, reach{all: true, upTo: q.worst()})
		slices.SortFunc(ends, q.further)
		before := 0.0
		for _, end := range slices.CompactFunc(ends, func(a, b reach) bool { return q.further(a, b) == 0 }) {
			c := cell{chance: q.Chance * part.weight * (q.share(end) - before), here: true, slice: s, end: end.upTo}
			before = q.share(end)
			for i, p := range places {
				if q.further(p.Limits[k].reaches[s], end) >= 0 {
					c.pass |= 1 << i
				}
			}
			out = append(out, c)
		}
	}
	return slices.DeleteFunc(out, func(c cell) bool { return c.chance <= 0 })
}

// knownAll returns the carats on average when every mark is known before the
// first cut: then the heaviest place that succeeds is cut, or what is sure in any
// case. The sets of places that still succeed are followed from mark to mark;
// there are few, as each mark's cells make a chain.
func knownAll(places []Place, all [][]cell, sure float64) float64 {
	heavy := make([]int, len(places))
	for i := range heavy {
		heavy[i] = i
	}
	slices.SortStableFunc(heavy, func(a, b int) int { return cmp.Compare(places[b].Carat, places[a].Carat) })
	sets := map[mask]float64{full(len(places)): 1}
	for _, cells := range all {
		next := map[mask]float64{}
		for set, p := range sets {
			for _, c := range cells {
				next[set&c.pass] += p * c.chance
			}
		}
		sets = next
	}
	keys := make([]mask, 0, len(sets))
	for set := range sets {
		keys = append(keys, set)
	}
	slices.Sort(keys) // the sum does not depend on the map's order
	sum := 0.0
	for _, set := range keys {
		worth := sure
		for _, i := range heavy {
			if set.has(i) {
				worth = max(worth, places[i].Carat)
				break
			}
		}
		sum += sets[set] * worth
	}
	return sum
}
