package cuts

import (
	"math"

	"cabwright/geometry"
	"cabwright/planner"
)

// room tells about how much further than its allowance a point lies from the skin, the
// cracks and the pockets, from tables. It is for moving solids about quickly: what is
// found is certified by search.Site afterwards. The faces and the sides have a table of
// their own each, as interpolation rounds off the crease at which they meet, where most
// stones lie.
type room struct {
	low    geometry.Vec3
	step   float64 // of the plan's table, mm
	nx, ny int
	plan   []outside // by x, then y
	marks  *lattice  // nil without marks
	cells  *cells
	skin   float32
}

// outside is what of the rough's outside there is over one place.
type outside struct {
	wall              float32 // distance from the sides, less the skin
	top, base         float32 // heights
	topFlat, baseFlat float32 // how much of the way up or down to a face is square to it
}

// lattice holds a function of space.
type lattice struct {
	low        geometry.Vec3
	step       float64
	nx, ny, nz int
	value      []float32
}

// planStep and marksStep are the steps of the tables, mm, planMost and marksMost bound the
// number of their points; roomMargin is how far they go on beyond the rough.
const (
	planStep   = 0.25
	planMost   = 40000
	marksStep  = 0.3
	marksMost  = 400000
	roomMargin = 1.0
)

// measureRoom fills the tables, a row at a time on all processors.
func (b *Body) measureRoom() *room {
	lo, hi := geometry.Bounds(b.Rough.Outline)
	z0, z1 := b.Rough.Heights()
	margin := geometry.Vec3{X: roomMargin, Y: roomMargin, Z: roomMargin}
	low := geometry.Vec3{X: lo.X, Y: lo.Y, Z: z0}.Sub(margin)
	size := geometry.Vec3{X: hi.X, Y: hi.Y, Z: z1}.Add(margin).Sub(low)
	r := &room{skin: float32(b.Stone.Allowances.Skin), low: low, step: max(planStep, math.Sqrt(size.X*size.Y/planMost))}
	r.nx, r.ny = int(math.Ceil(size.X/r.step))+2, int(math.Ceil(size.Y/r.step))+2
	r.plan = make([]outside, r.nx*r.ny)
	geometry.SideBySide(r.nx, func(i int) {
		for j := range r.ny {
			r.plan[i*r.ny+j] = b.outsideOver(low.X+float64(i)*r.step, low.Y+float64(j)*r.step)
		}
	})
	if len(b.sheets)+len(b.Stone.Pockets) > 0 {
		r.marks = b.marksRoom(low, size)
	}
	r.cells = r.measureCells(z1 + roomMargin)
	return r
}

func (b *Body) outsideOver(x, y float64) outside {
	top, base := b.Rough.Top(x, y), b.Rough.Base(x, y)
	return outside{
		wall: float32(toPolygon(b.Rough.Outline, geometry.Vec2{X: x, Y: y}) - b.Stone.Allowances.Skin),
		top:  float32(top), topFlat: float32(1 / steep(b.Rough.TopSheet, x, y, top)),
		base: float32(base), baseFlat: float32(1 / steep(b.Rough.BaseSheet, x, y, base)),
	}
}

// marksRoom fills the lattice of the cracks and pockets.
func (b *Body) marksRoom(low, size geometry.Vec3) *lattice {
	l := &lattice{low: low, step: max(marksStep, math.Cbrt(size.X*size.Y*size.Z/marksMost))}
	count := func(length float64) int { return int(math.Ceil(length/l.step)) + 2 }
	l.nx, l.ny, l.nz = count(size.X), count(size.Y), count(size.Z)
	l.value = make([]float32, l.nx*l.ny*l.nz)
	geometry.SideBySide(l.nx, func(i int) {
		x := low.X + float64(i)*l.step
		for j := range l.ny {
			at := b.plumbLine(x, low.Y+float64(j)*l.step)
			for k := range l.nz {
				l.value[(i*l.ny+j)*l.nz+k] = float32(at(low.Z + float64(k)*l.step))
			}
		}
	})
	return l
}

