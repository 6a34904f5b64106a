package cuts

import (
	"math"

	"cabwright/geometry"
	"cabwright/planner/search"
)

// Kind says what a cut is for.
type Kind string

// The kinds, in the order in which they are sawn.
const (
	Free Kind = "free" // saws a crack or a pocket off before it can run
	Part Kind = "part" // has a stone on either side
	Trim Kind = "trim" // saws waste off; its normal points to the offcut
)

// Plane is the middle of a kerf.
type Plane struct {
	Point  geometry.Vec3
	Normal geometry.Vec3 // of length 1
}

// Height returns how far a point lies beyond the plane, on the side that the
// normal points to.
func (p Plane) Height(at geometry.Vec3) float64 { return at.Sub(p.Point).Dot(p.Normal) }

// LeanDeg returns by how many degrees the plane is off upright.
func (p Plane) LeanDeg() float64 {
	return math.Asin(min(1, math.Abs(p.Normal.Z))) * 180 / math.Pi
}

// Cut is a saw cut on one piece.
type Cut struct {
	Plane
	Kerf  float64 // width of the cut, mm
	Kind  Kind
	Piece string // that it is made on
}

// Placed is a stone on its piece.
type Placed struct {
	search.Fit
	Piece string
}

// Half is one side of a cut, without its kerf: all points with
// Normal . p >= From.
type half struct {
	normal geometry.Vec3
	from   float64
}

// side returns the side of a cut: +1 where the normal points to, or -1.
func (c Cut) side(sign float64) half {
	return half{normal: c.Normal.Scale(sign), from: sign*c.Normal.Dot(c.Point) + c.Kerf/2}
}

// clip shortens the column over (x, y) from low to high to what lies on the
// side; what is left is empty when the second is not above the first.
func (h half) clip(x, y, low, high float64) (from, to float64) {
	lack := h.from - h.normal.X*x - h.normal.Y*y
	switch n := h.normal.Z; {
	case math.Abs(n) < upright:
		if lack > 0 {
			return low, low
		}
		return low, high
	case n > 0:
		return max(low, lack/n), high
	default:
		return low, min(high, lack/n)
	}
}

// upright is the vertical part of a normal below which a cut is taken as
// exactly upright: over 100 mm it leans by 0.0001 mm.
const upright = 1e-6

// halves returns the sides of the cuts that make a piece.
func halves(cuts []Cut, piece string) []half {
	var out []half
	for k := range piece {
		for _, c := range cuts {
			if c.Piece == piece[:k] {
				out = append(out, c.side(signOf(piece[k])))
			}
		}
	}
	return out
}

func signOf(side byte) float64 {
	if side == '-' {
		return -1
	}
	return 1
}

// Room returns how much further from the cut's kerf a stone lies than the
// least distance keep: negative when it is too near.
func (c Cut) Room(f search.Fit, side, keep float64) float64 {
	return -reach(f, c.Normal.Scale(-side)) - side*c.Normal.Dot(c.Point) - c.Kerf/2 - keep
}

// reach returns the largest d . p over the points p of a placed stone.
func reach(f search.Fit, d geometry.Vec3) float64 {
	return d.Dot(f.Pose.Origin) + f.Solid.Support(f.Pose.Axes.Transposed(d))
}
