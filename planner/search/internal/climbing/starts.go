package climbing

import (
	"math"
	"math/rand/v2"
	"slices"

	"cabwright/geometry"
	"cabwright/planner/search/internal/bounds"
	"cabwright/planner/search/internal/poses"
)

// A climb never crosses a crack, so poses are looked for from places all over the
// stone: the deepest ones, deepApart mm apart.
const (
	MostDeep  = 40
	DeepApart = 2.5
)

// Pool is the poses that fits of one face were found at, the latest last: what fits
// one solid often fits its neighbours nearly.
type Pool struct{ Poses []poses.Coord }

// mostPooled is how many poses a pool keeps: more are seldom better than the latest.
const mostPooled = 10

// Note adds a pose, in place of one that is as good as the same.
func (p *Pool) Note(at poses.Coord) {
	for k, q := range p.Poses {
		if math.Hypot(math.Hypot(q[0]-at[0], q[1]-at[1]), q[2]-at[2]) < 0.3 && math.Abs(q[poses.Turn]-at[poses.Turn]) < 0.2 {
			p.Poses = slices.Delete(p.Poses, k, k+1)
			break
		}
	}
	p.Poses = append(p.Poses, at)
	if len(p.Poses) > mostPooled {
		p.Poses = p.Poses[1:]
	}
}

// Start is a pose to climb from, with its clearance.
type Start struct {
	At    poses.Coord
	value float64
}

// Starts returns up to most poses to climb from, best first: of the pool, as they
// are and turned by a quarter, and of the deep places with so many turns each, level
// and, where asked for, leaning.
func Starts(p *bounds.Prober, pooled []poses.Coord, deep []geometry.Vec3, turns, most int, leaning bool) []Start {
	best := bestStarts{p: p, most: most}
	for _, at := range pooled {
		best.try(at)
		if p.Model.Period > math.Pi/2+1e-9 {
			q := at
			q[poses.Turn] += math.Pi / 2
			// The plane of the girdle stays as it was, but for the second order.
			q[poses.Lean], q[poses.Lean+1] = at[poses.Lean+1], -at[poses.Lean]
			best.try(q)
		}
	}
	if p.Model.Period == 0 {
		turns = 1
	}
	for _, d := range deep {
		for k := range turns {
			at := poses.Coord{d.X, d.Y, d.Z, p.Model.Period * float64(k) / float64(turns)}
			best.try(at)
			if leaning && p.TiltMax > 0 {
				best.tryLeaning(at)
			}
		}
	}
	return best.starts
}

// bestStarts keeps the best of the poses that it tries, best first, one of each place and
// turn.
type bestStarts struct {
	p      *bounds.Prober
	most   int
	starts []Start
}

// rough is what the guesses of the coarse grid are seldom further off by, mm.
const rough = 0.4

// try takes a pose in if it is among the best.
func (b *bestStarts) try(at poses.Coord) {
	stop := math.Inf(-1)
	if len(b.starts) == b.most {
		stop = b.starts[b.most-1].value
	}
	at = poses.Within(at, b.p.TiltMax)
	if least := stop - rough; b.p.Guess(at, least) <= least {
		return
	}
	v := b.p.Value(at, stop)
	if v <= stop {
		return
	}
	same := slices.IndexFunc(b.starts, func(s Start) bool {
		return s.At.Pivot().Sub(at.Pivot()).Norm() < 0.8 && math.Abs(s.At[poses.Turn]-at[poses.Turn]) < 0.4
	})
	if same >= 0 {
		if b.starts[same].value >= v {
			return
		}
		b.starts = slices.Delete(b.starts, same, same+1)
	}
	k := 0
	for k < len(b.starts) && b.starts[k].value >= v {
		k++
	}
	b.starts = slices.Insert(b.starts, k, Start{at, v})
	b.starts = b.starts[:min(len(b.starts), b.most)]
}

// tryLeaning tries a pose leant four ways, by half of what it may.
func (b *bestStarts) tryLeaning(at poses.Coord) {
	for way := range 4 {
		q := at
		q[poses.Lean+way/2] = b.p.TiltMax / 2 * float64(1-2*(way%2))
		b.try(q)
	}
}

// Shaken returns the pose moved at random: by up to 1.5 mm, half a radian of turn, and a
// few degrees of lean, times width. What climbs again from there often gets over the ridge
// that stopped it.
func Shaken(p *bounds.Prober, at poses.Coord, width float64, r *rand.Rand) poses.Coord {
	by := func(most float64) float64 { return width * most * (2*r.Float64() - 1) }
	at[0] += by(1.5)
	at[1] += by(1.5)
	at[2] += by(0.5)
	if p.Model.Period > 0 {
		at[poses.Turn] += by(0.5)
	}
	if p.TiltMax > 0 {
		at[poses.Lean] += by(0.12)
		at[poses.Lean+1] += by(0.12)
	}
	return poses.Within(at, p.TiltMax)
}