// plumbLine returns the room beside the marks over one place as a function of the height.
func (b *Body) plumbLine(x, y float64) func(z float64) float64 {
	at := geometry.Vec2{X: x, Y: y}
	a := b.Stone.Allowances
	top, base := b.Rough.Top(x, y), b.Rough.Base(x, y)
	topFlat, baseFlat := 1/steep(b.Rough.TopSheet, x, y, top), 1/steep(b.Rough.BaseSheet, x, y, base)
	asides := make([]float64, len(b.Stone.Pockets))
	for i, p := range b.Stone.Pockets {
		asides[i] = -toPolygon(p.Outline, at)
	}
	return func(z float64) float64 {
		least := math.Inf(1)
		for i, p := range b.Stone.Pockets {
			over := math.Inf(-1)
			switch p.Face {
			case planner.Top:
				over = (top - p.Depth - z) * topFlat
			case planner.Base:
				over = (z - base - p.Depth) * baseFlat
			case planner.Inside:
				over = max(p.Low-z, z-p.High)
			}
			d := max(asides[i], over)
			if asides[i] > 0 && over > 0 {
				d = math.Hypot(asides[i], over)
			}
			least = min(least, d-a.Pocket)
		}
		p := geometry.Vec3{X: x, Y: y, Z: z}
		for i := range b.sheets {
			s := &b.sheets[i]
			keep := a.Crack
			if s.sealed {
				keep = a.SealedCrack
			}
			least = min(least, s.distance(p)-keep)
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
		d = min(d, geometry.ToSegment(at, p, poly[(i+1)%len(poly)]))
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
		t := max(0, min(s.depth, far.Dot(s.into)/length))
		d := far.Sub(s.into.Scale(t))
		least = min(least, d.Dot(d))
	}
	return math.Sqrt(least)
}

// at is the room at a point, linear between the tables' points; beyond them it falls by a
// millimetre for each.
func (r *room) at(p geometry.Vec3) float64 {
	x, lackX := steps((p.X-r.low.X)/r.step, r.nx)
	y, lackY := steps((p.Y-r.low.Y)/r.step, r.ny)
	i, j := int(x), int(y)
	u, v := float32(x-float64(i)), float32(y-float64(j))
	at := i*r.ny + j
	a, b, c, d := &r.plan[at], &r.plan[at+1], &r.plan[at+r.ny], &r.plan[at+r.ny+1]
	wa, wb, wc, wd := (1-u)*(1-v), (1-u)*v, u*(1-v), u*v
	z := float32(p.Z)
	top := wa*a.top + wb*b.top + wc*c.top + wd*d.top
	base := wa*a.base + wb*b.base + wc*c.base + wd*d.base
	topFlat := wa*a.topFlat + wb*b.topFlat + wc*c.topFlat + wd*d.topFlat
	baseFlat := wa*a.baseFlat + wb*b.baseFlat + wc*c.baseFlat + wd*d.baseFlat
	least := min((top-z)*topFlat, (z-base)*baseFlat) - r.skin
	least = min(least, wa*a.wall+wb*b.wall+wc*c.wall+wd*d.wall)
	out := float64(least) - (lackX+lackY)*r.step
	if r.marks == nil {
		return out
	}
	return min(out, r.marks.at(p))
}

// at is the function at a point, linear between the lattice's points and outside as at its
// edge.
func (l *lattice) at(p geometry.Vec3) float64 {
	x, _ := steps((p.X-l.low.X)/l.step, l.nx)
	y, _ := steps((p.Y-l.low.Y)/l.step, l.ny)
	z, _ := steps((p.Z-l.low.Z)/l.step, l.nz)
	i, j, k := int(x), int(y), int(z)
	u, v, w := float32(x-float64(i)), float32(y-float64(j)), float32(z-float64(k))
	at := (i*l.ny+j)*l.nz + k
	side := l.ny * l.nz
	near, far := l.value[at:at+l.nz+2], l.value[at+side:at+side+l.nz+2]
	between := func(a, b, t float32) float32 { return a + t*(b-a) }
	left := between(between(near[0], near[1], w), between(near[l.nz], near[l.nz+1], w), v)
	right := between(between(far[0], far[1], w), between(far[l.nz], far[l.nz+1], w), v)
	return float64(between(left, right, u))
}

// steps keeps a number of steps within a table of n points, and says how many lie beyond.
func steps(v float64, n int) (within, beyond float64) {
	most := float64(n-1) - 1e-6
	switch {
	case v < 0:
		return 0, -v
	case v > most:
		return most, v - most
	}
	return v, 0
}
