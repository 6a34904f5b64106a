package planner

import "cabwright/geometry"

// Cut is a saw cut placed by hand: a plane through the middle of the kerf.
type Cut struct {
	ID      string
	Point   geometry.Vec3 // on the plane, mm
	Normal  geometry.Vec3 // square to it, of any length
	Kerf    float64       // mm
	Unknown []UnknownKey
}
