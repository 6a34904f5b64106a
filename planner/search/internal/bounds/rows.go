package bounds

import (
	"math"

	"cabwright/geometry"
	"cabwright/geometry/field"
	"cabwright/planner/search/internal/poses"
	"cabwright/planner/search/internal/simplex"
)

// sampleRows adds the rows of one sample, placed at the cell's centre pose, and
// lowers the ceiling if this sample lowers it.
func (p *Prober) sampleRows(c *Box, f *poses.Frame, i int, place geometry.Vec3) {
	s := &p.Model.Samples[i]
	p.asked[i] = p.number
	reach := p.reach(c, s, place)
	full := reach.Full()
	var by [3]geometry.Vec3
	n := p.lp.N - poses.Turn
	for k := 0; k < n; k++ {
		by[k] = f.By[k].Apply(s.At)
	}
	span := p.spanOf(c, f, s, by[:n])
	p.raw = p.Field.Rows(place, reach, span, p.ceiling+s.Radius, p.raw[:0])
	if len(p.raw) == 0 {
		return
	}
	for k := range p.raw {
		r := &p.raw[k]
		if v := r.Value + r.Slack + full - s.Radius; v < p.ceiling {
			p.ceiling = v
		}
		row := simplex.Row{B: r.Value - s.Radius, Obstacle: r.Obstacle, Sample: i + 1}
		if r.Bent {
			row.A, row.Strain = r.Coef, r.Strain
			row.B += r.Slack
		} else {
			g := r.Gradient
			row.A[0], row.A[1], row.A[2] = g.X*c.Half[0], g.Y*c.Half[1], g.Z*c.Half[2]
			for j := 0; j < n; j++ {
				row.A[poses.Turn+j] = g.Dot(by[j]) * c.Half[poses.Turn+j]
			}
			row.B += p.slack(c, f, s, r, by[:n], &row.Strain)
		}
		row.Low = row.B
		for j := 0; j < p.lp.N; j++ {
			row.Low -= math.Abs(row.A[j])
		}
		if row.Low < p.ceiling {
			p.lp.Rows = append(p.lp.Rows, row)
		}
	}
}

// spanOf says how a sample moves within the cell: in proportion to each variable,
// and beside that along the arcs that the angles make of it. The second-order
// part of one angle alone goes one way only: half of the most it can be is taken
// as a shift. The rest and the third order go into the bow.
func (p *Prober) spanOf(c *Box, f *poses.Frame, s *poses.Sample, by []geometry.Vec3) *field.Span {
	sp := &p.span
	*sp = field.Span{N: p.lp.N}
	sp.By[0].X, sp.By[1].Y, sp.By[2].Z = c.Half[0], c.Half[1], c.Half[2]
	angles := 0.0
	for j := range by {
		hj := c.Half[poses.Turn+j]
		sp.By[poses.Turn+j] = by[j].Scale(hj)
		angles += hj
		for k := j; k < len(by); k++ {
			q := f.Twice[j][k].Apply(s.At).Scale(hj * c.Half[poses.Turn+k])
			if j == k {
				q = q.Scale(0.25)
				sp.Shift = sp.Shift.Add(q)
			}
			sp.Bow += q.Norm()
		}
	}
	arm := s.Lever
	if p.Level {
		arm = s.Flat
	}
	sp.Bow += angles * angles * angles / 6 * arm
	return sp
}

// slack is what a row can miss within the cell, beside its own linear part:
// the obstacle's curvature over the reach, the second-order part of the rotation
// along the row's gradient, and the third-order remainder (every derivative of a
// product of rotations along a line has norm at most the sum of the angles to the
// power of the order). It notes which variable each part comes from.
func (p *Prober) slack(
	c *Box, f *poses.Frame, s *poses.Sample, r *field.Row, by []geometry.Vec3, strain *[poses.Dims]float64,
) float64 {
	sum := r.Slack
	if r.Slack > 0 {
		// Shared out by the square of how far each variable moves the sample.
		total := 0.0
		for j := range 3 {
			strain[j] = c.Half[j] * c.Half[j]
			total += strain[j]
		}
		for j := range by {
			h := c.Half[poses.Turn+j]
			strain[poses.Turn+j] = by[j].Dot(by[j]) * h * h
			total += strain[poses.Turn+j]
		}
		if total > 0 {
			for j := range strain {
				strain[j] *= r.Slack / total
			}
		}
	}
	angles := 0.0
	for j := range by {
		hj := c.Half[poses.Turn+j]
		angles += hj
		for k := j; k < len(by); k++ {
			q := r.Gradient.Dot(f.Twice[j][k].Apply(s.At)) * hj * c.Half[poses.Turn+k]
			if j == k {
				q = max(0, q/2)
			} else {
				q = math.Abs(q)
			}
			sum += q
			strain[poses.Turn+j] += q / 2
			strain[poses.Turn+k] += q / 2
		}
	}
	cubic := angles * angles * angles / 6 * s.Lever
	if p.Level {
		cubic = angles * angles * angles / 6 * s.Flat
	}
	sum += cubic
	if angles > 0 {
		for j := range by {
			strain[poses.Turn+j] += cubic * c.Half[poses.Turn+j] / angles
		}
	}
	return sum
}
