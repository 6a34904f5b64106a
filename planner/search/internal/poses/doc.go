// Package poses has where a cabochon lies in the rough: as the plan gives it (Pose), as
// the six numbers that a search moves (Coord) with their derivatives (Frame), and the
// points and balls of the solid that are looked at on the way (Model). Lengths are mm,
// angles radians.
package poses
