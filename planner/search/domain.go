package search

import "math"

// domain is the box of poses that can matter at all: the pivot inside the
// rough's bounding box, the turns that differ, and tilts up to the limit.
func (p *prober) domain() cell {
	lo, hi := p.field.Bounds()
	var c cell
	for j, r := range [3][2]float64{{lo.X, hi.X}, {lo.Y, hi.Y}, {lo.Z, hi.Z}} {
		c.at[j], c.half[j] = (r[0]+r[1])/2, (r[1]-r[0])/2
	}
	c.half[turn] = p.turnRange() / 2
	if !p.level {
		c.half[lean], c.half[lean+1] = p.tiltMax, p.tiltMax
	}
	c.bound = math.Inf(1)
	return c
}

// turnRange returns the width of a range of turns that holds every orientation of
// the solid, or one that its own symmetry makes the same. Spinning about the dome
// axis by the outline's period leaves the solid as it is; the turn changes at the
// rate cos t2/cos t1 of the spin (from R' = R [z]x), so by at most the period over
// the cosine of the tilt limit. For a half turn it is exact: both tilts change sign.
func (p *prober) turnRange() float64 {
	period := p.model.period
	if p.level || period == 0 || period > math.Pi-1e-9 {
		return period
	}
	return period / math.Cos(p.tiltMax)
}

// allowed tells whether any pose of the box keeps within the tilt limit: the
// least lean in it is at the corner nearest to level.
func allowed(c *cell, tiltMax float64) bool {
	a := max(0, math.Abs(c.at[lean])-c.half[lean])
	b := max(0, math.Abs(c.at[lean+1])-c.half[lean+1])
	return math.Cos(a)*math.Cos(b) >= math.Cos(tiltMax)-1e-12
}
