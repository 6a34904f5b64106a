package field

import (
	"math"

	"cabwright/geometry"
)

// blocks is a quadtree over a surface's table: for each square of nodes a height
// that the surface nowhere sinks below. It answers how near the surface comes to a
// point where one touching point cannot tell, because the surface turns fast or has
// several places about as near.
type blocks struct {
	levels []blockLevel // from single nodes to a few large squares
}

type blockLevel struct {
	nx, ny int
	low    []float32
}

// newBlocks builds the tree bottom up. A node's square is h wide; over it the
// surface is at least its tangent plane less half its dip times the squared offset.
func newBlocks(s *surface) blocks {
	half := s.step / 2
	l := blockLevel{nx: s.nx, ny: s.ny, low: make([]float32, len(s.nodes))}
	for k, n := range s.nodes {
		z := n.z - (math.Abs(n.zx)+math.Abs(n.zy))*half - s.sag(k)
		l.low[k] = float32(z - 1e-6*(1+math.Abs(z))) // rounding to 32 bits goes down
	}
	b := blocks{levels: []blockLevel{l}}
	for l.nx > 4 || l.ny > 4 {
		up := blockLevel{nx: (l.nx + 1) / 2, ny: (l.ny + 1) / 2}
		up.low = make([]float32, up.nx*up.ny)
		for k := range up.low {
			up.low[k] = float32(math.Inf(1))
		}
		for j := range l.ny {
			for i := range l.nx {
				k := j/2*up.nx + i/2
				up.low[k] = min(up.low[k], l.low[j*l.nx+i])
			}
		}
		b.levels = append(b.levels, up)
		l = up
	}
	return b
}

// sag bounds how far the surface sinks below the tangent plane of node k over its
// square.
func (s *surface) sag(k int) float64 {
	return max(0, float64(s.dip.least[0][k])) * s.step * s.step / 4
}

// block is a square on the search's heap. Level settled is a node's square, or a tile of
// one, whose bound is its own tangent plane's; level final one that is not divided.
type block struct {
	bound   float64
	i, j    int32
	level   int8
	x, y, r float64 // of a settled one: its middle, and half its width
	of      *tile   // of a settled one: what it is; nil: a node's square
}

const (
	settled = -1
	final   = -2
)

// What a search of the tree ends with: squares of four nodes, which are good to some
// hundredths of a millimetre, or tiles of a node's own that hardly sag.
const (
	toSquares = iota
	toTiles
)

// fineSag is the sag, mm, up to which a square is not divided: a tenth of the usual
// tolerance of a clearance.
const fineSag = 0.005

// mostBlocks bounds the heap of one search; a search that would need more ends with
// the bound it has.
const mostBlocks = 4000

// query is what is asked of the tree: how near to q (in the surface's own sense of up, the
// surface raised by lift) anything comes that lies above the surface.
type query struct {
	q      geometry.Vec3
	lift   float64
	touch  touch   // a touching point, over the nodes next to which the distance is at least local
	local  float64 // mm
	stop   float64 // mm: a distance of as much need not be known any better
	detail int     // how small the squares are that it ends with
	within overlap // nil, or the place that what counts lies above
}

// nearest returns a lower bound on the distance: best first over the squares, until the
// nearest one left is a single node's, or stands at stop or more. It returns that square,
// too, with its middle and, as its i and j, a node of it. A square that is over the edge of
// the place that counts is divided until hardly any of it is outside.
func (s *surface) nearest(a query) (d float64, at block) {
	heap := blockHeaps.Get().(*blockHeap)
	defer blockHeaps.Put(heap)
	heap.n, heap.within = 0, a.within
	top := len(s.blocks.levels) - 1
	for j := range s.blocks.levels[top].ny {
		for i := range s.blocks.levels[top].nx {
			s.pushSquare(heap, &a, top, i, j, 0)
		}
	}
	for heap.n > 0 {
		b := heap.items[0]
		if b.level == final || b.level == settled && a.detail != toTiles || b.bound >= a.stop || heap.n+16 > mostBlocks {
			if b.level >= 0 {
				b.x, b.y, b.r = s.square(int(b.level), int(b.i), int(b.j))
			}
			return b.bound, b
		}
		if a.detail == toSquares && b.level == 1 {
			b.i, b.j = min(2*b.i, int32(s.nx-1)), min(2*b.j, int32(s.ny-1))
			return b.bound, b
		}
		heap.pop()
		switch b.level {
		case 0:
			heap.push(s.settle(&a, b, heap))
		case settled:
			s.divided(&a, &b, heap)
		default:
			s.pushBelow(heap, &a, &b)
		}
	}
	return math.Inf(1), block{} // all is outside
}

