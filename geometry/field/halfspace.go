package field

import (
	"math"

	"cabwright/geometry"
)

// halfSpace is all that lies behind a plane: a face cut off level, or what a saw cut
// takes away. Its row is exact and affine.
type halfSpace struct {
	at, n     geometry.Vec3 // a point of the plane, and the unit normal towards the body
	allowance float64
}

// AddHalfSpace adds to the outside of the body all that lies behind the plane
// through the point at, whose unit normal into the part kept is n: a saw cut. Points
// keep the given allowance from it, mm; it counts as Skin.
func (f *Field) AddHalfSpace(at, n geometry.Vec3, allowance float64) {
	f.parts = append(f.parts, part{&halfSpace{at, n, allowance}, Skin})
}

func (h *halfSpace) clearance(p geometry.Vec3) float64 { return h.n.Dot(p.Sub(h.at)) - h.allowance }

func (h *halfSpace) rows(p geometry.Vec3, reach Reach, _ *Span, limit float64, out []Row) []Row {
	c := h.clearance(p)
	if c-reach.along(math.Hypot(h.n.X, h.n.Y), h.n.Z) >= limit {
		return out
	}
	return append(out, Row{Value: c, Gradient: h.n})
}

func (h *halfSpace) slopes(p geometry.Vec3, limit float64, out []Row) []Row {
	if c := h.clearance(p); c < limit {
		out = append(out, Row{Value: c, Gradient: h.n})
	}
	return out
}

func (h *halfSpace) estimate(p geometry.Vec3) float64          { return h.clearance(p) }
func (h *halfSpace) lower(p geometry.Vec3, _ float64) float64  { return h.clearance(p) }
func (h *halfSpace) tabled(p geometry.Vec3, _ float64) float64 { return h.clearance(p) }
func (h *halfSpace) apart(p geometry.Vec3) float64             { return h.clearance(p) }
func (h *halfSpace) bend(geometry.Vec3, float64, float64) float64 {
	return 0
}
func (h *halfSpace) keep() float64                 { return h.allowance }
func (h *halfSpace) inside() (geometry.Vec3, bool) { return geometry.Vec3{}, false }
