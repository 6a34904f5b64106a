package cuts

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"

	"cabwright/geometry"
)

// across measures a piece square to its last side, from the sawn face, which
// is known better than columns show it, to the far end.
func (b *Body) across(sides []half) float64 {
	face := sides[len(sides)-1]
	least, most := b.extent(sides, face.normal)
	most = b.furthest(sides, face.normal, most)
	if least < face.from+b.step {
		least = face.from
	}
	return math.Max(0, most-least)
}

// furthest is the largest n . p over a piece, which the lattice shows to be at least
// seen: from its columns that come near to that, uphill by a search with one parent and one
// child as mover.climb. A leaning cut and the faces leave wedges that fall between columns.
func (b *Body) furthest(sides []half, n geometry.Vec3, seen float64) float64 {
	const starts, tries = 6, 150
	at := func(c column) float64 {
		low, high := clipAll(&c, sides)
		if high <= low || !geometry.InPolygon(b.Rough.Outline, geometry.Vec2{X: c.x, Y: c.y}) {
			return math.Inf(-1)
		}
		return n.X*c.x + n.Y*c.y + max(n.Z*low, n.Z*high)
	}
	rng := rand.New(rand.NewPCG(3, uint64(len(sides)))) // the same on every run
	for _, c := range b.highest(at, starts) {
		best, step := at(c), b.step
		for k := 0; k < tries && step > 1e-3; k++ {
			next := b.at(c.x+step*rng.NormFloat64(), c.y+step*rng.NormFloat64())
			if v := at(next); v > best {
				c, best, step = next, v, step*1.5
			} else {
				step *= 0.9036 // 1.5^(-1/4)
			}
		}
		seen = max(seen, best)
	}
	return seen
}

// highest returns the columns with the largest values, no two of them side by side.
func (b *Body) highest(value func(column) float64, most int) []column {
	type valued struct {
		column
		v float64
	}
	var best []valued
	for _, all := range [][]column{b.columns, b.rim} {
		for _, c := range all {
			v := value(c)
			if math.IsInf(v, -1) || len(best) == most && v <= best[most-1].v {
				continue
			}
			beside := func(o valued) bool { return math.Hypot(o.x-c.x, o.y-c.y) < 3*b.step }
			if i := slices.IndexFunc(best, beside); i >= 0 {
				if v <= best[i].v {
					continue
				}
				best = slices.Delete(best, i, i+1)
			}
			best = append(best, valued{c, v})
			slices.SortStableFunc(best, func(a, b valued) int { return cmp.Compare(b.v, a.v) })
			best = best[:min(len(best), most)]
		}
	}
	out := make([]column, len(best))
	for i := range best {
		out[i] = best[i].column
	}
	return out
}
