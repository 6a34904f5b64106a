package cuts

import (
	"math"

	"cabwright/geometry"
	"cabwright/planner"
)

// room holds, on a lattice, about how much further than its allowance a point
// lies from the skin, the cracks and the pockets. It is for moving solids about
// quickly: what is found is certified by search.Site afterwards.
type room struct {
	low        geometry.Vec3
	step       float64
	nx, ny, nz int
	value      []float32
}

// roomStep is the lattice's step, mm; roomMost bounds the number of its points,
// roomMargin is how far it goes on beyond the rough.
const (
	roomStep   = 0.5
	roomMost   = 150000
	roomMargin = 1.0
)

// measureRoom fills the lattice, a plane at a time on all processors.
func (b *Body) measureRoom() *room {
	lo, hi := geometry.Bounds(b.Rough.Outline)
	z0, z1 := b.Rough.Heights()
	size := geometry.Vec3{X: hi.X - lo.X + 2*roomMargin, Y: hi.Y - lo.Y + 2*roomMargin, Z: z1 - z0 + 2*roomMargin}
	r := &room{
		low:  geometry.Vec3{X: lo.X - roomMargin, Y: lo.Y - roomMargin, Z: z0 - roomMargin},
		step: math.Max(roomStep, math.Cbrt(size.X*size.Y*size.Z/roomMost)),
	}
	count := func(length float64) int { return int(math.Ceil(length/r.step)) + 2 }
	r.nx, r.ny, r.nz = count(size.X), count(size.Y), count(size.Z)
	r.value = make([]float32, r.nx*r.ny*r.nz)
	geometry.SideBySide(r.nx, func(i int) {
		x := r.low.X + float64(i)*r.step
		for j := range r.ny {
			y := r.low.Y + float64(j)*r.step
			at := b.plumbLine(x, y)
			for k := range r.nz {
				r.value[(i*r.ny+j)*r.nz+k] = float32(at(r.low.Z + float64(k)*r.step))
			}
		}
	})
	return r
}

// plumbLine returns the room over one place as a function of the height.
func (b *Body) plumbLine(x, y float64) func(z float64) float64 {
	at := geometry.Vec2{X: x, Y: y}
	a := b.Stone.Allowances
	wall := toPolygon(b.Rough.Outline, at)
	top, base := b.Rough.Top(x, y), b.Rough.Base(x, y)
	topSteep, baseSteep := steep(b.Rough.TopSheet, x, y, top), steep(b.Rough.BaseSheet, x, y, base)
	asides := make([]float64, len(b.Stone.Pockets))
	for i, p := range b.Stone.Pockets {
		asides[i] = -toPolygon(p.Outline, at)
	}
	return func(z float64) float64 {
		least := math.Min(wall, math.Min((top-z)/topSteep, (z-base)/baseSteep)) - a.Skin
		for i, p := range b.Stone.Pockets {
			low, high := math.Inf(-1), math.Inf(1)
			switch p.Face {
			case planner.Top:
				low = top - p.Depth
			case planner.Base:
				high = base + p.Depth
			case planner.Inside:
				low, high = p.Low, p.High
			}
			over := math.Max(low-z, z-high)
			d := math.Max(asides[i], over)
			if asides[i] > 0 && over > 0 {
				d = math.Hypot(asides[i], over)
			}
			least = math.Min(least, d-a.Pocket)
		}
		p := geometry.Vec3{X: x, Y: y, Z: z}
		for i := range b.sheets {
			s := &b.sheets[i]
			keep := a.Crack
			if s.sealed {
				keep = a.SealedCrack
			}
			least = math.Min(least, s.distance(p)-keep)
		}
		return least
	}
}

// steep is how much longer the way up to a face is than the one square to it.
func steep(face *geometry.ThinPlate, x, y, height float64) float64 {
	z, zx, zy := face.Slope(x, y)
	if z != height {
		return 1 // cut off level
	}
	return math.Sqrt(1 + zx*zx + zy*zy)
}

// toPolygon is the distance to the polygon's sides, positive inside.
func toPolygon(poly []geometry.Vec2, at geometry.Vec2) float64 {
	d := math.Inf(1)
	for i, p := range poly {
		d = math.Min(d, geometry.ToSegment(at, p, poly[(i+1)%len(poly)]))
	}
	if geometry.InPolygon(poly, at) {
		return d
	}
	return -d
}

// distance is that to every fifth line of the sheet, a quarter of a millimetre
// apart.
func (s *sheet) distance(p geometry.Vec3) float64 {
	const every = 5
	least, length := math.Inf(1), s.into.Dot(s.into)
	for i := 0; i < len(s.starts); i += every {
		far := p.Sub(s.starts[i])
		t := math.Max(0, math.Min(s.depth, far.Dot(s.into)/length))
		d := far.Sub(s.into.Scale(t))
		least = math.Min(least, d.Dot(d))
	}
	return math.Sqrt(least)
}

// at is the room at a point, linear between the lattice's points; beyond the
// lattice it falls by a millimetre for each.
func (r *room) at(p geometry.Vec3) float64 {
	x, lackX := r.place(p.X-r.low.X, r.nx)
	y, lackY := r.place(p.Y-r.low.Y, r.ny)
	z, lackZ := r.place(p.Z-r.low.Z, r.nz)
	i, j, k := int(x), int(y), int(z)
	x, y, z = x-float64(i), y-float64(j), z-float64(k)
	at := (i*r.ny+j)*r.nz + k
	line := func(at int) float64 {
		return float64(r.value[at])*(1-z) + float64(r.value[at+1])*z
	}
	nearX := line(at)*(1-y) + line(at+r.nz)*y
	at += r.ny * r.nz
	farX := line(at)*(1-y) + line(at+r.nz)*y
	return nearX*(1-x) + farX*x - lackX - lackY - lackZ
}

// place turns a length from the lattice's corner into steps within it and what
// lies beyond.
func (r *room) place(v float64, n int) (steps, beyond float64) {
	most := float64(n-1) - 1e-6
	switch v /= r.step; {
	case v < 0:
		return 0, -v * r.step
	case v > most:
		return most, (v - most) * r.step
	}
	return v, 0
}
