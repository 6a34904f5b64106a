package search

import (
	"math"
)

// tryPoint evaluates a box's own best guess, and climbs from it unless that is
// far below what is wanted.
func tryPoint(p *prober, c *cell, y [dims]float64, want float64) (coord, float64) {
	at := within(c.point(y), p.tiltMax)
	if v := p.value(at, want+hopeless); v < want+hopeless {
		return at, v
	}
	return climb(p, at, 6, closeTrust)
}

// climb goes uphill from a pose: in each step the small linear programme of the
// rows without slack is solved within a trust region, which widens after a good
// step and narrows after a bad one (sequential linear programming for a max-min
// problem; Nocedal and Wright, Numerical Optimization, 2006, section 18.5, gives
// the scheme). It stops when the region is under a few micrometres wide, after
// the given number of steps. trust is the first region's half width, mm.
func climb(p *prober, at coord, steps int, trust float64) (coord, float64) {
	arm := max(1, p.model.solid.Outline.Length/2)
	value := p.value(at, math.Inf(-1))
	for range steps {
		if trust < 0.003 || p.stopped() {
			break
		}
		c := cell{at: at}
		for j := range 3 {
			c.half[j] = trust
		}
		c.half[turn] = trust / arm
		if p.model.period == 0 {
			c.half[turn] = 0
		}
		if !p.level {
			c.half[lean], c.half[lean+1] = trust/arm, trust/arm
		}
		p.linearise(&c)
		better := false
		for range 3 {
			hope, y := p.uphill()
			next := within(c.point(y), p.tiltMax)
			v := p.value(next, value)
			if v > value+1e-7 {
				if v-value > 0.5*(hope-value) {
					trust *= 1.7
				} else {
					trust *= 0.6
				}
				at, value, better = next, v, true
				break
			}
			// The step ran into something that the programme did not know of.
			p.refine(&c, next)
		}
		if !better {
			trust *= 0.35
		}
	}
	return at, value
}
