package outline

import (
	"math"

	"cabwright/geometry"
)

// octagon is the rectangle |u| <= a, |v| <= b whose corners are cut off at 45
// degrees, each cut taking cornerCut of the shorter side from both sides.
type octagon struct {
	a, b float64
	sum  float64 // the cut is the line |u| + |v| = sum
}

// cornerCut is the project's own convention: a fifth of the shorter side.
const cornerCut = 0.2

func newOctagon(length, width float64) (curve, error) {
	a, b := length/2, width/2
	return octagon{a, b, a + b - cornerCut*math.Min(length, width)}, nil
}

func (o octagon) gauge(u, v float64) float64 {
	u, v = math.Abs(u), math.Abs(v)
	return math.Max(math.Max(u/o.a, v/o.b), (u+v)/o.sum)
}

// area is the rectangle less four right triangles with legs a + b - sum.
func (o octagon) area() float64 {
	leg := o.a + o.b - o.sum
	return 4*o.a*o.b - 2*leg*leg
}

func (o octagon) corners() []float64 {
	low := math.Atan2(o.sum-o.a, o.a)  // where the cut meets |u| = a
	high := math.Atan2(o.b, o.sum-o.b) // where it meets |v| = b
	return []float64{
		low - math.Pi, high - math.Pi, -high, -low,
		low, high, math.Pi - high, math.Pi - low,
	}
}

func (o octagon) extent() (min, max geometry.Vec2) { return centred(o.a, o.b) }

func (o octagon) period() float64 { return fourfold(o.a, o.b) }

func (o octagon) pieces() []support {
	return []support{func(cu, cv float64) float64 {
		cu, cv = math.Abs(cu), math.Abs(cv)
		return math.Max(o.a*cu+(o.sum-o.a)*cv, (o.sum-o.b)*cu+o.b*cv)
	}}
}

func (o octagon) cover() []support { return o.pieces() }
