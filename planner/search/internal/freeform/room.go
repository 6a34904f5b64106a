package freeform

import (
	"math"

	"cabwright/geometry"
	"cabwright/geometry/field"
)

// Room bounds from above what a level freeform can have: no outline covers more, at any
// height, than what is not ruled out there, and none is wider or stands higher. Pockets
// and bays that no convex outline goes round count as covered, so the bound is generous.
type Room struct {
	slabs []slab
}

// slab is one layer of cells: where the girdle plane may lie. All bound the part of the
// layer that is in one piece and covers most.
type slab struct {
	area, width float64 // that an outline there can have, mm2 and mm
	up, down    float64 // how far straight up and down from it a solid can go, mm
}

// About how many cells a body is divided into, and the least width of one, mm.
const (
	roomCells = 40000
	leastCell = 0.4
)

// cells says of every cell of a body's box whether a point in it may keep all allowances.
type cells struct {
	nx, ny, nz int
	lo         geometry.Vec3
	step       float64
	free       []bool
}

// NewRoom asks for each cell of the body's box whether any point in it can keep all
// allowances, with so many goroutines.
func NewRoom(f *field.Field, workers int) Room {
	lo, hi := f.Bounds()
	span := hi.Sub(lo)
	c := cells{lo: lo, step: max(leastCell, math.Cbrt(span.X*span.Y*span.Z/roomCells))}
	count := func(l float64) int { return int(l/c.step) + 1 }
	c.nx, c.ny, c.nz = count(span.X), count(span.Y), count(span.Z)
	c.free = make([]bool, c.nx*c.ny*c.nz)
	geometry.SideBySide(workers, func(w int) {
		var rows []field.Row
		for k := w; k < c.nz; k += workers {
			rows = c.layer(f, k, rows)
		}
	})
	var out Room
	for k := range c.nz {
		out.slabs = append(out.slabs, c.slab(k)...)
	}
	return out
}

// layer asks for one layer of cells.
func (c *cells) layer(f *field.Field, k int, rows []field.Row) []field.Row {
	half := c.step / 2
	reach := field.Reach{Plan: half * math.Sqrt2, Rise: half}
	for j := range c.ny {
		for i := range c.nx {
			at := geometry.Vec3{X: float64(i), Y: float64(j), Z: float64(k)}.Scale(c.step)
			p := c.lo.Add(at).Add(geometry.Vec3{X: half, Y: half, Z: half})
			rows = f.Rows(p, reach, nil, 0, rows[:0])
			free := true
			for n := range rows {
				r := &rows[n]
				g := r.Gradient
				if r.Value+r.Slack+math.Hypot(g.X, g.Y)*reach.Plan+math.Abs(g.Z)*reach.Rise < 0 {
					free = false
					break
				}
			}
			c.free[(k*c.ny+j)*c.nx+i] = free
		}
	}
	return rows
}

// slab returns the pieces of a layer, each with what it bounds.
func (c *cells) slab(k int) []slab {
	var out []slab
	seen := make([]bool, c.nx*c.ny)
	for first := range seen {
		if seen[first] || !c.free[k*c.nx*c.ny+first] {
			continue
		}
		var s slab
		var corners []geometry.Vec2
		seen[first] = true
		for queue := []int{first}; len(queue) > 0; {
			at := queue[len(queue)-1]
			queue = queue[:len(queue)-1]
			i, j := at%c.nx, at/c.nx
			s.area += c.step * c.step
			s.up, s.down = max(s.up, c.run(i, j, k, 1)), max(s.down, c.run(i, j, k, -1))
			for n := range 4 {
				corner := geometry.Vec2{X: float64(i + n%2), Y: float64(j + n/2)}
				corners = append(corners, corner.Scale(c.step))
			}
			queue = c.beside(k, at, seen, queue)
		}
		hull := geometry.ConvexHull(corners)
		way := geometry.NarrowWay(hull)
		least, most := math.Inf(1), math.Inf(-1)
		for _, p := range hull {
			least, most = min(least, way.Dot(p)), max(most, way.Dot(p))
		}
		s.width = most - least
		out = append(out, s)
	}
	return out
}

// beside adds the free cells of a layer next to one of it, corners included, that were not
// seen before.
func (c *cells) beside(k, at int, seen []bool, queue []int) []int {
	i, j := at%c.nx, at/c.nx
	for y := max(0, j-1); y <= min(c.ny-1, j+1); y++ {
		for x := max(0, i-1); x <= min(c.nx-1, i+1); x++ {
			if n := y*c.nx + x; !seen[n] && c.free[k*c.nx*c.ny+n] {
				seen[n] = true
				queue = append(queue, n)
			}
		}
	}
	return queue
}

// run returns how far free cells go on from one, itself included, up or down.
func (c *cells) run(i, j, k, way int) float64 {
	n := 0
	for ; k >= 0 && k < c.nz && c.free[(k*c.ny+j)*c.nx+i]; k += way {
		n++
	}
	return float64(n) * c.step
}

// Most returns the volume, mm3, that no level freeform of this face, back and dome style
// exceeds: the largest of what each layer could hold if an outline covered all of a piece.
// Volume over area grows with the width, and the width is bounded by the piece's own and
// by the height that goes with it.
func (r Room) Most(ff *Shaper) float64 {
	most := 0.0
	for _, s := range r.slabs {
		up, down := s.up, s.down
		if ff.Flip {
			up, down = down, up
		}
		fits := func(width float64) bool {
			c := ff.Body(width)
			return c.Wall+c.Dome <= up && c.BackDepth() <= down
		}
		lo, hi := 0.0, s.width
		if fits(hi) {
			lo = hi
		}
		for hi-lo > 1e-3 {
			if m := (lo + hi) / 2; fits(m) {
				lo = m
			} else {
				hi = m
			}
		}
		// No outline is narrower than its corners are round.
		if hi >= 2*ff.Radius && fits(lo) {
			most = max(most, s.area*ff.fullness(hi))
		}
	}
	return most
}
