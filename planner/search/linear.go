package search

import (
	"math"

	"cabwright/geometry"
)

// linearise fills the programme with the slopes around one pose: the linear model
// that a local climb follows, not a bound.
func (p *prober) linearise(c *cell) {
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

// uphill solves the programme of the linear model: the clearance that it promises, and
// where in the cell.
func (p *prober) uphill() (hope float64, y [dims]float64) {
	hope = p.lp.solve(math.Inf(-1))
	return hope, p.lp.point()
}

// refine adds slopes, still about the cell's centre, for the samples worst off at
// another pose of it.
func (p *prober) refine(c *cell, pose coord) {
	p.lp.rows = p.lp.rows[:len(p.lp.rows)-1] // the ceiling's, which trim adds
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
