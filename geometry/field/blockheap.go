package field

// blockHeap has the squares of one search, the nearest on top. Of items only the first
// n count: container/heap would put every square into an interface.
type blockHeap struct {
	items  []block
	n      int
	wanted func(x, y, r float64) bool // nil: all are
}

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

// pushPart adds a part of a square, if it is wanted.
func (h *blockHeap) pushPart(b block) {
	if h.wanted == nil || h.wanted(b.x, b.y, b.r) {
		h.push(b)
	}
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
