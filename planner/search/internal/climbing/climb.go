package climbing

import (
	"math"

	"cabwright/planner/search/internal/bounds"
	"cabwright/planner/search/internal/poses"
)

// Steps of a climb, and the width it first looks over, mm: a wide one takes a climb
// over the ridges between near-by places, a narrow one serves from a pose that is
// good already.
const (
	FewSteps   = 10
	ManySteps  = 30
	WideTrust  = 1.5
	CloseTrust = 0.4
)

// Hopeless is the clearance below which a pose is not climbed from: the next size of
// the same shape takes off about half a millimetre all round.
const Hopeless = -0.5

// TryPoint evaluates a box's own best guess, and climbs from it unless that is
// far below what is wanted.
func TryPoint(p *bounds.Prober, c *bounds.Box, y [poses.Dims]float64, want float64) (poses.Coord, float64) {
	at := poses.Within(c.Point(y), p.TiltMax)
	if v := p.Value(at, want+Hopeless); v < want+Hopeless {
		return at, v
	}
	return Climb(p, at, 6, CloseTrust)
}

// Climb goes uphill from a pose: in each step the small linear programme of the
// rows without slack is solved within a trust region, which widens after a good
// step and narrows after a bad one (sequential linear programming for a max-min
// problem; Nocedal and Wright, Numerical Optimization, 2006, section 18.5, gives
// the scheme). It stops when the region is under a few micrometres wide, after
// the given number of steps. trust is the first region's half width, mm.
func Climb(p *bounds.Prober, at poses.Coord, steps int, trust float64) (poses.Coord, float64) {
	arm := max(1, p.Model.Solid.Outline.Length/2)
	value := p.Value(at, math.Inf(-1))
	for range steps {
		if trust < 0.003 || p.Stopped() {
			break
		}
		c := bounds.Box{At: at}
		for j := range 3 {
			c.Half[j] = trust
		}
		c.Half[poses.Turn] = trust / arm
		if p.Model.Period == 0 {
			c.Half[poses.Turn] = 0
		}
		if !p.Level {
			c.Half[poses.Lean], c.Half[poses.Lean+1] = trust/arm, trust/arm
		}
		p.Linearise(&c)
		better := false
		for k := range 3 {
			hope, y := p.Uphill()
			if k == 0 {
				p.Narrow(&c, hope)
			}
			next := poses.Within(c.Point(y), p.TiltMax)
			v := p.ValueInside(next, value)
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
			p.Refine(&c, next)
		}
		if !better {
			trust *= 0.35
		}
	}
	return at, value
}
