package field

import (
	"math"

	"cabwright/geometry"
)

// obstacle is one thing that every point keeps an allowance from. Its clearance
// at a point is the distance, negative inside where it has an inside, less the
// allowance; all lengths are millimetres.
type obstacle interface {
	// rows appends upper bounds on the clearance (see Row), leaving out those that
	// cannot fall below limit.
	rows(p geometry.Vec3, reach Reach, span *Span, limit float64, out []Row) []Row
	// slopes appends what a climb follows, where it is below limit.
	slopes(p geometry.Vec3, limit float64, out []Row) []Row
	// estimate is the clearance as the tables have it: no bound.
	estimate(p geometry.Vec3) float64
	// lower is a lower bound on the clearance, exact to some micrometres where it is
	// below enough.
	lower(p geometry.Vec3, enough float64) float64
	// tabled is a lower bound on the clearance from tables alone, at once.
	tabled(p geometry.Vec3, enough float64) float64
	// apart is a cheap lower bound on the clearance from a box around the obstacle.
	apart(p geometry.Vec3) float64
	// bend bounds the second derivative, in every direction, that the distance has
	// within twice radius of p (see Vicinity.Over), where it is nowhere below distance.
	bend(p geometry.Vec3, distance, radius float64) float64
	// keep returns the allowance.
	keep() float64
	// inside returns one point of the obstacle, false for what lies all round.
	inside() (geometry.Vec3, bool)
}

// inverse is the second derivative of the distance to a point, and so to any set, at
// that distance.
func inverse(d float64) float64 {
	if d <= 0 {
		return math.Inf(1)
	}
	return 1 / d
}
