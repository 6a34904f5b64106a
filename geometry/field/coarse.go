package field

import (
	"math"

	"cabwright/geometry"
)

// coarse holds lower bounds of the clearance on a wide grid. A point's clearance
// is at least that of a node less the distance to it, which is enough to pass
// over the many points that cannot matter.
type coarse struct {
	lo         geometry.Vec3
	inv, step  float64
	nx, ny, nz int
	value      []float32
	parts      int       // of the field, when the grid was filled
	of         []float32 // by node, and for each of the parts: a lower bound of its own
}

// farther is how much further than the nearest part another one is looked at exactly for
// the grid, mm: beyond it a box around it serves, for it hardly ever matters there.
const farther = 2

// Prepare fills the coarse grid; call it once, after the last obstacle. It uses
// the given number of goroutines and gives the same grid for any number.
func (f *Field) Prepare(workers int) {
	lo, hi := f.Bounds()
	// Six tenths of a millimetre, or more on a large body: about 40,000 nodes on a
	// stone of 30 x 20 x 10 mm, filled in some milliseconds.
	span := hi.Sub(lo)
	step := max(0.6, math.Cbrt((span.X+2)*(span.Y+2)*(span.Z+2)/60000))
	f.coarse = &coarse{}
	g := f.coarse
	g.step, g.inv = step, 1/step
	g.lo = lo.Sub(geometry.Vec3{X: step, Y: step, Z: step})
	g.nx, g.ny, g.nz = int(span.X/step)+4, int(span.Y/step)+4, int(span.Z/step)+4
	g.value = make([]float32, g.nx*g.ny*g.nz)
	g.parts = len(f.parts)
	g.of = make([]float32, len(g.value)*g.parts)
	f.top.overGrid(g, workers)
	f.base.overGrid(g, workers)
	geometry.SideBySide(workers, func(w int) {
		for k := w; k < g.nz; k += workers {
			f.fill(k)
		}
	})
}

// overGrid works out once which node of the surface's table is nearest to each of the
// grid's, and how near. Fields of one body have the same grid and share its surfaces.
func (s *surface) overGrid(g *coarse, workers int) {
	s.overOnce.Do(func() {
		s.near, s.tabledAt = make([]int32, len(g.value)), make([]float32, len(g.value))
		geometry.SideBySide(workers, func(w int) {
			for k := w; k < g.nz; k += workers {
				for at := k * g.nx * g.ny; at < (k+1)*g.nx*g.ny; at++ {
					d, n := s.tabledNode(g.node(at), 0)
					s.near[at], s.tabledAt[at] = int32(n), float32(d-rounding)
				}
			}
		})
		s.grid = g
	})
}

// node returns where a node of the grid is.
func (g *coarse) node(at int) geometry.Vec3 {
	i, j, k := at%g.nx, at/g.nx%g.ny, at/(g.nx*g.ny)
	return g.lo.Add(geometry.Vec3{X: float64(i), Y: float64(j), Z: float64(k)}.Scale(g.step))
}

// rounding covers the rounding of a clearance to 32 bits, mm.
const rounding = 5e-4

// fill computes one layer.
func (f *Field) fill(k int) {
	g := f.coarse
	for at := k * g.nx * g.ny; at < (k+1)*g.nx*g.ny; at++ {
		g.value[at] = float32(f.rough(g.node(at), at) - rounding)
	}
}

// rough is a lower bound of the clearance at node at of the grid that uses tables
// only. It notes that of each part.
func (f *Field) rough(p geometry.Vec3, at int) float64 {
	d := math.Inf(1)
	of := f.coarse.of[at*len(f.parts):]
	for k := range f.parts {
		e := 0.0
		if face, ok := f.parts[k].obstacle.(*plateFace); ok {
			e = float64(face.tabledAt[at]) - face.allowance
		} else {
			e = f.parts[k].tabled(p, d+farther)
		}
		of[k] = float32(e - rounding)
		d = min(d, e)
	}
	return d
}

