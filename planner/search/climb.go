package search

import (
	"math"

	"cabwright/geometry"
)

// tryPoint evaluates a box's own best guess, and climbs from it unless that is
// far below what is wanted.
func (p *prober) tryPoint(c *cell, y [dims]float64, want float64) (coord, float64) {
	at := c.at
	for j := 0; j < p.lp.n; j++ {
		at[j] += y[j] * c.half[j]
	}
	at = within(at, p.tiltMax)
	if v := p.value(at, want+hopeless); v < want+hopeless {
		return at, v
	}
	return p.climb(at, 6, closeTrust)
}

// within pulls the tilts back to the limit, along the straight way to level.
func within(at coord, tiltMax float64) coord {
	if at.tilt() <= tiltMax {
		return at
	}
	lo, hi := 0.0, 1.0
	for range 40 {
		m := (lo + hi) / 2
		q := at
		q[lean], q[lean+1] = m*at[lean], m*at[lean+1]
		if q.tilt() <= tiltMax {
			lo = m
		} else {
			hi = m
		}
	}
	at[lean], at[lean+1] = lo*at[lean], lo*at[lean+1]
	return at
}

// climb goes uphill from a pose: in each step the small linear programme of the
// rows without slack is solved within a trust region, which widens after a good
// step and narrows after a bad one (sequential linear programming for a max-min
// problem; Nocedal and Wright, Numerical Optimization, 2006, section 18.5, gives
// the scheme). It stops when the region is under a few micrometres wide, after
// the given number of steps. trust is the first region's half width, mm.
func (p *prober) climb(at coord, steps int, trust float64) (coord, float64) {
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
		p.gather(&c)
		better := false
		for range 3 {
			hope := p.lp.solve(math.Inf(-1))
			y := p.lp.point()
			next := at
			for j := 0; j < p.lp.n; j++ {
				next[j] += y[j] * c.half[j]
			}
			next = within(next, p.tiltMax)
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
			p.lp.rows = p.lp.rows[:len(p.lp.rows)-1]
			p.more(&c, next)
		}
		if !better {
			trust *= 0.35
		}
	}
	return at, value
}

// gather fills the programme with the slopes around one pose: the linear model
// that a local climb follows, not a bound.
func (p *prober) gather(c *cell) {
	f := newFrame(c.at, p.level)
	p.begin(math.Inf(1))
	n := len(p.model.samples)
	if p.widest(c) > 0.25 {
		n = p.model.few
	}
	first := p.place(c.at, &f.r, n)
	p.slopes(c, &f, first, p.places[first])
	for i := range p.places[:n] {
		if i != first && p.floors[i]-p.reach(c, &p.model.samples[i], p.places[i]).Full() < p.ceiling {
			p.slopes(c, &f, i, p.places[i])
		}
	}
	p.trim()
}

// more adds slopes, still about the cell's centre, for the samples worst off at
// another pose of it.
func (p *prober) more(c *cell, pose coord) {
	f := newFrame(c.at, p.level)
	r := pose.rotation()
	n := len(p.model.samples)
	p.place(pose, &r, n)
	p.pickWorst(math.Inf(1), 8, n)
	for _, i := range p.picked {
		p.slopes(c, &f, int(i), p.centred(c, &f, int(i)))
	}
	p.trim()
}

// farSight is the reach, mm, above which a climb follows the field's bounds, not
// its slopes: these are flatter where an obstacle is thinner than the step, and so
// let it step over. Of some values tried, climbs from random poses ended highest
// with this.
const farSight = 0.9

// slopes adds the linear model of one sample, placed at the cell's centre pose.
func (p *prober) slopes(c *cell, f *frame, i int, place geometry.Vec3) {
	s := &p.model.samples[i]
	p.asked[i] = p.number
	full := p.reach(c, s, place).Full()
	if full > farSight {
		p.raw = p.field.Rows(place, p.reach(c, s, place), nil, p.ceiling+s.radius, p.raw[:0])
	} else {
		p.raw = p.field.Slopes(place, p.ceiling+s.radius+full, p.raw[:0])
	}
	for k := range p.raw {
		r := &p.raw[k]
		row := lpRow{b: r.Value - s.radius, obstacle: r.Obstacle, sample: i + 1}
		p.ceiling = min(p.ceiling, row.b+full)
		p.tilt(&row, c, f, s, r.Gradient)
		if row.low < p.ceiling {
			p.lp.rows = append(p.lp.rows, row)
		}
	}
}

// tilt fills in a row's coefficients from the gradient at its sample.
func (p *prober) tilt(row *lpRow, c *cell, f *frame, s *sample, g geometry.Vec3) {
	row.a[0], row.a[1], row.a[2] = g.X*c.half[0], g.Y*c.half[1], g.Z*c.half[2]
	for j := turn; j < p.lp.n; j++ {
		row.a[j] = g.Dot(f.by[j-turn].Apply(s.at)) * c.half[j]
	}
	row.low = row.b
	for j := 0; j < p.lp.n; j++ {
		row.low -= math.Abs(row.a[j])
	}
}
