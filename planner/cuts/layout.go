package cuts

import (
	"fmt"
	"math"

	"cabwright/geometry"
)

// Layout is a rough taken to pieces, in the order of sawing.
type Layout struct {
	Fits   []Placed // the heaviest first
	Pieces []Piece  // that are left, uncut
	Steps  []Step   // the cuts, in order
}

// Carat returns what the layout's stones weigh together.
func (l Layout) Carat() float64 {
	sum := 0.0
	for _, f := range l.Fits {
		sum += f.Carat
	}
	return sum
}

// Piece is what is left of the rough on one side of its last cut.
type Piece struct {
	Name   string
	Volume float64 // mm3
	Lumps  int     // separate parts of 1 mm3 or more
	Stone  bool    // a stone lies on it
}

// Step is one cut and all there is to know about it at the saw.
type Step struct {
	Cut
	SealFirst []string  // unsealed cracks that it meets, not sealed for an earlier cut
	Frees     []string  // marks of which nothing is left with the stone
	Offcut    float64   // mm3 of the side without a stone; 0 for a parting cut
	KerfLost  float64   // mm3 turned to dust
	Spare     float64   // least room of the stones on both sides beyond kerf/2 and skin; NaN without a stone
	Across    float64   // caliper measure across the piece kept, square to the cut
	Marks     []Mark    // where it goes in and out on the rim; none for a level cut
	Held      float64   // the greatest length in plan of the piece in the hand
	Deep      float64   // how deep the blade has to reach
	Foot      []float64 // carats of the stones on the side that a parting cut's foot leans to
}

// Describe works out a layout from its stones and its cuts, in the order in
// which they are made. The error says which cut is made on a piece that is not
// there or is cut already, or has no direction; a cut without its Kind gets it.
func (b *Body) Describe(fits []Placed, cuts []Cut) (Layout, error) {
	cuts = append([]Cut(nil), cuts...)
	uncut := map[string]bool{"": true}
	for i, c := range cuts {
		if !uncut[c.Piece] {
			return Layout{}, fmt.Errorf("cut %d: there is no uncut piece %q when it is made", i+1, c.Piece)
		}
		if math.Abs(c.Normal.Norm()-1) > 1e-6 {
			return Layout{}, fmt.Errorf("cut %d: its normal has the length %g, not 1", i+1, c.Normal.Norm())
		}
		delete(uncut, c.Piece)
		uncut[c.Piece+"+"], uncut[c.Piece+"-"] = true, true
	}
	for _, f := range fits {
		if !uncut[f.Piece] {
			return Layout{}, fmt.Errorf("a stone lies on %q, which is no piece left uncut", f.Piece)
		}
	}
	root := tree(cuts)
	b.volumes(root)
	out := Layout{Fits: fits}
	nodes := map[string]*node{}
	root.walk(func(n *node) {
		nodes[n.name] = n
		if n.cut == nil {
			out.Pieces = append(out.Pieces, Piece{
				Name: n.name, Volume: n.volume, Lumps: b.lumps(halves(cuts, n.name)), Stone: len(on(fits, n.name)) > 0,
			})
		}
	})
	sealed := map[string]bool{}
	for _, c := range cuts {
		out.Steps = append(out.Steps, b.describe(c, cuts, fits, nodes[c.Piece], sealed))
	}
	return out, nil
}

// describe describes one cut; it adds to the cracks that are sealed by now.
func (b *Body) describe(c Cut, cuts []Cut, fits []Placed, n *node, sealed map[string]bool) Step {
	before := halves(cuts, c.Piece)
	plus, minus := on(fits, c.Piece+"+"), on(fits, c.Piece+"-")
	s := Step{Cut: c, KerfLost: n.kerf, Spare: math.NaN(), SealFirst: b.seals(c, before, sealed)}
	kept := -1.0 // the side of the piece that is kept
	if weight(plus) > weight(minus) {
		kept = 1
	}
	if len(plus) == 0 || len(minus) == 0 {
		s.Offcut = map[float64]*node{-1: n.plus, 1: n.minus}[kept].total()
	}
	if s.Kind == "" {
		s.Kind = Trim
		if len(plus) > 0 && len(minus) > 0 {
			s.Kind = Part
		}
	}
	keptSides := append(append([]half(nil), before...), c.side(kept))
	s.Across = b.across(keptSides)
	s.Frees = b.frees(before, keptSides)
	skin := b.Stone.Allowances.Skin
	height := (low(b) + high(b)) / 2
	for _, f := range append(plus, minus...) {
		if room := c.Room(f.Fit, signOf(f.Piece[len(c.Piece)]), skin); !(s.Spare <= room) {
			s.Spare, height = room, f.Pose.Origin.Z
		}
	}
	foot := plus
	if c.Normal.Z < 0 {
		foot = minus
	}
	for _, f := range foot {
		s.Foot = append(s.Foot, f.Carat)
	}
	s.Marks = b.marks(c, before, height)
	s.Held = b.held(c.Plane, before)
	_, down := c.axes()
	kerf := c
	kerf.Kerf = -c.Kerf
	s.Deep = b.span(append([]half{kerf.side(1), kerf.side(-1)}, before...), down)
	return s
}

// axes returns the direction of the cut's trace in plan and the direction
// square to it in the plane, down (or, for a level cut, along y).
func (p Plane) axes() (trace, down geometry.Vec3) {
	trace = p.Normal.Cross(geometry.Vec3{Z: 1})
	if trace.Norm() < upright {
		return geometry.Vec3{X: 1}, geometry.Vec3{Y: 1}
	}
	trace = trace.Scale(1 / trace.Norm())
	return trace, trace.Cross(p.Normal)
}

func low(b *Body) float64  { z, _ := b.Rough.Heights(); return z }
func high(b *Body) float64 { _, z := b.Rough.Heights(); return z }

// total is the volume of a piece with all that is made of it.
func (n *node) total() float64 {
	sum := 0.0
	n.walk(func(m *node) { sum += m.volume + m.kerf })
	return sum
}

// on returns the stones that lie on a piece or on one made of it.
func on(fits []Placed, piece string) []Placed {
	var out []Placed
	for _, f := range fits {
		if len(f.Piece) >= len(piece) && f.Piece[:len(piece)] == piece {
			out = append(out, f)
		}
	}
	return out
}

// weight is that of the heaviest of some stones: a cut is measured on its side.
func weight(fits []Placed) float64 {
	most := 0.0
	for _, f := range fits {
		most = math.Max(most, f.Carat)
	}
	return most
}

// seals returns the cracks to seal before a cut, and counts them as sealed: a
// crack is sealed whole, on every piece (the plan's contract).
func (b *Body) seals(c Cut, before []half, sealed map[string]bool) []string {
	ids := []string{}
	for i := range b.sheets {
		if s := &b.sheets[i]; !s.sealed && !sealed[s.id] && s.meets(c, before) {
			ids = append(ids, s.id)
			sealed[s.id] = true
		}
	}
	return ids
}
