package search

import (
	"math"

	"cabwright/geometry"
	"cabwright/geometry/field"
)

// sampleRows adds the rows of one sample, placed at the cell's centre pose, and
// lowers the ceiling if this sample lowers it.
func (p *prober) sampleRows(c *cell, f *frame, i int, place geometry.Vec3) {
	s := &p.model.samples[i]
	p.asked[i] = p.number
	reach := p.reach(c, s, place)
	full := reach.Full()
	var by [3]geometry.Vec3
	n := p.lp.n - turn
	for k := 0; k < n; k++ {
		by[k] = f.by[k].Apply(s.at)
	}
	span := p.spanOf(c, f, s, by[:n])
	p.raw = p.field.Rows(place, reach, span, p.ceiling+s.radius, p.raw[:0])
	if len(p.raw) == 0 {
		return
	}
	for k := range p.raw {
		r := &p.raw[k]
		if v := r.Value + r.Slack + full - s.radius; v < p.ceiling {
			p.ceiling = v
		}
		row := lpRow{b: r.Value - s.radius, obstacle: r.Obstacle, sample: i + 1}
		if r.Bent {
			row.a, row.strain = r.Coef, r.Strain
			row.b += r.Slack
		} else {
			g := r.Gradient
			row.a[0], row.a[1], row.a[2] = g.X*c.half[0], g.Y*c.half[1], g.Z*c.half[2]
			for j := 0; j < n; j++ {
				row.a[turn+j] = g.Dot(by[j]) * c.half[turn+j]
			}
			row.b += p.slack(c, f, s, r, by[:n], &row.strain)
		}
		row.low = row.b
		for j := 0; j < p.lp.n; j++ {
			row.low -= math.Abs(row.a[j])
		}
		if row.low < p.ceiling {
			p.lp.rows = append(p.lp.rows, row)
		}
	}
}

// spanOf says how a sample moves within the cell: in proportion to each variable,
// and beside that along the arcs that the angles make of it. The second-order
// part of one angle alone goes one way only: half of the most it can be is taken
// as a shift. The rest and the third order go into the bow.
func (p *prober) spanOf(c *cell, f *frame, s *sample, by []geometry.Vec3) *field.Span {
	sp := &p.span
	*sp = field.Span{N: p.lp.n}
	sp.By[0].X, sp.By[1].Y, sp.By[2].Z = c.half[0], c.half[1], c.half[2]
	angles := 0.0
	for j := range by {
		hj := c.half[turn+j]
		sp.By[turn+j] = by[j].Scale(hj)
		angles += hj
		for k := j; k < len(by); k++ {
			q := f.twice[j][k].Apply(s.at).Scale(hj * c.half[turn+k])
			if j == k {
				q = q.Scale(0.25)
				sp.Shift = sp.Shift.Add(q)
			}
			sp.Bow += q.Norm()
		}
	}
	arm := s.lever
	if p.level {
		arm = s.flat
	}
	sp.Bow += angles * angles * angles / 6 * arm
	return sp
}

// slack is what a row can miss within the cell, beside its own linear part:
// the obstacle's curvature over the reach, the second-order part of the rotation
// along the row's gradient, and the third-order remainder (every derivative of a
// product of rotations along a line has norm at most the sum of the angles to the
// power of the order). It notes which variable each part comes from.
func (p *prober) slack(c *cell, f *frame, s *sample, r *field.Row, by []geometry.Vec3, strain *[dims]float64) float64 {
	sum := r.Slack
	if r.Slack > 0 {
		// Shared out by the square of how far each variable moves the sample.
		total := 0.0
		for j := range 3 {
			strain[j] = c.half[j] * c.half[j]
			total += strain[j]
		}
		for j := range by {
			h := c.half[turn+j]
			strain[turn+j] = by[j].Dot(by[j]) * h * h
			total += strain[turn+j]
		}
		if total > 0 {
			for j := range strain {
				strain[j] *= r.Slack / total
			}
		}
	}
	angles := 0.0
	for j := range by {
		hj := c.half[turn+j]
		angles += hj
		for k := j; k < len(by); k++ {
			q := r.Gradient.Dot(f.twice[j][k].Apply(s.at)) * hj * c.half[turn+k]
			if j == k {
				q = max(0, q/2)
			} else {
				q = math.Abs(q)
			}
			sum += q
			strain[turn+j] += q / 2
			strain[turn+k] += q / 2
		}
	}
	cubic := angles * angles * angles / 6 * s.lever
	if p.level {
		cubic = angles * angles * angles / 6 * s.flat
	}
	sum += cubic
	if angles > 0 {
		for j := range by {
			strain[turn+j] += cubic * c.half[turn+j] / angles
		}
	}
	return sum
}
