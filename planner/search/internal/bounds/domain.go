package bounds

import (
	"math"

	"cabwright/planner/search/internal/poses"
)

// Domain is the box of poses that can matter at all: the pivot inside the
// rough's bounding box, the turns that differ, and tilts up to the limit.
func (p *Prober) Domain() Box {
	lo, hi := p.Field.Bounds()
	var c Box
	for j, r := range [3][2]float64{{lo.X, hi.X}, {lo.Y, hi.Y}, {lo.Z, hi.Z}} {
		c.At[j], c.Half[j] = (r[0]+r[1])/2, (r[1]-r[0])/2
	}
	c.Half[poses.Turn] = p.turnRange() / 2
	if !p.Level {
		c.Half[poses.Lean], c.Half[poses.Lean+1] = p.TiltMax, p.TiltMax
	}
	c.Bound = math.Inf(1)
	return c
}

// turnRange returns the width of a range of turns that holds every orientation of
// the solid, or one that its own symmetry makes the same. Spinning about the dome
// axis by the outline's period leaves the solid as it is; the turn changes at the
// rate cos t2/cos t1 of the spin (from R' = R [z]x), so by at most the period over
// the cosine of the tilt limit. For a half turn it is exact: both tilts change sign.
func (p *Prober) turnRange() float64 {
	period := p.Model.Period
	if p.Level || period == 0 || period > math.Pi-1e-9 {
		return period
	}
	return period / math.Cos(p.TiltMax)
}

// Allowed tells whether any pose of the box keeps within the tilt limit: the
// least lean in it is at the corner nearest to level.
func Allowed(c *Box, tiltMax float64) bool {
	a := max(0, math.Abs(c.At[poses.Lean])-c.Half[poses.Lean])
	b := max(0, math.Abs(c.At[poses.Lean+1])-c.Half[poses.Lean+1])
	return math.Cos(a)*math.Cos(b) >= math.Cos(tiltMax)-1e-12
}
