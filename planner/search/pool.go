package search

import (
	"math"
	"math/rand/v2"
	"slices"

	"cabwright/geometry"
)

// A climb never crosses a crack, so poses are looked for from places all over the
// stone: the deepest ones, deepApart mm apart.
const (
	mostDeep  = 40
	deepApart = 2.5
)

// pool is the poses that fits of one face were found at, the latest last: what fits
// one solid often fits its neighbours nearly.
type pool struct{ poses []coord }

// mostPooled is how many poses a pool keeps: more are seldom better than the latest.
const mostPooled = 10

// note adds a pose, in place of one that is as good as the same.
func (p *pool) note(at coord) {
	for k, q := range p.poses {
		if math.Hypot(math.Hypot(q[0]-at[0], q[1]-at[1]), q[2]-at[2]) < 0.3 && math.Abs(q[turn]-at[turn]) < 0.2 {
			p.poses = slices.Delete(p.poses, k, k+1)
			break
		}
	}
	p.poses = append(p.poses, at)
	if len(p.poses) > mostPooled {
		p.poses = p.poses[1:]
	}
}

// start is a pose to climb from, with its clearance.
type start struct {
	at    coord
	value float64
}

// starts returns up to most poses to climb from, best first: of the pool, as they
// are and turned by a quarter, and of the deep places with so many turns each, level
// and, where asked for, leaning.
func starts(p *prober, pooled []coord, deep []geometry.Vec3, turns, most int, leaning bool) []start {
	var out []start
	try := func(at coord) {
		stop := math.Inf(-1)
		if len(out) == most {
			stop = out[most-1].value
		}
		at = within(at, p.tiltMax)
		v := p.value(at, stop)
		if v <= stop {
			return
		}
		// One pose of a place and turn will do.
		for k, s := range out {
			if s.at.place().Sub(at.place()).Norm() < 0.8 && math.Abs(s.at[turn]-at[turn]) < 0.4 {
				if s.value >= v {
					return
				}
				out = slices.Delete(out, k, k+1)
				break
			}
		}
		k := 0
		for k < len(out) && out[k].value >= v {
			k++
		}
		out = slices.Insert(out, k, start{at, v})
		if len(out) > most {
			out = out[:most]
		}
	}
	for _, at := range pooled {
		try(at)
		if p.model.period > math.Pi/2+1e-9 {
			q := at
			q[turn] += math.Pi / 2
			// The plane of the girdle stays as it was, but for the second order.
			q[lean], q[lean+1] = at[lean+1], -at[lean]
			try(q)
		}
	}
	period := p.model.period
	if period == 0 {
		turns = 1
	}
	for _, d := range deep {
		for k := range turns {
			at := coord{d.X, d.Y, d.Z, period * float64(k) / float64(turns)}
			try(at)
			if leaning && p.tiltMax > 0 {
				for way := range 4 {
					q := at
					q[lean+way/2] = p.tiltMax / 2 * float64(1-2*(way%2))
					try(q)
				}
			}
		}
	}
	return out
}

// shaken returns the pose moved at random: by up to 1.5 mm, half a radian of turn, and a
// few degrees of lean, times width. What climbs again from there often gets over the ridge
// that stopped it.
func shaken(p *prober, at coord, width float64, r *rand.Rand) coord {
	by := func(most float64) float64 { return width * most * (2*r.Float64() - 1) }
	at[0] += by(1.5)
	at[1] += by(1.5)
	at[2] += by(0.5)
	if p.model.period > 0 {
		at[turn] += by(0.5)
	}
	if p.tiltMax > 0 {
		at[lean] += by(0.12)
		at[lean+1] += by(0.12)
	}
	return within(at, p.tiltMax)
}
