package odds

import (
	"math"

	"cabwright/geometry"
	"cabwright/geometry/solid"
)

// skin is the outside of a solid in cells that can be divided again and again. A cell
// covers a range of two parameters: the direction from the axis, radians, and how far
// down the profile: 0 at the top of the dome, 1 where the wall begins, 2 at the girdle,
// 3 in the middle of the back. Each goroutine has its own.
type skin struct {
	c     solid.Cabochon
	rim   float64 // gauge at which the wall begins
	cells []skinCell
	roots int // so many of the cells cover the skin; the others are parts of them
}

type skinCell struct {
	u, v, halfU, halfV float64
	at                 geometry.Vec3 // in the solid's own axes
	reach              float64       // no point of the cell is further from there, mm
	parts              int32         // the first of its four parts; 0: not divided yet
}

// skinSpacing is about how wide the first cells are, mm.
const skinSpacing = 1.2

func newSkin(c solid.Cabochon) *skin {
	s := &skin{c: c, rim: c.RimRatio()}
	lo, hi := c.Outline.Extent()
	half := math.Max(hi.X-lo.X, hi.Y-lo.Y) / 2
	s.rings(0, 1, math.Hypot(half, c.Dome), half)
	if c.Wall > 0 {
		s.rings(1, 2, c.Wall, half)
	}
	s.rings(2, 3, math.Hypot(half, c.BackDepth()), half)
	s.roots = len(s.cells)
	return s
}

// rings covers the skin from one parameter of the profile to another, a length apart, mm;
// half is half the length of the solid. Where a ring is small it has fewer cells.
func (s *skin) rings(from, to, length, half float64) {
	n := math.Ceil(length / skinSpacing)
	for k := range int(n) {
		halfV := (to - from) / n / 2
		v := from + (2*float64(k)+1)*halfV
		a, _ := s.profile(v - halfV)
		b, _ := s.profile(v + halfV)
		round := math.Max(6, math.Ceil(2*math.Pi*half*math.Max(a, b)/skinSpacing))
		for i := range int(round) {
			s.cells = append(s.cells, s.cell((2*float64(i)+1)*math.Pi/round, v, math.Pi/round, halfV))
		}
	}
}

// bulge is by how much a cell may reach beyond its corners and the middles of its edges,
// as a share: these lie on curves.
const bulge = 1.05

func (s *skin) cell(u, v, halfU, halfV float64) skinCell {
	c := skinCell{u: u, v: v, halfU: halfU, halfV: halfV, at: s.at(u, v)}
	for _, i := range [3]float64{-1, 0, 1} {
		for _, k := range [3]float64{-1, 0, 1} {
			c.reach = max(c.reach, s.at(u+i*halfU, v+k*halfV).Sub(c.at).Norm())
		}
	}
	c.reach *= bulge
	return c
}

// partsOf divides a cell and returns the first of its four parts, which follow each other.
func (s *skin) partsOf(i int32) int32 {
	if c := s.cells[i]; c.parts == 0 {
		s.cells[i].parts = int32(len(s.cells))
		for _, d := range [4][2]float64{{-1, -1}, {-1, 1}, {1, -1}, {1, 1}} {
			s.cells = append(s.cells, s.cell(c.u+d[0]*c.halfU/2, c.v+d[1]*c.halfV/2, c.halfU/2, c.halfV/2))
		}
	}
	return s.cells[i].parts
}

// profile returns the gauge and the height at a parameter of the profile.
func (s *skin) profile(v float64) (rho, z float64) {
	switch {
	case v <= 1:
		sin, cos := math.Sincos(math.Max(0, v) * math.Pi / 2)
		return s.rim * sin, s.c.Wall + s.c.Dome*cos
	case v <= 2:
		return s.rim + (1-s.rim)*(v-1), s.c.Wall * (2 - v)
	case s.c.BackDepth() == 0:
		return math.Max(0, 3-v), 0
	default:
		sin, cos := math.Sincos(math.Min(1, v-2) * math.Pi / 2)
		return cos, -s.c.BackDepth() * sin
	}
}

// at is the point of the skin at two parameters, in the solid's own axes.
func (s *skin) at(u, v float64) geometry.Vec3 {
	rho, z := s.profile(v)
	sin, cos := math.Sincos(u)
	r := rho / s.c.Outline.Gauge(cos, sin)
	return geometry.Vec3{X: r * cos, Y: r * sin, Z: z}
}

// holds reports whether a point in the solid's own axes lies inside it.
func (s *skin) holds(p geometry.Vec3) bool {
	rho := s.c.Outline.Gauge(p.X, p.Y)
	return rho < 1 && p.Z < s.c.Upper(rho) && p.Z > s.c.Lower(rho)
}
