package poses

import "cabwright/geometry"

// Pose says where a cabochon lies in the rough.
type Pose struct {
	Origin geometry.Vec3 // the local origin (outline centre on the girdle plane), mm
	Axes   geometry.Mat3 // columns: length, width and dome axis, right-handed unit vectors
}

// Place returns the point of the rough at local point p of the cabochon.
func (p Pose) Place(local geometry.Vec3) geometry.Vec3 { return p.Origin.Add(p.Axes.Apply(local)) }

// Local returns the cabochon's local coordinates of a point of the rough.
func (p Pose) Local(at geometry.Vec3) geometry.Vec3 { return p.Axes.Transposed(at.Sub(p.Origin)) }
