package cuts

import (
	"cmp"
	"math"
	"slices"

	"cabwright/geometry"
	"cabwright/planner/search"
	"cabwright/presets"
)

// Bench is what the cutter saws with.
type Bench struct {
	Saw    presets.Saw
	AsSawn float64       // left on a side by the saw for the wheels, mm
	Saws   []presets.Saw // other blades that could be put on
}

// sawnKey is the row of the wheels' table that says what a saw leaves.
const sawnKey = "sawn"

// NewBench takes the default saw and the workshop table of a set.
func NewBench(set *presets.Set) Bench {
	b := Bench{Saws: set.Saws}
	b.Saw, _ = set.Saw(set.Defaults.Saw)
	for _, w := range set.Wheels {
		if w.Key == sawnKey {
			b.AsSawn = w.Left
		}
	}
	return b
}

// Limits of what is offered.
const (
	mostTrims = 4
	// A strip thinner than this breaks rather than being sawn off (common
	// practice); it is ground away.
	leastStrip = 2.0
	// A trim is worth setting up for when it takes a twentieth of the waste.
	leastShare = 0.05
	// A cut into an open crack is offered only where none without takes this
	// share of what it would.
	nearlyAsWell = 0.7
	// A leaning cut is harder to set up: it has to take a quarter more.
	clearlyMore = 1.25
)

// Thinner says that a crack or pocket could be sawn off with a thinner blade.
type Thinner struct {
	ID  string
	Saw presets.Saw
}

// Trims returns the cuts that free a fit on its piece, made by the given cuts,
// from marks and waste, in the order to saw in: at most four. Their pieces are
// named on from the fit's; what is left of it is the last cut's piece and "-".
// It also says which marks a thinner blade would free.
func (b *Body) Trims(f Placed, made []Cut, bench Bench) ([]Cut, []Thinner) {
	t := trimmer{b: b, fit: f.Fit, bench: bench, sides: halves(made, f.Piece), skin: b.Stone.Allowances.Skin}
	t.waste, t.piece = b.volumeOf(t.sides)-f.Volume, b.sparse(t.sides)
	t.free()
	t.trim()
	return b.chain(t.cuts, f.Piece, made), t.thinner
}

type trimmer struct {
	b       *Body
	fit     search.Fit
	bench   Bench
	skin    float64
	sides   []half   // of the piece, with what was cut so far
	piece   []column // sparse
	cuts    []Cut
	waste   float64
	thinner []Thinner
}

// directions are the normals tried: 72 round the plan, upright and leaning.
func directions(leans ...float64) []geometry.Vec3 {
	var out []geometry.Vec3
	for _, lean := range leans {
		up, flat := math.Sincos(lean * math.Pi / 180)
		for k := range 72 {
			s, c := math.Sincos(float64(k) * math.Pi / 36)
			out = append(out, geometry.Vec3{X: c * flat, Y: s * flat, Z: up})
		}
	}
	return out
}

var (
	uprights = directions(0)
	leaning  = directions(-30, -20, -10, 10, 20, 30)
)

// through is the cut square to n whose middle lies so far beyond the stone.
func (t *trimmer) through(n geometry.Vec3, beyond float64) Cut {
	foot := t.fit.Pose.Origin
	far := reach(t.fit, n) + beyond
	return Cut{Plane: Plane{Point: foot.Add(n.Scale(far - n.Dot(foot))), Normal: n}, Kerf: t.bench.Saw.Kerf, Kind: Trim}
}

// breaks tells whether the offcut of a cut is too thin a strip. Mostly some column of the
// sparse piece shows that it is not.
func (t *trimmer) breaks(c Cut) bool {
	n, enough := c.Normal, c.side(1).from+leastStrip
	for i := range t.piece {
		p := &t.piece[i]
		if n.X*p.x+n.Y*p.y+max(n.Z*p.low, n.Z*p.high) >= enough {
			return false
		}
	}
	return t.b.stripOf(c, t.sides) < leastStrip
}

// stripOf is how thick the offcut of a cut on a piece is.
func (b *Body) stripOf(c Cut, piece []half) float64 {
	off := c.side(1)
	_, most := b.extent(append(append([]half(nil), piece...), off), off.normal)
	return most - off.from
}

func (t *trimmer) keep(c Cut) {
	t.cuts = append(t.cuts, c)
	t.sides = append(append([]half(nil), t.sides...), c.side(-1))
	t.piece = t.b.sparse(t.sides)
}

// opens tells whether a cut runs into a crack that is not sealed.
func (t *trimmer) opens(c Cut) bool {
	for i := range t.b.sheets {
		if s := &t.b.sheets[i]; !s.sealed && s.meets(c, t.sides) {
			return true
		}
	}
	return false
}

// free saws off what can be sawn off with a kerf between it and the skin of
// the stone, the mark with most room first, so that a cut that frees two is
// found by the one that is harder to free.
func (t *trimmer) free() {
	for len(t.cuts) < mostTrims {
		var best *Cut
		least := math.Inf(1)
		for _, m := range t.b.obstacles(t.sides) {
			c, room := t.freeing(m)
			if c != nil && room < least {
				best, least = c, room
			}
		}
		if best == nil {
			return
		}
		t.keep(*best)
	}
}

// obstacle is a mark in a piece: its outermost points.
type obstacle struct {
	id     string
	points []geometry.Vec3
}