// parted returns lower bounds of the clearances of the field's parts at the node of the
// grid nearest to p, and how far that is: a part keeps that much less at p, at most.
// Without a grid there are none.
func (f *Field) parted(p geometry.Vec3) (of []float32, off float64) {
	g := f.coarse
	if g == nil {
		return nil, 0
	}
	x, y, z := (p.X-g.lo.X)*g.inv, (p.Y-g.lo.Y)*g.inv, (p.Z-g.lo.Z)*g.inv
	i, j, k := clamp(x, g.nx), clamp(y, g.ny), clamp(z, g.nz)
	dx, dy, dz := x-float64(i), y-float64(j), z-float64(k)
	at := ((k*g.ny+j)*g.nx + i) * g.parts
	return g.of[at : at+g.parts], g.step * math.Sqrt(dx*dx+dy*dy+dz*dz)
}

// index returns the index of the grid's node nearest to p.
func (g *coarse) index(p geometry.Vec3) int {
	i, j, k := clamp((p.X-g.lo.X)*g.inv, g.nx), clamp((p.Y-g.lo.Y)*g.inv, g.ny), clamp((p.Z-g.lo.Z)*g.inv, g.nz)
	return (k*g.ny+j)*g.nx + i
}

// AtLeast returns a cheap lower bound of the clearance at p.
func (f *Field) AtLeast(p geometry.Vec3) float64 {
	g := f.coarse
	x, y, z := (p.X-g.lo.X)*g.inv, (p.Y-g.lo.Y)*g.inv, (p.Z-g.lo.Z)*g.inv
	i, j, k := clamp(x, g.nx), clamp(y, g.ny), clamp(z, g.nz)
	dx, dy, dz := x-float64(i), y-float64(j), z-float64(k)
	return float64(g.value[(k*g.ny+j)*g.nx+i]) - g.step*math.Sqrt(dx*dx+dy*dy+dz*dz)
}

// Guess returns about the clearance at p, from the coarse grid alone: it is the fastest
// of the estimates and the roughest, right to some tenths of a millimetre.
func (f *Field) Guess(p geometry.Vec3) float64 {
	g := f.coarse
	x, y, z := (p.X-g.lo.X)*g.inv, (p.Y-g.lo.Y)*g.inv, (p.Z-g.lo.Z)*g.inv
	if !(x >= 0 && y >= 0 && z >= 0 && x < float64(g.nx-1) && y < float64(g.ny-1) && z < float64(g.nz-1)) {
		return f.AtLeast(p)
	}
	i, j, k := int(x), int(y), int(z)
	u, v, w := float32(x-float64(i)), float32(y-float64(j)), float32(z-float64(k))
	at := (k*g.ny+j)*g.nx + i
	low, high := g.value[at:at+g.nx+2], g.value[at+g.nx*g.ny:at+g.nx*g.ny+g.nx+2]
	between := func(a, b, t float32) float32 { return a + t*(b-a) }
	near := between(between(low[0], low[1], u), between(low[g.nx], low[g.nx+1], u), v)
	far := between(between(high[0], high[1], u), between(high[g.nx], high[g.nx+1], u), v)
	return float64(between(near, far, w))
}

func clamp(x float64, n int) int {
	i := int(x + 0.5)
	if i < 0 {
		return 0
	}
	if i >= n {
		return n - 1
	}
	return i
}

// Deepest returns up to n nodes of the coarse grid with the most clearance,
// deepest first, no two nearer than apart.
func (f *Field) Deepest(n int, apart float64) []geometry.Vec3 {
	g := f.coarse
	var out []geometry.Vec3
	for len(out) < n {
		best, at := float32(math.Inf(-1)), geometry.Vec3{}
		for idx, v := range g.value {
			if v <= best {
				continue
			}
			p := g.node(idx)
			near := false
			for _, q := range out {
				near = near || p.Sub(q).Norm() < apart
			}
			if !near {
				best, at = v, p
			}
		}
		if best <= 0 {
			break
		}
		out = append(out, at)
	}
	return out
}
