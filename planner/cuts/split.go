package cuts

import (
	"cmp"
	"math"
	"slices"

	"cabwright/geometry"
	"cabwright/planner/search"
)

// split is one cut of a piece with the solids that seem to go on either side.
type split struct {
	cut         Cut
	plus, minus []laid
}

func (s split) carat() float64 {
	if len(s.plus) == 0 || len(s.minus) == 0 {
		return 0
	}
	return s.plus[0].carat + s.minus[0].carat
}

// pushDirections is how many ways solids are pushed: 22.5 degrees apart. With
// 12 in the half round hardly anything was gained over 8 on the demo stones.
const pushDirections = 16

func pushed(k int) geometry.Vec3 {
	s, c := math.Sincos(2 * math.Pi * float64(k%pushDirections) / pushDirections)
	return geometry.Vec3{X: c, Y: s}
}

// shoved is how far a solid goes in each direction: the smallest n . p of its
// points, -Inf where it does not go into the piece at all.
type shoved [pushDirections]float64

// shove makes the table from which all pairs are looked up: for every solid
// and direction how far it can be pushed within the piece.
func (l *layer) shove(sides []half) []shoved {
	table := make([]shoved, len(l.pool))
	places := l.b.spots(sides)
	volume := l.b.volumeOf(sides)
	geometry.SideBySide(len(l.pool), func(i int) {
		e := &l.pool[i]
		for k := range table[i] {
			table[i][k] = math.Inf(-1)
		}
		l.slots <- struct{}{}
		defer func() { <-l.slots }()
		if e.Solid.Volume() > volume || l.ctx.Err() != nil {
			return
		}
		m := newMover(l.room, l.skin, sides, e.Candidate, e.frame)
		var found []spot
		for _, s := range m.starts(places, e) {
			if at, v := m.settle(s, settleTries); v >= slack {
				found = append(found, at)
			}
		}
		for k := range table[i] {
			for _, at := range found {
				_, far := m.push(at, pushed(k), pushTries)
				table[i][k] = math.Max(table[i][k], far)
			}
		}
	})
	return table
}

// guess is a cut that a pair of solids was looked up for.
type guess struct {
	normal geometry.Vec3
	at     float64 // n . p of the middle of the kerf
	carat  float64
}

// guesses returns the most promising cuts of a piece: for each direction the
// heaviest pair, and the plan's best fits kept where they are, with what their
// offcut holds. Two convex solids part by one straight cut exactly when they
// stand kerf + 2 skin apart.
func (l *layer) guesses(sides []half, kept []search.Fit) []guess {
	table := l.shove(sides)
	need := l.opt.Bench.Saw.Kerf + 2*l.skin
	var out []guess
	for k := range pushDirections {
		n := pushed(k)
		best := guess{}
		for i, a := range l.pool {
			for j, b := range l.pool {
				up, down := table[i][k], table[j][(k+pushDirections/2)%pushDirections]
				if a.carat+b.carat <= best.carat {
					break // those that follow are lighter
				}
				if up+down >= need {
					best = guess{n, (up - down) / 2, a.carat + b.carat}
				}
			}
		}
		if best.carat > 0 {
			out = append(out, best)
		}
		for _, f := range kept {
			edge := reach(f, n)
			for i, a := range l.pool {
				if table[i][k] >= edge+need {
					out = append(out, guess{n, edge + l.skin + l.opt.Bench.Saw.Kerf/2, a.carat + f.Carat})
					break
				}
			}
		}
	}
	slices.SortStableFunc(out, func(a, b guess) int { return cmp.Compare(b.carat, a.carat) })
	return out
}

// How many guesses are replanned on both sides, and how far each of the best
// is slid and leant.
const (
	guessesTried = 6
	guessesSlid  = 3
)

var (
	slides = []float64{-1, -0.5, 0.5, 1}
	leans  = []float64{-25, -12, 12, 25}
)

// splits cuts a piece in two in the ways that give most, best first; none if
// no two stones go into it.
func (l *layer) splits(piece string, sides []half, kept []search.Fit) []split {
	middle := 0.0
	if low, high := l.b.extent(sides, geometry.Vec3{Z: 1}); low < high {
		middle = (low + high) / 2
	}
	var found []split
	var tried []guess
	for _, g := range l.guesses(sides, kept) {
		if len(tried) == guessesTried || l.ctx.Err() != nil {
			break
		}
		alike := slices.ContainsFunc(tried, func(o guess) bool {
			return math.Abs(o.normal.Dot(g.normal)) > 0.99 && math.Abs(o.at-g.at*sign(o.normal.Dot(g.normal))) < 0.7
		})
		if !alike {
			tried = append(tried, g)
		}
	}
	try := func(cuts []Cut) {
		more := make([]split, len(cuts))
		geometry.SideBySide(len(cuts), func(i int) {
			l.slots <- struct{}{}
			defer func() { <-l.slots }()
			more[i] = l.both(cuts[i], sides)
		})
		for _, s := range more {
			if s.carat() > 0 {
				found = append(found, s)
			}
		}
		slices.SortStableFunc(found, func(a, b split) int { return cmp.Compare(b.carat(), a.carat()) })
	}
	var cuts []Cut
	for _, g := range tried {
		cuts = append(cuts, l.cutAt(piece, g.normal, g.at, middle))
	}
	try(cuts)
	cuts = nil
	for _, s := range found[:min(len(found), guessesSlid)] {
		at := s.cut.Normal.Dot(s.cut.Point)
		for _, by := range slides {
			cuts = append(cuts, l.cutAt(piece, s.cut.Normal, at+by, middle))
		}
	}
	try(cuts)
	if len(found) > 0 {
		best := found[0]
		cuts = nil
		for _, lean := range leans {
			up, flat := math.Sincos(lean * math.Pi / 180)
			n := geometry.Vec3{X: best.cut.Normal.X * flat, Y: best.cut.Normal.Y * flat, Z: up}
			foot := best.cut.Point
			c := Cut{Plane: Plane{Point: foot, Normal: n}, Kerf: best.cut.Kerf, Kind: Part, Piece: piece}
			if s := l.both(c, sides); s.carat() > clearlyHeavier*best.carat() {
				cuts = append(cuts, c)
			}
		}
		try(cuts)
	}
	return found
}

// clearlyHeavier is by how much a leaning cut's stones have to outweigh an
// upright one's.
const clearlyHeavier = 1.05

func sign(v float64) float64 {
	if v < 0 {
		return -1
	}
	return 1
}

// cutAt is the upright cut with n . p = at in the middle of its kerf; its point
// is the one nearest to the origin, at half the piece's height.
func (l *layer) cutAt(piece string, n geometry.Vec3, at, height float64) Cut {
	p := n.Scale(at)
	p.Z = height
	return Cut{Plane: Plane{Point: p, Normal: n}, Kerf: l.opt.Bench.Saw.Kerf, Kind: Part, Piece: piece}
}

// both plans the pieces on either side of a cut.
func (l *layer) both(c Cut, sides []half) split {
	side := func(sign float64) []half { return append(append([]half(nil), sides...), c.side(sign)) }
	s := split{cut: c, plus: l.heaviest(side(1), 0)}
	if len(s.plus) > 0 {
		s.minus = l.heaviest(side(-1), 0)
	}
	return s
}
