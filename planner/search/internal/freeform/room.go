package freeform

import (
	"math"

	"cabwright/geometry"
	"cabwright/geometry/field"
)

// Room bounds from above what a level freeform can have: at every height of the solid its
// section, the outline scaled by what is known, is in one piece, and covers no more than
// the largest piece there that is not ruled out. Pockets and bays that no convex outline
// goes round count as covered in part, so the bound is generous.
type Room struct {
	step   float64   // between layers, mm
	layers [][]piece // from below
	most   []float64 // by layer: the area of its largest piece, mm2
}

// piece is the part of a layer that is in one: where the girdle plane may lie.
type piece struct {
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
	out := Room{step: c.step, layers: make([][]piece, c.nz), most: make([]float64, c.nz)}
	for k := range c.nz {
		out.layers[k] = c.pieces(k)
		for _, p := range out.layers[k] {
			out.most[k] = max(out.most[k], p.area)
		}
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

// pieces returns the pieces of a layer.
func (c *cells) pieces(k int) []piece {
	var out []piece
	seen := make([]bool, c.nx*c.ny)
	for first := range seen {
		if seen[first] || !c.free[k*c.nx*c.ny+first] {
			continue
		}
		var s piece
		var corners []geometry.Vec2
		var all []spotInPlan
		seen[first] = true
		for queue := []int{first}; len(queue) > 0; {
			at := queue[len(queue)-1]
			queue = queue[:len(queue)-1]
			i, j := at%c.nx, at/c.nx
			all = append(all, spotInPlan{i, j})
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
		s.area = convexMost(all, c.blocked(k, hull), convexCuts) * c.step * c.step
		out = append(out, s)
	}
	return out
}

// blocked returns the cells of a layer within a hull that are ruled out, spread over it.
func (c *cells) blocked(k int, hull []geometry.Vec2) []spotInPlan {
	var all []spotInPlan
	for j := range c.ny {
		for i := range c.nx {
			middle := geometry.Vec2{X: float64(i) + 0.5, Y: float64(j) + 0.5}.Scale(c.step)
			if !c.free[(k*c.ny+j)*c.nx+i] && geometry.InPolygon(hull, middle) {
				all = append(all, spotInPlan{i, j})
			}
		}
	}
	if len(all) <= mostBlocked {
		return all
	}
	out := make([]spotInPlan, mostBlocked)
	for n := range out {
		out[n] = all[n*len(all)/mostBlocked]
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

// widths is how many ranges of the width are asked about one after the other.
const widths = 60

// Most returns the volume, mm3, that no level freeform of this face, back and dome style
// exceeds: for each layer that the girdle may lie in, and each range of widths, the largest
// outline whose every section the layers have room for. Over a range the sections are
// smallest for the least width, and the volume over the outline's area is largest for
// the greatest.
func (r Room) Most(ff *Shaper) float64 {
	most := 0.0
	for k, pieces := range r.layers {
		for _, p := range pieces {
			// No outline is narrower than its corners are round.
			least := 2 * ff.Radius
			for n := range widths {
				from := least + (p.width-least)*float64(n)/widths
				to := least + (p.width-least)*float64(n+1)/widths
				if p.width > least && r.stands(ff, p, from) {
					most = max(most, r.largest(ff, k, p.area, from)*ff.fullness(to))
				}
			}
		}
	}
	return most
}

// stands tells whether a solid of a width may stand on a piece.
func (r Room) stands(ff *Shaper, p piece, width float64) bool {
	c := ff.Body(width)
	if ff.Flip {
		p.up, p.down = p.down, p.up
	}
	return c.Wall+c.Dome <= p.up && c.BackDepth() <= p.down
}

// largest bounds the area of an outline of at least a width whose girdle lies in layer k,
// on a piece of the given area.
func (r Room) largest(ff *Shaper, k int, area, width float64) float64 {
	c := ff.Body(width)
	rim := c.RimRatio()
	for m, room := range r.most {
		h := float64(m-k) * r.step // somewhere in layer m, wherever the girdle is in layer k
		if ff.Flip {
			h = -h
		}
		share := 1.0
		switch {
		case h >= c.Wall+c.Dome || h <= -c.BackDepth() && h != 0:
			continue
		case h > c.Wall:
			q := (h - c.Wall) / c.Dome
			share = rim * math.Sqrt(1-q*q)
		case h > 0:
			share = 1 - (1-rim)*h/c.Wall
		case h < 0:
			q := h / c.BackDepth()
			share = math.Sqrt(1 - q*q)
		}
		area = min(area, room/(share*share))
	}
	return area
}
