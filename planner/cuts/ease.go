package cuts

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"

	"cabwright/geometry"
)

// pair is a cut of a piece with one solid on either side.
type pair struct {
	cut         Cut
	plus, minus laid
	room        float64 // of both, beyond their allowances and the cut, as far as the tables tell
}

func (p pair) carat() float64 { return p.plus.carat + p.minus.carat }

// pairsOf returns the pairs of solids that splits are made for, the heaviest first and of
// those that weigh the same the roomiest; of one pair of solids some cuts only.
func pairsOf(splits []split) []pair {
	const cutsEach = 3
	var all []pair
	for _, s := range splits {
		for _, plus := range s.plus {
			for _, minus := range s.minus {
				all = append(all, pair{s.cut, plus, minus, min(plus.room, minus.room)})
			}
		}
	}
	slices.SortStableFunc(all, func(a, b pair) int {
		return cmp.Or(cmp.Compare(b.carat(), a.carat()), cmp.Compare(b.room, a.room))
	})
	type solids struct{ one, other *entry }
	seen := map[solids]int{}
	return slices.DeleteFunc(all, func(p pair) bool {
		// On which side of the cut a solid lies is another pair.
		key := solids{p.plus.entry, p.minus.entry}
		seen[key]++
		return seen[key] > cutsEach
	})
}

// How long a pair is eased, and the room beyond the slack at which it stops, mm: by far
// the most that the tables are off by.
const (
	easeTries  = 400
	easeEnough = 0.1
)

// ease moves both solids of a pair and turns and slides the cut between them to where the
// tighter one of them has most room: a search by one parent and one child as mover.climb.
func (l *layer) ease(p pair, sides []half) pair {
	rng := rand.New(rand.NewPCG(2, uint64(len(sides)))) // the same on every run
	plus := l.newMover(sides, p.plus.Candidate, p.plus.frame)
	minus := l.newMover(sides, p.minus.Candidate, p.minus.frame)
	need := p.cut.Kerf + 2*l.skin
	ends := func(a, b spot, n geometry.Vec3) (low, high float64) {
		return plus.least(a, geometry.RotZ(a.turn).Mul(plus.frame), n),
			-minus.least(b, geometry.RotZ(b.turn).Mul(minus.frame), n.Scale(-1))
	}
	value := func(a, b spot, n geometry.Vec3, stop float64) float64 {
		low, high := ends(a, b, n)
		v := (low - high - need) / 2
		if v > stop {
			v = min(v, plus.value(a, stop))
		}
		if v > stop {
			v = min(v, minus.value(b, stop))
		}
		return v
	}
	n, a, b := p.cut.Plane, p.plus.at, p.minus.at
	best := value(a, b, n.Normal, math.Inf(-1))
	step := 0.2
	shift := func(s spot, arm float64) spot {
		s.at.X += step * rng.NormFloat64()
		s.at.Y += step * rng.NormFloat64()
		s.at.Z += step / 2 * rng.NormFloat64()
		s.turn += step / arm * rng.NormFloat64()
		return s
	}
	far := max(2, b.at.Sub(a.at).Norm())
	for range easeTries {
		if best >= l.slack+easeEnough || step < 0.002 {
			before := best
			if best = min(plus.closely(a, best), minus.closely(b, best)); best > before-closer {
				break
			}
			step = 0.1
		}
		nextA := shift(a, max(1, p.plus.Solid.Outline.Length/2))
		nextB := shift(b, max(1, p.minus.Solid.Outline.Length/2))
		nextN := n.Turned(step / far * rng.NormFloat64())
		if v := value(nextA, nextB, nextN.Normal, best); v > best {
			a, b, n, best = nextA, nextB, nextN, v
			step = min(1, step*1.5)
		} else {
			step *= 0.9036 // 1.5^(-1/4)
		}
	}
	low, high := ends(a, b, n.Normal)
	n.Point = n.Point.Add(n.Normal.Scale((low+high)/2 - n.Normal.Dot(n.Point)))
	p.cut.Plane, p.room = n, best
	p.plus.at, p.plus.pose = a, plus.pose(a)
	p.minus.at, p.minus.pose = b, minus.pose(b)
	return p
}