// settle gives a node's square the bound of its own tangent plane.
func (s *surface) settle(a *query, b block, heap *blockHeap) block {
	b.bound = max(b.bound, s.toNode(a.q, a.lift, int(b.i), int(b.j)))
	local := abs(int(b.i)-a.touch.i) <= 1 && abs(int(b.j)-a.touch.j) <= 1 && a.local >= b.bound
	if local {
		b.bound = a.local
	}
	b.level = settled
	b.x, b.y, b.r = s.origin.X+float64(b.i)*s.step, s.origin.Y+float64(b.j)*s.step, s.step/2
	if s.sag(int(b.j)*s.nx+int(b.i)) <= fineSag || local && a.local > a.touch.depth-fineSag {
		b.level = heap.last(&b)
	}
	return b
}

// pushBelow puts the four squares on the heap that a larger one is made of.
func (s *surface) pushBelow(heap *blockHeap, a *query, b *block) {
	down := int(b.level) - 1
	l := &s.blocks.levels[down]
	for j := 2 * int(b.j); j < min(2*int(b.j)+2, l.ny); j++ {
		for i := 2 * int(b.i); i < min(2*int(b.i)+2, l.nx); i++ {
			s.pushSquare(heap, a, down, i, j, b.bound)
		}
	}
}

// pushSquare puts a square of the tree on the heap, unless it is outside.
func (s *surface) pushSquare(heap *blockHeap, a *query, level, i, j int, least float64) {
	if heap.within != nil && heap.within(s.square(level, i, j)) == outside {
		return
	}
	bound := max(least, s.toBlock(a.q, a.lift, level, i, j))
	heap.push(block{bound: bound, i: int32(i), j: int32(j), level: int8(level)})
}

func abs(a int) int { return max(a, -a) }

// square returns the middle of a square of the tree in plan, and half its width.
func (s *surface) square(level, i, j int) (x, y, r float64) {
	size := float64(int(1) << level)
	x = s.origin.X + (float64(i)*size+(size-1)/2)*s.step
	y = s.origin.Y + (float64(j)*size+(size-1)/2)*s.step
	return x, y, size * s.step / 2
}

// toBlock returns the distance from q to the upright column over a square, from the
// lowest that the surface comes there.
func (s *surface) toBlock(q geometry.Vec3, lift float64, level, i, j int) float64 {
	l := &s.blocks.levels[level]
	x, y, half := s.square(level, i, j)
	dx, dy := math.Abs(q.X-x)-half, math.Abs(q.Y-y)-half
	dz := float64(l.low[j*l.nx+i]) + lift - q.Z
	dx, dy, dz = max(0, dx), max(0, dy), max(0, dz)
	return math.Sqrt(dx*dx + dy*dy + dz*dz)
}

// toNode returns the distance from q to all that lies above a node's tangent plane,
// lowered by its sag, over its square.
func (s *surface) toNode(q geometry.Vec3, lift float64, i, j int) float64 {
	k := j*s.nx + i
	n := &s.nodes[k]
	u := q.X - s.origin.X - float64(i)*s.step
	v := q.Y - s.origin.Y - float64(j)*s.step
	w := q.Z - (n.z + lift - s.sag(k))
	return toColumn(u, v, w, s.step/2, n.zx, n.zy)
}

// toColumn returns the distance from (u, v, w) to the points over the square of half
// width r about the origin that lie on or above the plane w = gx u + gy v.
func toColumn(u, v, w, r, gx, gy float64) float64 {
	g2 := 1 + gx*gx + gy*gy
	gap := gx*u + gy*v - w // how far below the plane
	if math.Abs(u) <= r && math.Abs(v) <= r && gap <= 0 {
		return 0
	}
	if gap > 0 {
		// The foot of the perpendicular, where it is over the square.
		if x, y := u-gx*gap/g2, v-gy*gap/g2; math.Abs(x) <= r && math.Abs(y) <= r {
			return gap / math.Sqrt(g2)
		}
	}
	d := toWall(u-r, v, w-gx*r, r, gy)
	d = min(d, toWall(u+r, v, w+gx*r, r, gy))
	d = min(d, toWall(v-r, u, w-gy*r, r, gx))
	return math.Sqrt(min(d, toWall(v+r, u, w+gy*r, r, gx)))
}

// toWall returns the squared distance to one side of a column: off is how far beside
// its plane the point lies, (v, w) where in it; the side is |v| <= r, w >= g v.
func toWall(off, v, w, r, g float64) float64 {
	x := max(-r, min(r, v))
	if gap := g*v - w; gap > 0 {
		x = max(-r, min(r, v-g*gap/(1+g*g)))
	}
	dv, dw := v-x, max(0, g*x-w)
	return off*off + dv*dv + dw*dw
}
