package geometry

import "math"

// Vec2 is a point or a displacement in plan, in millimetres.
type Vec2 struct{ X, Y float64 }

// Add returns a + b.
func (a Vec2) Add(b Vec2) Vec2 { return Vec2{a.X + b.X, a.Y + b.Y} }

// Sub returns a - b.
func (a Vec2) Sub(b Vec2) Vec2 { return Vec2{a.X - b.X, a.Y - b.Y} }

// Scale returns k a.
func (a Vec2) Scale(k float64) Vec2 { return Vec2{k * a.X, k * a.Y} }

// Dot returns the scalar product of a and b.
func (a Vec2) Dot(b Vec2) float64 { return a.X*b.X + a.Y*b.Y }

// Cross returns the z component of the vector product of a and b: positive
// when b lies counter-clockwise of a.
func (a Vec2) Cross(b Vec2) float64 { return a.X*b.Y - a.Y*b.X }

// Norm returns the length of a.
func (a Vec2) Norm() float64 { return math.Sqrt(a.X*a.X + a.Y*a.Y) }

// Vec3 is a point or a displacement in space, in millimetres.
type Vec3 struct{ X, Y, Z float64 }

// Add returns a + b.
func (a Vec3) Add(b Vec3) Vec3 { return Vec3{a.X + b.X, a.Y + b.Y, a.Z + b.Z} }

// Sub returns a - b.
func (a Vec3) Sub(b Vec3) Vec3 { return Vec3{a.X - b.X, a.Y - b.Y, a.Z - b.Z} }

// Scale returns k a.
func (a Vec3) Scale(k float64) Vec3 { return Vec3{k * a.X, k * a.Y, k * a.Z} }

// Dot returns the scalar product of a and b.
func (a Vec3) Dot(b Vec3) float64 { return a.X*b.X + a.Y*b.Y + a.Z*b.Z }

// Cross returns the vector product of a and b.
func (a Vec3) Cross(b Vec3) Vec3 {
	return Vec3{a.Y*b.Z - a.Z*b.Y, a.Z*b.X - a.X*b.Z, a.X*b.Y - a.Y*b.X}
}

// Norm returns the length of a.
func (a Vec3) Norm() float64 { return math.Sqrt(a.X*a.X + a.Y*a.Y + a.Z*a.Z) }

// XY returns the plan position below or above a.
func (a Vec3) XY() Vec2 { return Vec2{a.X, a.Y} }

// Mat3 is a 3 x 3 matrix given by its columns; a rotation's columns are the
// images of the unit vectors.
type Mat3 struct{ U, V, W Vec3 }

// Identity3 is the matrix that changes nothing.
func Identity3() Mat3 {
	return Mat3{Vec3{1, 0, 0}, Vec3{0, 1, 0}, Vec3{0, 0, 1}}
}

// Apply returns the matrix times v.
func (m Mat3) Apply(v Vec3) Vec3 {
	return Vec3{
		m.U.X*v.X + m.V.X*v.Y + m.W.X*v.Z,
		m.U.Y*v.X + m.V.Y*v.Y + m.W.Y*v.Z,
		m.U.Z*v.X + m.V.Z*v.Y + m.W.Z*v.Z,
	}
}

// Transposed returns the transposed matrix times v: for a rotation, v seen in
// the rotated axes.
func (m Mat3) Transposed(v Vec3) Vec3 { return Vec3{m.U.Dot(v), m.V.Dot(v), m.W.Dot(v)} }

// Mul returns the matrix product m n: n first, then m.
func (m Mat3) Mul(n Mat3) Mat3 { return Mat3{m.Apply(n.U), m.Apply(n.V), m.Apply(n.W)} }

// RotX returns the rotation by angle (radians, counter-clockwise seen from +x).
func RotX(angle float64) Mat3 {
	s, c := math.Sincos(angle)
	return Mat3{Vec3{1, 0, 0}, Vec3{0, c, s}, Vec3{0, -s, c}}
}

// RotY returns the rotation by angle (radians, counter-clockwise seen from +y).
func RotY(angle float64) Mat3 {
	s, c := math.Sincos(angle)
	return Mat3{Vec3{c, 0, -s}, Vec3{0, 1, 0}, Vec3{s, 0, c}}
}

// RotZ returns the rotation by angle (radians, counter-clockwise seen from +z).
func RotZ(angle float64) Mat3 {
	s, c := math.Sincos(angle)
	return Mat3{Vec3{c, s, 0}, Vec3{-s, c, 0}, Vec3{0, 0, 1}}
}
