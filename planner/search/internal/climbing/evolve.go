package climbing

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"

	"cabwright/planner/search/internal/bounds"
	"cabwright/planner/search/internal/poses"
)

// Crowd is the size of a population that looks for places, and for how many
// generations it does.
type Crowd struct{ people, generations int }

// With more than the wide one, or for longer, next to nothing more was found on lumpy
// and cracked stones.
var (
	QuickCrowd = Crowd{24, 30}
	WideCrowd  = Crowd{48, 90}
)

// Evolve looks for poses to climb from all over the stone by differential evolution
// (Storn and Price, Journal of Global Optimization 11, 1997; rand/1/bin with a random
// scale for each mutant), on the guesses of the coarse grid. The population begins with
// the given poses, as far as they go, and with random ones. It returns the best poses
// of up to most basins, best first.
func Evolve(p *bounds.Prober, size Crowd, seeds []poses.Coord, random *rand.Rand, most int) []Start {
	d := p.Domain()
	crowd := make([]Start, size.people)
	for k := range crowd {
		at := d.At
		if k < len(seeds) && k < size.people/3 {
			at = seeds[k]
		} else {
			for j := range at {
				at[j] += d.Half[j] * (2*random.Float64() - 1)
			}
		}
		at = poses.Within(at, p.TiltMax)
		crowd[k] = Start{at, p.Guess(at, math.Inf(-1))}
	}
	for range size.generations {
		if p.Stopped() {
			return nil
		}
		for k := range crowd {
			at := mutant(p, crowd, k, &d, random)
			if v := p.Guess(at, crowd[k].value); v > crowd[k].value {
				crowd[k] = Start{at, v}
			}
		}
	}
	slices.SortStableFunc(crowd, func(a, b Start) int { return cmp.Compare(b.value, a.value) })
	var out []Start
	for _, s := range crowd {
		if len(out) < most && !slices.ContainsFunc(out, func(o Start) bool { return o.At.Like(s.At) }) {
			out = append(out, s)
		}
	}
	return out
}

// mutant crosses a pose of the population with the sum of another and a scaled
// difference of two more.
func mutant(p *bounds.Prober, crowd []Start, k int, d *bounds.Box, random *rand.Rand) poses.Coord {
	const crossing = 0.9 // share of a mutant's numbers that are the sum's
	var of [3]int
	for i := range of {
		for of[i] = random.IntN(len(crowd)); of[i] == k || slices.Contains(of[:i], of[i]); {
			of[i] = random.IntN(len(crowd))
		}
	}
	scale := 0.4 + 0.5*random.Float64()
	at, always := crowd[k].At, random.IntN(p.Vars())
	for j := range p.Vars() {
		if j == always || random.Float64() < crossing {
			at[j] = crowd[of[0]].At[j] + scale*(crowd[of[1]].At[j]-crowd[of[2]].At[j])
		}
	}
	return poses.Within(at, p.TiltMax)
}
