package planner

import (
	"cmp"
	"fmt"
	"slices"

	"cabwright/geometry"
)

// meeting says how two edges of an outline meet that should not.
type meeting int

const (
	apart    meeting = iota
	crosses          // they share a point
	sameEnds         // two corners lie at one spot
)

// crossingProblem names the two edges.
func crossingProblem(place string, n, first, second int, how meeting) Problem {
	edge := func(i int) string { return fmt.Sprintf("%s[%d]-[%d]", place, i, (i+1)%n) }
	what := fmt.Sprintf(
		"crosses itself: edge %s meets edge %s: move or take away one of their corners", edge(first), edge(second),
	)
	if how == sameEnds {
		what = fmt.Sprintf(
			"touches itself: corners [%d] and [%d] lie at one spot (edges %s and %s): take one away", first, second,
			edge(first), edge(second),
		)
	}
	return Problem{Place: place, What: what, Edges: &[2]int{first, second}}
}

// crossing finds two edges of a closed polygon that share a point without being
// neighbours, or neighbours that share more than their corner, in O(n log n)
// unless very many edges stand side by side. Which pair of several it finds is
// fixed by the polygon alone. The corners' coordinates are finite.
//
// A line sweeps over the corners from left to right (Shamos and Hoey 1976).
// Corners are first seen to be distinct; after that each event is one corner
// with two edges, and the comparisons are exact, so that there is no tolerance
// and no degenerate case but the one sought: a corner on another edge.
func crossing(corners []geometry.Vec2) (first, second int, how meeting) {
	s := sweep{corners: corners}
	return s.over()
}

// over moves the line over all corners.
func (s *sweep) over() (first, second int, how meeting) {
	corners := s.corners
	n := len(corners)
	order := make([]int, n)
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(a, b int) int {
		return cmp.Or(compareXY(corners[a], corners[b]), cmp.Compare(a, b))
	})
	for k := 1; k < n; k++ {
		if corners[order[k-1]] == corners[order[k]] {
			return order[k-1], order[k], sameEnds
		}
	}
	for _, corner := range order {
		if s.visit(corner) {
			return min(s.a, s.b), max(s.a, s.b), crosses
		}
	}
	return 0, 0, apart
}

func compareXY(a, b geometry.Vec2) int {
	return cmp.Or(cmp.Compare(a.X, b.X), cmp.Compare(a.Y, b.Y))
}

// sweep holds the edges that the sweeping line meets, from below upwards. A
// slice rather than a tree: moving a few thousand ints is quicker than chasing
// pointers, and outlines of stones have few edges one above the other.
type sweep struct {
	corners []geometry.Vec2
	active  []int // edges by their first corner
	a, b    int   // the pair found
	looked  int   // times that an edge was held against a corner or another edge
}

// ends returns an edge's end corners, the left one first.
func (s *sweep) ends(edge int) (left, right geometry.Vec2) {
	left, right = s.corners[edge], s.corners[(edge+1)%len(s.corners)]
	if compareXY(left, right) > 0 {
		left, right = right, left
	}
	return left, right
}

// visit moves the line over one corner; true when a pair was found.
func (s *sweep) visit(corner int) bool {
	n := len(s.corners)
	p := s.corners[corner]
	before, after := (corner+n-1)%n, corner
	beforeEnds := compareXY(s.corners[before], p) < 0
	afterEnds := compareXY(s.corners[(corner+1)%n], p) < 0
	switch {
	case beforeEnds && afterEnds:
		return s.close(p, before, after)
	case beforeEnds:
		return s.replace(p, before, after)
	case afterEnds:
		return s.replace(p, after, before)
	default:
		return s.open(p, before, after)
	}
}

// find returns the place of one of the edges that end at p, or where p would
// stand when none does. met is an edge that p lies on, or -1.
func (s *sweep) find(p geometry.Vec2, incident ...int) (at, met int) {
	lo, hi := 0, len(s.active)
	for lo < hi {
		mid := (lo + hi) / 2
		e := s.active[mid]
		if slices.Contains(incident, e) {
			return mid, -1
		}
		s.looked++
		left, right := s.ends(e)
		switch side := geometry.Turn(left, right, p); {
		case side > 0:
			lo = mid + 1
		case side < 0:
			hi = mid
		default:
			return mid, e
		}
	}
	return lo, -1
}

// open lets two edges in that begin at p.
func (s *sweep) open(p geometry.Vec2, a, b int) bool {
	at, met := s.find(p)
	if met >= 0 {
		s.a, s.b = a, met
		return true
	}
	_, endA := s.ends(a)
	_, endB := s.ends(b)
	switch side := geometry.Turn(p, endA, endB); {
	case side == 0:
		s.a, s.b = a, b
		return true
	case side < 0:
		a, b = b, a
	}
	s.active = slices.Insert(s.active, at, a, b)
	return s.touch(at-1, at) || s.touch(at+1, at+2)
}

// replace lets the edge that begins at p take the place of the one that ends there.
func (s *sweep) replace(p geometry.Vec2, ending, beginning int) bool {
	at, met := s.find(p, ending)
	if met >= 0 {
		s.a, s.b = ending, met
		return true
	}
	s.active[at] = beginning
	return s.touch(at-1, at) || s.touch(at, at+1)
}

// close takes out two edges that end at p.
func (s *sweep) close(p geometry.Vec2, a, b int) bool {
	at, met := s.find(p, a, b)
	if met >= 0 {
		s.a, s.b = a, met
		return true
	}
	other := a
	if s.active[at] == a {
		other = b
	}
	// The two are neighbours: an edge between them would pass through p, and
	// would have been found when it became the neighbour of one.
	if at > 0 && s.active[at-1] == other {
		at--
	}
	s.active = slices.Delete(s.active, at, at+2)
	return s.touch(at-1, at)
}

// touch reports whether the edges at two places share a point, their common
// corner apart.
func (s *sweep) touch(i, j int) bool {
	if i < 0 || j >= len(s.active) {
		return false
	}
	s.looked++
	a, b := s.active[i], s.active[j]
	if !edgesMeet(s.corners, a, b) {
		return false
	}
	s.a, s.b = a, b
	return true
}

// edgesMeet reports whether two edges that are not neighbours share a point.
// Neighbours that lie on one another are found when the line reaches the one's
// end on the other.
func edgesMeet(corners []geometry.Vec2, a, b int) bool {
	n := len(corners)
	if (a+1)%n == b || (b+1)%n == a {
		return false
	}
	p, q := corners[a], corners[(a+1)%n]
	r, t := corners[b], corners[(b+1)%n]
	d1, d2 := geometry.Turn(p, q, r), geometry.Turn(p, q, t)
	d3, d4 := geometry.Turn(r, t, p), geometry.Turn(r, t, q)
	if d1*d2 < 0 && d3*d4 < 0 {
		return true
	}
	return d1 == 0 && onEdge(p, q, r) || d2 == 0 && onEdge(p, q, t) ||
		d3 == 0 && onEdge(r, t, p) || d4 == 0 && onEdge(r, t, q)
}

// onEdge reports whether r, on the line through p and q, lies between them.
func onEdge(p, q, r geometry.Vec2) bool {
	return min(p.X, q.X) <= r.X && r.X <= max(p.X, q.X) && min(p.Y, q.Y) <= r.Y && r.Y <= max(p.Y, q.Y)
}
