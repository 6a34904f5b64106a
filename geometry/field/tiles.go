package field

import (
	"math"
	"sync/atomic"
)

// tile is a sixteenth of a square, with the surface at its middle. Tiles are worked out
// when they are first asked for and kept, as many searches end at the same places.
type tile struct {
	at      node
	sag     float64 // bounds how far the surface sinks below the tangent plane over the tile
	x, y, r float64 // its middle, and half its width
	tiles   tiles
}

// tiles is where the sixteen tiles of a square are kept: a pointer that is set once.
type tiles = atomic.Pointer[[16]tile]

// tileStore keeps the tiles of a surface's squares. Goroutines may share it: what two of
// them work out at once is the same.
type tileStore struct {
	of   []tiles // by node
	kept atomic.Int64
}

// mostTiles bounds how many tiles one surface keeps, of 80 bytes each; others are worked
// out every time.
const mostTiles = 300000

// tilesOf returns the tiles of a square, each with its own tangent plane.
func (s *surface) tilesOf(b *block) *[16]tile {
	kept := &s.store.of[int(b.j)*s.nx+int(b.i)]
	if b.of != nil {
		kept = &b.of.tiles
	}
	if p := kept.Load(); p != nil {
		return p
	}
	p := new([16]tile)
	r := b.r / 4
	for k := range p {
		x, y := b.x+r*float64(2*(k%4)-3), b.y+r*float64(2*(k/4)-3)
		n, dip := s.turningDown(x, y, r*math.Sqrt2)
		q := &p[k]
		q.at, q.sag, q.x, q.y, q.r = n, dip*r*r, x, y, r
	}
	if s.store.kept.Add(int64(len(p))) <= mostTiles {
		kept.Store(p)
	}
	return p
}

// divided pushes the tiles of a square.
func (s *surface) divided(a *query, b *block, heap *blockHeap) {
	tiles := s.tilesOf(b)
	for k := range tiles {
		p := &tiles[k]
		c := block{bound: b.bound, i: b.i, j: b.j, level: settled, x: p.x, y: p.y, r: p.r, of: p}
		if p.sag <= fineSag || p.r < leastTile {
			c.level = heap.last(&c)
		}
		w := a.q.Z - (p.at.z + a.lift - p.sag)
		c.bound = max(c.bound, toColumn(a.q.X-p.x, a.q.Y-p.y, w, p.r, p.at.zx, p.at.zy))
		heap.pushTile(c)
	}
}

// overlap tells how much of an upright square, given by its middle and half width, is
// over a place in plan.
type overlap func(x, y, r float64) int

const (
	outside = iota
	across
	whole
)

// leastAcross is half the width, mm, of the squares over the edge of a place that are
// not divided: they stand out by six micrometres at most.
const leastAcross = 0.002

// leastTile is half the width of the smallest tile of a square, mm: below it a thin
// plate's own singularity at a reading is no longer resolved.
const leastTile = 0.01

// turningDown returns the surface at a spot, and the fastest that it turns down within
// reach of it.
func (s *surface) turningDown(x, y, reach float64) (node, float64) {
	c, change := s.plate.Curvature(x, y, reach)
	mean := s.sign * (c.ZXX + c.ZYY) / 2
	dev := math.Hypot((c.ZXX-c.ZYY)/2, c.ZXY)
	return node{s.sign * c.Z, s.sign * c.ZX, s.sign * c.ZY}, max(0, -mean+dev+change)
}
