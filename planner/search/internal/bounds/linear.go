package bounds

import (
	"math"

	"cabwright/geometry"
	"cabwright/planner/search/internal/poses"
	"cabwright/planner/search/internal/simplex"
)

// climbSamples is how many samples the linear model of a climb begins with, those worst
// off, one of each neighbourhood: with more each step takes longer and gains no more, and
// what the model misses Refine adds.
const climbSamples = 12

// Linearise fills the programme with the slopes around one pose: the linear model
// that a local climb follows, not a bound.
func (p *Prober) Linearise(c *Box) {
	f := poses.NewFrame(c.At, p.Level)
	p.begin(math.Inf(1))
	p.place(c.At, &f.R, p.every)
	p.pickWorst(math.Inf(1), climbSamples, p.every)
	for _, i := range p.picked {
		p.slopes(c, &f, int(i), p.places[i])
	}
	p.trim()
}

// Narrow notes which samples can keep less than limit anywhere in the cell that was
// linearised last: what is asked about poses of it next is asked of these.
func (p *Prober) Narrow(c *Box, limit float64) {
	shift := math.Sqrt(c.Half[0]*c.Half[0] + c.Half[1]*c.Half[1] + c.Half[2]*c.Half[2])
	angles := 0.0
	for j := poses.Turn; j < p.lp.N; j++ {
		angles += c.Half[j]
	}
	p.among = p.among[:0]
	for i, floor := range p.floors {
		if floor-shift-angles*p.Model.Samples[i].Lever < limit {
			p.among = append(p.among, int32(i))
		}
	}
	p.beyond = limit
}

// ValueInside is Value at a pose of the cell that Narrow was asked about last.
func (p *Prober) ValueInside(at poses.Coord, stop float64) float64 {
	if v := p.valueOf(at, stop, p.among); v <= p.beyond {
		return v
	}
	return p.Value(at, stop)
}

// Uphill solves the programme of the linear model: the clearance that it promises, and
// where in the cell.
func (p *Prober) Uphill() (hope float64, y [poses.Dims]float64) {
	hope = p.lp.Solve(math.Inf(-1))
	return hope, p.lp.Point()
}

// Refine adds slopes, still about the cell's centre, for the samples worst off at
// another pose of it, of those that Narrow left.
func (p *Prober) Refine(c *Box, pose poses.Coord) {
	p.lp.Rows = p.lp.Rows[:len(p.lp.Rows)-1] // the ceiling's, which trim adds
	f := poses.NewFrame(c.At, p.Level)
	r := pose.Rotation()
	p.place(pose, &r, p.among)
	p.pickWorst(math.Inf(1), 8, p.among)
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
func (p *Prober) slopes(c *Box, f *poses.Frame, i int, place geometry.Vec3) {
	s := &p.Model.Samples[i]
	p.asked[i] = p.number
	full := p.reach(c, s, place).Full()
	if full > farSight {
		p.raw = p.Field.Rows(place, p.reach(c, s, place), nil, p.ceiling+s.Radius, p.raw[:0])
	} else {
		p.raw = p.Field.Slopes(place, p.ceiling+s.Radius+full, p.raw[:0])
	}
	for k := range p.raw {
		r := &p.raw[k]
		row := simplex.Row{B: r.Value - s.Radius, Obstacle: r.Obstacle, Sample: i + 1}
		p.ceiling = min(p.ceiling, row.B+full)
		p.tilt(&row, c, f, s, r.Gradient)
		if row.Low < p.ceiling {
			p.lp.Rows = append(p.lp.Rows, row)
		}
	}
}

// tilt fills in a row's coefficients from the gradient at its sample.
func (p *Prober) tilt(row *simplex.Row, c *Box, f *poses.Frame, s *poses.Sample, g geometry.Vec3) {
	row.A[0], row.A[1], row.A[2] = g.X*c.Half[0], g.Y*c.Half[1], g.Z*c.Half[2]
	for j := poses.Turn; j < p.lp.N; j++ {
		row.A[j] = g.Dot(f.By[j-poses.Turn].Apply(s.At)) * c.Half[j]
	}
	row.Low = row.B
	for j := 0; j < p.lp.N; j++ {
		row.Low -= math.Abs(row.A[j])
	}
}
