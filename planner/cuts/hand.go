package cuts

import (
	"fmt"
	"math"

	"cabwright/geometry"
	"cabwright/planner"
	"cabwright/planner/search"
)

// ByHand hangs the cuts kept in a stone file on pieces, in the order in which
// they are kept: each is made on the piece that its point lies in. A cut with
// stones on one side only gets its normal turned to the other, the offcut.
func ByHand(kept []planner.Cut, fits []search.Fit) ([]Placed, []Cut) {
	var cuts []Cut
	for _, k := range kept {
		n := k.Normal.Norm()
		if n == 0 {
			continue
		}
		c := Cut{Plane: Plane{Point: k.Point, Normal: k.Normal.Scale(1 / n)}, Kerf: k.Kerf}
		c.Piece = pieceAt(cuts, k.Point)
		beyond, before := false, false
		for _, f := range fits {
			if middle := middleOf(f); pieceAt(cuts, middle) == c.Piece {
				beyond, before = beyond || c.Height(middle) >= 0, before || c.Height(middle) < 0
			}
		}
		if beyond && !before {
			c.Normal = c.Normal.Scale(-1)
		}
		cuts = append(cuts, c)
	}
	placed := make([]Placed, len(fits))
	for i, f := range fits {
		placed[i] = Placed{Fit: f, Piece: pieceAt(cuts, middleOf(f))}
	}
	return placed, cuts
}

// middleOf is a point inside a stone, half-way up.
func middleOf(f search.Fit) geometry.Vec3 {
	return f.Pose.Place(geometry.Vec3{Z: f.Solid.CentreOfHeight()})
}

// pieceAt names the piece that a point lies in, a kerf counting as one side.
func pieceAt(cuts []Cut, p geometry.Vec3) string {
	piece := ""
	for range cuts {
		for _, c := range cuts {
			if c.Piece != piece {
				continue
			}
			if c.Height(p) >= 0 {
				piece += "+"
			} else {
				piece += "-"
			}
			break
		}
	}
	return piece
}

// ToFile returns a layout's cuts as a stone file keeps them, each with a point
// of its own piece.
func ToFile(l Layout) []planner.Cut {
	var out []planner.Cut
	for i, s := range l.Steps {
		p := s.Point
		if len(s.Marks) == 2 {
			q := s.Marks[0].At.Add(s.Marks[1].At).Scale(0.5)
			p = geometry.Vec3{X: q.X, Y: q.Y, Z: p.Z}
			p = p.Sub(s.Normal.Scale(s.Height(p))) // back onto a leaning plane
		}
		out = append(out, planner.Cut{ID: fmt.Sprintf("K%d", i+1), Point: p, Normal: s.Normal, Kerf: s.Kerf})
	}
	return out
}

// Moved returns the plane shifted along its normal.
func (p Plane) Moved(by float64) Plane {
	p.Point = p.Point.Add(p.Normal.Scale(by))
	return p
}

// Turned returns the plane turned about the upright line through its point,
// radians counter-clockwise from above.
func (p Plane) Turned(angle float64) Plane {
	p.Normal = geometry.RotZ(angle).Apply(p.Normal)
	return p
}

// Leaned returns the plane leant about its trace by some radians more, its
// normal going up; it stops at level.
func (p Plane) Leaned(angle float64) Plane {
	flat := math.Hypot(p.Normal.X, p.Normal.Y)
	lean := math.Max(-math.Pi/2, math.Min(math.Pi/2, math.Atan2(p.Normal.Z, flat)+angle))
	if flat < upright {
		return p // level: there is no trace to lean about
	}
	s, c := math.Sincos(lean)
	p.Normal = geometry.Vec3{X: p.Normal.X / flat * c, Y: p.Normal.Y / flat * c, Z: s}
	return p
}
