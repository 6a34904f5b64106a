package cuts

import (
	"math"

	"cabwright/geometry"
)

// cells bound the room from below, cube by cube. Most points of a solid have so much more
// room than its nearest one that a look at the cube they lie in settles that they do not
// decide.
type cells struct {
	low        geometry.Vec3
	inv        float64 // one over the side of a cube, 1/mm
	nx, ny, nz int
	least      []float32
}

// cellSide is the side of a cube, mm, where cellsMost allows that.
const (
	cellSide  = 0.8
	cellsMost = 60000
)

// measureCells fills in the bounds.
func (r *room) measureCells(z1 float64) *cells {
	wide, deep, tall := float64(r.nx-1)*r.step, float64(r.ny-1)*r.step, z1-r.low.Z
	side := max(cellSide, math.Cbrt(wide*deep*tall/cellsMost))
	c := &cells{low: r.low, inv: 1 / side}
	// A cube that goes on beyond the tables has no bound.
	c.nx, c.ny, c.nz = int(wide/side), int(deep/side), int(math.Ceil(tall/side))
	c.least = make([]float32, c.nx*c.ny*c.nz)
	geometry.SideBySide(c.nx, func(i int) {
		for j := range c.ny {
			r.boundColumn(i, j, c, side)
		}
	})
	return c
}

// boundColumn bounds the cubes over one place.
func (r *room) boundColumn(i, j int, c *cells, side float64) {
	lo, hi := r.extremes(float64(i)*side, float64(i+1)*side, float64(j)*side, float64(j+1)*side)
	for k := range c.nz {
		z0, z1 := float32(r.low.Z+float64(k)*side), float32(r.low.Z+float64(k+1)*side)
		top, base := lo.top-z1, z0-hi.base
		faces := min(top*flatter(top, lo.topFlat, hi.topFlat), base*flatter(base, lo.baseFlat, hi.baseFlat))
		least := min(lo.wall, faces-r.skin)
		if r.marks != nil {
			at := geometry.Vec3{X: r.low.X + float64(i)*side, Y: r.low.Y + float64(j)*side, Z: float64(z0)}
			least = min(least, r.marks.least(at, side))
		}
		c.least[(i*c.ny+j)*c.nz+k] = least - rounded
	}
}

// rounded is more than what arithmetic in 32 bits takes off a bound, mm.
const rounded = 1e-3

// flatter is the factor that makes least of a length.
func flatter(length, least, most float32) float32 {
	if length < 0 {
		return most
	}
	return least
}

// extremes returns the least and the largest of what the plan's table has over a
// rectangle, measured from its corner.
func (r *room) extremes(x0, x1, y0, y1 float64) (lo, hi outside) {
	i0, i1 := int(x0/r.step), min(int(x1/r.step)+1, r.nx-1)
	j0, j1 := int(y0/r.step), min(int(y1/r.step)+1, r.ny-1)
	lo, hi = r.plan[i0*r.ny+j0], r.plan[i0*r.ny+j0]
	for i := i0; i <= i1; i++ {
		for _, o := range r.plan[i*r.ny+j0 : i*r.ny+j1+1] {
			lo.wall, lo.top, lo.topFlat = min(lo.wall, o.wall), min(lo.top, o.top), min(lo.topFlat, o.topFlat)
			lo.baseFlat, hi.base = min(lo.baseFlat, o.baseFlat), max(hi.base, o.base)
			hi.topFlat, hi.baseFlat = max(hi.topFlat, o.topFlat), max(hi.baseFlat, o.baseFlat)
		}
	}
	return lo, hi
}

// least is the least of the lattice over a cube.
func (l *lattice) least(low geometry.Vec3, side float64) float32 {
	within := func(from float64, n int) (first, last int) {
		a, _ := steps(from/l.step, n)
		b, _ := steps((from+side)/l.step, n)
		return int(a), min(int(b)+1, n-1)
	}
	low = low.Sub(l.low)
	i0, i1 := within(low.X, l.nx)
	j0, j1 := within(low.Y, l.ny)
	k0, k1 := within(low.Z, l.nz)
	least := float32(math.Inf(1))
	for i := i0; i <= i1; i++ {
		for j := j0; j <= j1; j++ {
			for _, v := range l.value[(i*l.ny+j)*l.nz+k0 : (i*l.ny+j)*l.nz+k1+1] {
				least = min(least, v)
			}
		}
	}
	return least
}

// above tells whether a point is known to have at least some room.
func (c *cells) above(p geometry.Vec3, least float64) bool {
	x, y, z := (p.X-c.low.X)*c.inv, (p.Y-c.low.Y)*c.inv, (p.Z-c.low.Z)*c.inv
	if x < 0 || y < 0 || z < 0 {
		return false
	}
	i, j, k := int(x), int(y), int(z)
	return i < c.nx && j < c.ny && k < c.nz && float64(c.least[(i*c.ny+j)*c.nz+k]) >= least
}
