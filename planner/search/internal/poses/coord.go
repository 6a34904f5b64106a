package poses

import (
	"math"

	"cabwright/geometry"
)

// Coord is a pose in the search's own six numbers: the pivot's x, y, z, the turn,
// and two tilts (radians). The rotation is RotZ(turn) RotX(tilt1) RotY(tilt2); the
// dome axis then leans from the vertical by arccos(cos tilt1 cos tilt2). Heights do
// not depend on the turn, which comes last: most contacts are with top and base,
// and their rows have no second-order part of turn and tilt together.
type Coord [Dims]float64

// Dims is how many numbers a pose has: x, y, z, turn and two tilts.
const Dims = 6

const (
	Turn = 3
	Lean = 4 // and 5
)

// Rotation returns the rotation of a pose.
func (c Coord) Rotation() geometry.Mat3 {
	return geometry.RotZ(c[Turn]).Mul(geometry.RotX(c[Lean])).Mul(geometry.RotY(c[Lean+1]))
}

// Tilt returns the angle between the dome axis and the vertical.
func (c Coord) Tilt() float64 {
	return math.Acos(min(1, math.Cos(c[Lean])*math.Cos(c[Lean+1])))
}

// Frame is a rotation with its first and second derivatives by turn and tilts.
type Frame struct {
	R     geometry.Mat3
	By    [3]geometry.Mat3    // turn, tilt1, tilt2
	Twice [3][3]geometry.Mat3 // symmetric; the upper triangle is filled
	level bool
}

func NewFrame(c Coord, level bool) Frame {
	x, dx, ddx := axisX(c[Lean])
	y, dy, ddy := axisY(c[Lean+1])
	z, dz, ddz := axisZ(c[Turn])
	if level {
		f := Frame{R: z, level: true}
		f.By[0], f.Twice[0][0] = dz, ddz
		return f
	}
	xy, dxy, xdy := x.Mul(y), dx.Mul(y), x.Mul(dy)
	f := Frame{R: z.Mul(xy)}
	f.By = [3]geometry.Mat3{dz.Mul(xy), z.Mul(dxy), z.Mul(xdy)}
	f.Twice[0] = [3]geometry.Mat3{ddz.Mul(xy), dz.Mul(dxy), dz.Mul(xdy)}
	f.Twice[1][1] = z.Mul(ddx).Mul(y)
	f.Twice[1][2] = z.Mul(dx).Mul(dy)
	f.Twice[2][2] = z.Mul(x).Mul(ddy)
	return f
}

// axisX returns RotX and its first two derivatives by the angle; axisY and
// axisZ alike.
func axisX(a float64) (r, d, dd geometry.Mat3) {
	s, c := math.Sincos(a)
	r = geometry.RotX(a)
	d = geometry.Mat3{V: geometry.Vec3{Y: -s, Z: c}, W: geometry.Vec3{Y: -c, Z: -s}}
	dd = geometry.Mat3{V: geometry.Vec3{Y: -c, Z: -s}, W: geometry.Vec3{Y: s, Z: -c}}
	return
}

func axisY(a float64) (r, d, dd geometry.Mat3) {
	s, c := math.Sincos(a)
	r = geometry.RotY(a)
	d = geometry.Mat3{U: geometry.Vec3{X: -s, Z: -c}, W: geometry.Vec3{X: c, Z: -s}}
	dd = geometry.Mat3{U: geometry.Vec3{X: -c, Z: s}, W: geometry.Vec3{X: -s, Z: -c}}
	return
}

func axisZ(a float64) (r, d, dd geometry.Mat3) {
	s, c := math.Sincos(a)
	r = geometry.RotZ(a)
	d = geometry.Mat3{U: geometry.Vec3{X: -s, Y: c}, V: geometry.Vec3{X: -c, Y: -s}}
	dd = geometry.Mat3{U: geometry.Vec3{X: -c, Y: -s}, V: geometry.Vec3{X: s, Y: -c}}
	return
}

// Pose turns search coordinates into the pose of the plan.
func (m *Model) Pose(c Coord) Pose {
	r := c.Rotation()
	if m.Flip {
		r = r.Mul(geometry.Mat3{U: geometry.Vec3{X: 1}, V: geometry.Vec3{Y: -1}, W: geometry.Vec3{Z: -1}})
	}
	pivot := geometry.Vec3{X: c[0], Y: c[1], Z: c[2]}
	return Pose{Origin: pivot.Sub(r.W.Scale(m.Pivot)), Axes: r}
}

// CoordOf is the inverse of pose.
func (m *Model) CoordOf(p Pose) Coord {
	pivot := p.Origin.Add(p.Axes.W.Scale(m.Pivot))
	r := p.Axes
	if m.Flip {
		r = r.Mul(geometry.Mat3{U: geometry.Vec3{X: 1}, V: geometry.Vec3{Y: -1}, W: geometry.Vec3{Z: -1}})
	}
	// Third row of r: (-cos t1 sin t2, sin t1, cos t1 cos t2).
	c := Coord{pivot.X, pivot.Y, pivot.Z}
	c[Lean] = math.Asin(max(-1, min(1, r.V.Z)))
	c[Lean+1] = math.Atan2(-r.U.Z, r.W.Z)
	// Second column of r: (-sin turn cos t1, cos turn cos t1, sin t1).
	c[Turn] = math.Atan2(-r.V.X, r.V.Y)
	return c
}

// Within pulls the tilts back to the limit, along the straight way to level.
func Within(at Coord, tiltMax float64) Coord {
	if at.Tilt() <= tiltMax {
		return at
	}
	lo, hi := 0.0, 1.0
	for range 40 {
		m := (lo + hi) / 2
		q := at
		q[Lean], q[Lean+1] = m*at[Lean], m*at[Lean+1]
		if q.Tilt() <= tiltMax {
			lo = m
		} else {
			hi = m
		}
	}
	at[Lean], at[Lean+1] = lo*at[Lean], lo*at[Lean+1]
	return at
}

// Pivot returns the pivot.
func (c Coord) Pivot() geometry.Vec3 { return geometry.Vec3{X: c[0], Y: c[1], Z: c[2]} }

// Like tells whether two poses are of one basin, as far as can be told at a glance.
func (c Coord) Like(o Coord) bool {
	return c.Pivot().Sub(o.Pivot()).Norm() < 0.8 && math.Abs(c[Turn]-o[Turn]) < 0.3
}
