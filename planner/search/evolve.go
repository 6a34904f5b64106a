package search

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"
)

// crowd is the size of a population that looks for places, and for how many
// generations it does.
type crowd struct{ people, generations int }

// With more than the wide one, or for longer, next to nothing more was found on lumpy
// and cracked stones.
var (
	quickCrowd = crowd{24, 30}
	wideCrowd  = crowd{48, 90}
)

// evolve looks for poses to climb from all over the stone by differential evolution
// (Storn and Price, Journal of Global Optimization 11, 1997; rand/1/bin with a random
// scale for each mutant), on the guesses of the coarse grid. The population begins with
// the given poses, as far as they go, and with random ones. It returns the best poses
// of up to most basins, best first.
func evolve(p *prober, size crowd, seeds []coord, random *rand.Rand, most int) []start {
	d := p.domain()
	crowd := make([]start, size.people)
	for k := range crowd {
		at := d.at
		if k < len(seeds) && k < size.people/3 {
			at = seeds[k]
		} else {
			for j := range at {
				at[j] += d.half[j] * (2*random.Float64() - 1)
			}
		}
		at = within(at, p.tiltMax)
		crowd[k] = start{at, p.guess(at, math.Inf(-1))}
	}
	for range size.generations {
		if p.stopped() {
			return nil
		}
		for k := range crowd {
			at := mutant(p, crowd, k, &d, random)
			if v := p.guess(at, crowd[k].value); v > crowd[k].value {
				crowd[k] = start{at, v}
			}
		}
	}
	slices.SortStableFunc(crowd, func(a, b start) int { return cmp.Compare(b.value, a.value) })
	var out []start
	for _, s := range crowd {
		if len(out) < most && !slices.ContainsFunc(out, func(o start) bool { return o.at.like(s.at) }) {
			out = append(out, s)
		}
	}
	return out
}

// mutant crosses a pose of the population with the sum of another and a scaled
// difference of two more.
func mutant(p *prober, crowd []start, k int, d *cell, random *rand.Rand) coord {
	const crossing = 0.9 // share of a mutant's numbers that are the sum's
	var of [3]int
	for i := range of {
		for of[i] = random.IntN(len(crowd)); of[i] == k || slices.Contains(of[:i], of[i]); {
			of[i] = random.IntN(len(crowd))
		}
	}
	scale := 0.4 + 0.5*random.Float64()
	at, always := crowd[k].at, random.IntN(p.lp.n)
	for j := range p.lp.n {
		if j == always || random.Float64() < crossing {
			at[j] = crowd[of[0]].at[j] + scale*(crowd[of[1]].at[j]-crowd[of[2]].at[j])
		}
	}
	return within(at, p.tiltMax)
}
