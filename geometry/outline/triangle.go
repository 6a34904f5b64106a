package outline

import (
	"math"

	"cabwright/geometry"
)

// triangle is Reuleaux's triangle, stretched along its axes to the length and
// width asked for: three corners, the first on the u axis, and three sides
// that are bowed out so far that, as long as wide, it measures the same
// across in every direction. Each side is an arc about the corner opposite.
//
// Unstretched, its corners lie on the unit circle and it is sqrt 3 across.
type triangle struct {
	su, sv float64 // stretch along u and v
	discs  [3]disc // unstretched: the set is what they have in common
}

var triangleCorners = [3]geometry.Vec2{
	{X: 1, Y: 0},
	{X: -0.5, Y: math.Sqrt(3) / 2},
	{X: -0.5, Y: -math.Sqrt(3) / 2},
}

func newTriangle(length, width float64) (curve, error) {
	t := triangle{su: length / math.Sqrt(3), sv: width / math.Sqrt(3)}
	for i, c := range triangleCorners {
		t.discs[i] = disc{c, math.Sqrt(3)}
	}
	return t, nil
}

func (t triangle) gauge(u, v float64) float64 {
	u, v = u/t.su, v/t.sv
	return math.Max(t.discs[0].gauge(u, v), math.Max(t.discs[1].gauge(u, v), t.discs[2].gauge(u, v)))
}

// area is (pi - sqrt 3)/2 times the square of the width across, unstretched 3.
func (t triangle) area() float64 { return 1.5 * (math.Pi - math.Sqrt(3)) * t.su * t.sv }

func (t triangle) corners() []float64 {
	a := math.Atan2(t.sv*math.Sqrt(3)/2, -t.su/2)
	return []float64{-a, 0, a}
}

func (t triangle) extent() (min, max geometry.Vec2) {
	v := t.sv * math.Sqrt(3) / 2
	return geometry.Vec2{X: t.su * (1 - math.Sqrt(3)), Y: -v}, geometry.Vec2{X: t.su, Y: v}
}

func (t triangle) period() float64 {
	if t.su == t.sv {
		return 2 * math.Pi / 3
	}
	return 2 * math.Pi
}

// Unstretched: where the direction is one of a side's normals (within 30
// degrees of the side's middle), the side's disc is reached; elsewhere a
// corner. The normals of the side opposite the corner c are those n with
// -n . c >= cos 30 degrees |n|.
func (t triangle) pieces() []support {
	return []support{func(cu, cv float64) float64 {
		n := geometry.Vec2{X: cu * t.su, Y: cv * t.sv}
		reach, far := math.Inf(-1), n.Norm()
		for _, c := range triangleCorners {
			d := n.Dot(c)
			if -d >= far*math.Sqrt(3)/2 {
				return d + math.Sqrt(3)*far
			}
			reach = math.Max(reach, d)
		}
		return reach
	}}
}

func (t triangle) cover() []support { return t.pieces() }
