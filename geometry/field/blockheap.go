package field

import "sync"

// blockHeap has the squares of one search, the nearest on top. Of items only the first
// n count: container/heap would put every square into an interface.
type blockHeap struct {
	items  []block
	n      int
	within overlap // nil: all is inside
}

// blockHeaps are those not in use: a search of the tree is short, and would spend a
// quarter of its time on room for its heap.
var blockHeaps = sync.Pool{New: func() any { return new(blockHeap) }}

// push adds a square.
func (h *blockHeap) push(b block) {
	k := h.n
	if h.n++; h.n > len(h.items) {
		h.items = append(h.items, b)
	}
	for k > 0 {
		up := (k - 1) / 2
		if h.items[up].bound <= b.bound {
			break
		}
		h.items[k] = h.items[up]
		k = up
	}
	h.items[k] = b
}

// pushTile adds a tile of a square, unless it is outside.
func (h *blockHeap) pushTile(b block) {
	if h.within == nil || h.within(b.x, b.y, b.r) != outside {
		h.push(b)
	}
}

// last returns the level of a square whose surface hardly sags: it is divided further
// only where it is over the edge of the place that counts.
func (h *blockHeap) last(b *block) int8 {
	if h.within == nil || b.r <= leastAcross || h.within(b.x, b.y, b.r) == whole {
		return final
	}
	return settled
}

// pop takes the nearest square away.
func (h *blockHeap) pop() {
	h.n--
	last, k := h.items[h.n], 0
	for {
		c := 2*k + 1
		if c >= h.n {
			break
		}
		if c+1 < h.n && h.items[c+1].bound < h.items[c].bound {
			c++
		}
		if h.items[c].bound >= last.bound {
			break
		}
		h.items[k] = h.items[c]
		k = c
	}
	if h.n > 0 {
		h.items[k] = last
	}
}
