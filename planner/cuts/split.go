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

// room is what the tighter of the heaviest solids has beyond its allowances.
func (s split) room() float64 { return min(s.plus[0].room, s.minus[0].room) }

// bySplit puts the heavier splits first, and of those that weigh the same the roomier.
func bySplit(a, b split) int {
	return cmp.Or(cmp.Compare(b.carat(), a.carat()), cmp.Compare(b.room(), a.room()))
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
	for i := range table {
		for k := range table[i] {
			table[i][k] = math.Inf(-1)
		}
	}
	places := l.b.spots(sides)
	volume := l.b.volumeOf(sides)
	from := max(1, min(roomsPushed, solidsPushed/max(1, len(l.pool))))
	tries := pushTries
	if from == 1 {
		tries /= 2
	}
	l.each(len(l.pool), func(i int) {
		e := &l.pool[i]
		if e.Solid.Volume() > volume {
			return
		}
		m := l.newMover(sides, e.Candidate, e.frame)
		var found []spot
		for _, s := range m.starts(places, e, roomsSeen, roomsApart) {
			if at, v := m.settle(s, settleTries); v >= l.slack {
				found = append(found, at)
			}
		}
		for k := range table[i] {
			n := pushed(k)
			// What lies furthest already goes furthest, nearly always.
			slices.SortStableFunc(found, func(a, b spot) int { return cmp.Compare(n.Dot(b.at), n.Dot(a.at)) })
			for _, at := range found[:min(len(found), from)] {
				_, far := m.push(at, n, tries)
				table[i][k] = max(table[i][k], far)
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
func (l *layer) guesses(table []shoved, kept []search.Fit) []guess {
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
				if up+down >= need-hopeful {
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
				if table[i][k] >= edge+need-hopeful {
					out = append(out, guess{n, edge + l.skin + l.opt.Bench.Saw.Kerf/2, a.carat + f.Carat})
					break
				}
			}
		}
	}
	slices.SortStableFunc(out, func(a, b guess) int { return cmp.Compare(b.carat, a.carat) })
	return out
}

// mayGo tells from the table which solids may go on the side of a cut: between two of its
// directions as far as both allow together. It was found by climbs, so that a solid may go
// a little further than it says; a cut that leans gives way by more.
func mayGo(table []shoved, side half, skin float64) func(i int) bool {
	const climbed, leaning = 1, 3
	const between = 2 * math.Pi / pushDirections
	flat := side.normal.XY()
	angle := math.Atan2(flat.Y, flat.X) / between
	k := int(math.Floor(angle))
	past := (angle - float64(k)) * between
	one, other := math.Sin(between-past)/math.Sin(between), math.Sin(past)/math.Sin(between)
	reach := side.from + skin - climbed
	if math.Abs(side.normal.Z) >= upright {
		reach -= leaning
	}
	k = (k + pushDirections) % pushDirections
	next := (k + 1) % pushDirections
	return func(i int) bool {
		far := table[i][k]
		if past > 1e-9 {
			far = one*far + other*table[i][next]
		}
		return far >= reach
	}
}

// How many guesses are replanned on both sides, how many of the best are
// slid, and how many solids are pushed from one place: fewer are from several, up to
// roomsPushed.
const (
	guessesTried = 10
	guessesSlid  = 4
	solidsPushed = 400
	roomsPushed  = 4
	hopeful      = 0.4 // mm that a pair may lack by the table
)

var (
	slides = []float64{-1, -0.5, 0.5, 1}
	turns  = []float64{-14, -7, 7, 14}
	leans  = []float64{-25, -12, 12, 25}
)

// splits cuts a piece in two in the ways that give most, best first; none if no two
// stones go into it. starts are cuts that are tried beside the guesses.
func (l *layer) splits(piece string, sides []half, starts []grown, kept []search.Fit) []split {
	middle := 0.0
	if low, high := l.b.extent(sides, geometry.Vec3{Z: 1}); low < high {
		middle = (low + high) / 2
	}
	var found []split
	var tried []guess
	table := l.shove(sides)
	for _, g := range l.guesses(table, kept) {
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
		l.each(len(cuts), func(i int) { more[i] = l.both(cuts[i], sides, table) })
		for _, s := range more {
			if s.carat() > 0 {
				found = append(found, s)
			}
		}
		slices.SortStableFunc(found, bySplit)
	}
	var cuts []Cut
	for _, g := range tried {
		cuts = append(cuts, l.cutAt(piece, g.normal, g.at, middle))
	}
	for _, s := range starts {
		if math.Abs(s.cut.Normal.Z) < upright {
			cuts = append(cuts, l.cutAt(piece, s.cut.Normal, s.cut.Normal.Dot(s.cut.Point), middle))
		}
	}
	try(cuts)
	cuts = nil
	for _, s := range found[:min(len(found), guessesSlid)] {
		cuts = append(cuts, s.beside()...)
	}
	try(cuts)
	if len(found) > 0 {
		best := found[0]
		cuts = best.leaning()
		try(cuts)
		found = slices.DeleteFunc(found, func(s split) bool {
			return math.Abs(s.cut.Normal.Z) >= upright && s.carat() <= clearlyHeavier*best.carat()
		})
	}
	return found
}

// beside returns the cuts next to a split's own: slid, and turned about where it runs
// between its stones.
func (s split) beside() (out []Cut) {
	from := s.plus[0].at.at
	c, way := s.cut, s.minus[0].at.at.Sub(from)
	if along := c.Normal.Dot(way); math.Abs(along) > 1e-6 {
		c.Point = from.Sub(way.Scale(c.Height(from) / along))
	}
	for _, by := range slides {
		next := c
		next.Plane = c.Plane.Moved(by)
		out = append(out, next)
	}
	for _, by := range turns {
		next := c
		next.Plane = c.Plane.Turned(by * math.Pi / 180)
		out = append(out, next)
	}
	return out
}

// leaning returns a split's cut leant to both sides.
func (s split) leaning() (out []Cut) {
	for _, by := range leans {
		next := s.cut
		next.Plane = s.cut.Plane.Leaned(by * math.Pi / 180)
		out = append(out, next)
	}
	return out
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
func (l *layer) both(c Cut, sides []half, table []shoved) split {
	on := func(sign float64) []laid {
		side := c.side(sign)
		return l.heaviest(append(slices.Clone(sides), side), mayGo(table, side, l.skin))
	}
	s := split{cut: c, plus: on(1)}
	if len(s.plus) > 0 {
		s.minus = on(-1)
	}
	return s
}
