package search

import (
	"math"

	"cabwright/geometry"
)

// coord is a pose in the search's own six numbers: the pivot's x, y, z, the turn,
// and two tilts (radians). The rotation is RotZ(turn) RotX(tilt1) RotY(tilt2); the
// dome axis then leans from the vertical by arccos(cos tilt1 cos tilt2). Heights do
// not depend on the turn, which comes last: most contacts are with top and base,
// and their rows have no second-order part of turn and tilt together.
type coord [dims]float64

const (
	turn = 3
	lean = 4 // and 5
)

// rotation returns the rotation of a pose.
func (c coord) rotation() geometry.Mat3 {
	return geometry.RotZ(c[turn]).Mul(geometry.RotX(c[lean])).Mul(geometry.RotY(c[lean+1]))
}

// tilt returns the angle between the dome axis and the vertical.
func (c coord) tilt() float64 {
	return math.Acos(min(1, math.Cos(c[lean])*math.Cos(c[lean+1])))
}

// frame is a rotation with its first and second derivatives by turn and tilts.
type frame struct {
	r     geometry.Mat3
	by    [3]geometry.Mat3    // turn, tilt1, tilt2
	twice [3][3]geometry.Mat3 // symmetric; the upper triangle is filled
	level bool
}

func newFrame(c coord, level bool) frame {
	x, dx, ddx := axisX(c[lean])
	y, dy, ddy := axisY(c[lean+1])
	z, dz, ddz := axisZ(c[turn])
	if level {
		f := frame{r: z, level: true}
		f.by[0], f.twice[0][0] = dz, ddz
		return f
	}
	xy, dxy, xdy := x.Mul(y), dx.Mul(y), x.Mul(dy)
	f := frame{r: z.Mul(xy)}
	f.by = [3]geometry.Mat3{dz.Mul(xy), z.Mul(dxy), z.Mul(xdy)}
	f.twice[0] = [3]geometry.Mat3{ddz.Mul(xy), dz.Mul(dxy), dz.Mul(xdy)}
	f.twice[1][1] = z.Mul(ddx).Mul(y)
	f.twice[1][2] = z.Mul(dx).Mul(dy)
	f.twice[2][2] = z.Mul(x).Mul(ddy)
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

// pose turns search coordinates into the pose of the plan.
func (m *model) pose(c coord) Pose {
	r := c.rotation()
	if m.flip {
		r = r.Mul(geometry.Mat3{U: geometry.Vec3{X: 1}, V: geometry.Vec3{Y: -1}, W: geometry.Vec3{Z: -1}})
	}
	pivot := geometry.Vec3{X: c[0], Y: c[1], Z: c[2]}
	return Pose{Origin: pivot.Sub(r.W.Scale(m.pivot)), Axes: r}
}

// coordOf is the inverse of pose.
func (m *model) coordOf(p Pose) coord {
	pivot := p.Origin.Add(p.Axes.W.Scale(m.pivot))
	r := p.Axes
	if m.flip {
		r = r.Mul(geometry.Mat3{U: geometry.Vec3{X: 1}, V: geometry.Vec3{Y: -1}, W: geometry.Vec3{Z: -1}})
	}
	// Third row of r: (-cos t1 sin t2, sin t1, cos t1 cos t2).
	c := coord{pivot.X, pivot.Y, pivot.Z}
	c[lean] = math.Asin(max(-1, min(1, r.V.Z)))
	c[lean+1] = math.Atan2(-r.U.Z, r.W.Z)
	// Second column of r: (-sin turn cos t1, cos turn cos t1, sin t1).
	c[turn] = math.Atan2(-r.V.X, r.V.Y)
	return c
}

// within pulls the tilts back to the limit, along the straight way to level.
func within(at coord, tiltMax float64) coord {
	if at.tilt() <= tiltMax {
		return at
	}
	lo, hi := 0.0, 1.0
	for range 40 {
		m := (lo + hi) / 2
		q := at
		q[lean], q[lean+1] = m*at[lean], m*at[lean+1]
		if q.tilt() <= tiltMax {
			lo = m
		} else {
			hi = m
		}
	}
	at[lean], at[lean+1] = lo*at[lean], lo*at[lean+1]
	return at
}

// place returns the pivot.
func (c coord) place() geometry.Vec3 { return geometry.Vec3{X: c[0], Y: c[1], Z: c[2]} }

// like tells whether two poses are of one basin, as far as can be told at a glance.
func (c coord) like(o coord) bool {
	return c.place().Sub(o.place()).Norm() < 0.8 && math.Abs(c[turn]-o[turn]) < 0.3
}