// gap is how far the mark begins beyond a height over n, or something less than enough:
// the point that decided is asked first from now on, as it will often be again.
func (o *obstacle) gap(n geometry.Vec3, height, enough float64) float64 {
	least := math.Inf(1)
	for i, p := range o.points {
		if d := n.Dot(p) - height; d < least {
			if least = d; least < enough {
				o.points[0], o.points[i] = p, o.points[0]
				break
			}
		}
	}
	return least
}

// freeing returns the cut that best frees the stone from a mark, and the room
// beyond skin and kerf; nil when there is none.
func (t *trimmer) freeing(m obstacle) (*Cut, float64) {
	need := t.skin + t.bench.Saw.Kerf
	var best *Cut
	room, gapSeen := math.Inf(-1), math.Inf(-1)
	try := func(normals []geometry.Vec3) {
		for _, n := range normals {
			gap := m.gap(n, reach(t.fit, n), math.Min(gapSeen, room+need))
			gapSeen = math.Max(gapSeen, gap)
			more := gap - need
			if more < -1e-9 || more <= room {
				continue
			}
			// The room beyond what is needed is shared by both sides, up to
			// what a saw leaves anyhow.
			c := t.through(n, t.skin+t.bench.Saw.Kerf/2+math.Min(more/2, math.Max(0, t.bench.AsSawn-t.skin)))
			c.Kind = Free
			if t.breaks(c) || t.opens(c) {
				continue
			}
			best, room = &c, more
		}
	}
	if try(uprights); best == nil {
		try(leaning)
	}
	if best == nil && gapSeen < need {
		t.note(m.id, gapSeen)
	}
	return best, room
}

// note remembers the thickest blade that would pass between a mark and the
// stone.
func (t *trimmer) note(id string, gap float64) {
	var best *presets.Saw
	for i, s := range t.bench.Saws {
		if s.Kerf < t.bench.Saw.Kerf && t.skin+s.Kerf <= gap && (best == nil || s.Kerf > best.Kerf) {
			best = &t.bench.Saws[i]
		}
	}
	for _, n := range t.thinner {
		if n.ID == id {
			return
		}
	}
	if best != nil {
		t.thinner = append(t.thinner, Thinner{ID: id, Saw: *best})
	}
}

// trim saws waste off, the most first, leaving what the wheels need.
func (t *trimmer) trim() {
	for len(t.cuts) < mostTrims {
		flat, flatTakes := t.most(uprights)
		c, takes := flat, flatTakes
		if lean, leanTakes := t.most(leaning); lean != nil && leanTakes > clearlyMore*flatTakes {
			c, takes = lean, leanTakes
		}
		if c == nil || takes < leastShare*t.waste {
			return
		}
		t.keep(*c)
	}
}

// most returns the cut that takes off most; one that runs into an open crack
// counts less.
func (t *trimmer) most(normals []geometry.Vec3) (*Cut, float64) {
	type offer struct {
		cut   Cut
		takes float64
	}
	offers := make([]offer, len(normals))
	for i, n := range normals {
		c := t.through(n, math.Max(t.bench.AsSawn, t.skin)+t.bench.Saw.Kerf/2)
		offers[i] = offer{c, t.b.roughlyBeyond(t.piece, c.side(1))}
	}
	slices.SortStableFunc(offers, func(a, b offer) int { return cmp.Compare(b.takes, a.takes) })
	var best *Cut
	takes := 0.0
	for _, o := range offers {
		if o.takes <= takes {
			break
		}
		if t.breaks(o.cut) {
			continue
		}
		if t.opens(o.cut) {
			o.takes *= nearlyAsWell
		}
		if o.takes > takes {
			best, takes = &o.cut, o.takes
		}
	}
	return best, takes
}

// chain puts cuts that keep the same stone into the order to saw in and names
// their pieces, on from the given one: what frees before what trims, and of
// each kind last the cut before which the piece in the hand is the largest.
func (b *Body) chain(cuts []Cut, piece string, made []Cut) []Cut {
	before := halves(made, piece)
	left := append([]Cut(nil), cuts...)
	out := make([]Cut, len(cuts))
	for i := len(out) - 1; i >= 0; i-- {
		last := -1
		held := math.Inf(-1)
		for k, c := range left {
			if c.Kind == Free && hasTrim(left) {
				continue
			}
			sides := append([]half(nil), before...)
			for j, d := range left {
				if j != k {
					sides = append(sides, d.side(-1))
				}
			}
			if h := b.held(c.Plane, sides); h > held {
				last, held = k, h
			}
		}
		out[i] = left[last]
		left = append(left[:last:last], left[last+1:]...)
	}
	for i := range out {
		out[i].Piece = piece
		piece += "-"
	}
	return out
}

func hasTrim(cuts []Cut) bool {
	for _, c := range cuts {
		if c.Kind == Trim {
			return true
		}
	}
	return false
}

// held is the greatest length in plan of what is in the hand, along a cut or
// square to it.
func (b *Body) held(p Plane, sides []half) float64 {
	trace, _ := p.axes()
	return math.Max(b.span(sides, trace), b.span(sides, trace.Cross(geometry.Vec3{Z: 1})))
}

// One is the layout of a single fit: what frees it and trims it, in order, and
// which marks a thinner blade would free it from.
func (b *Body) One(f search.Fit, bench Bench) (Layout, []Thinner, error) {
	own, thinner := b.Trims(Placed{Fit: f}, nil, bench)
	piece := ""
	for range own {
		piece += "-"
	}
	fits := []Placed{{Fit: f, Piece: piece}}
	l, err := b.Describe(fits, b.snapped(own, fits, bench.AsSawn))
	return l, thinner, err
}
