package cuts

import (
	"math"
	"slices"

	"cabwright/geometry"
	"cabwright/planner"
)

// sheet is a crack as the stone file's contract has it: lines that go in from
// the places of its path on a face, each along the same direction.
type sheet struct {
	id        string
	sealed    bool
	starts    []geometry.Vec3
	into      geometry.Vec3 // for each millimetre of depth
	depth     float64
	stretches func() []stretch // of its lines, in the rough; worked out when first asked for
}

// stretch is a part of a line of a sheet: between two depths from its start.
type stretch struct {
	start    geometry.Vec3
	from, to float64
}

// sheetStep is how finely a sheet is followed along its path, mm: half of it is what a
// cut may miss a crack's edge by. Inwards a line is looked at every lineStep, and where it
// comes into the rough or leaves it is then halved.
const (
	sheetStep = 0.05
	lineStep  = 0.2
)

func newSheet(c planner.Crack, rough *planner.Rough, thickness float64) sheet {
	lean, toward := c.Lean*math.Pi/180, c.Toward*math.Pi/180
	s := sheet{
		id: c.ID, sealed: c.Sealed, depth: c.Depth,
		into: geometry.Vec3{X: math.Tan(lean) * math.Cos(toward), Y: math.Tan(lean) * math.Sin(toward), Z: -1},
	}
	if c.Face == planner.Base {
		s.into.Z = 1
	}
	if c.Through {
		s.depth = thickness + 1 // both faces lie within the thickness
	}
	path := planner.RunOn(c.Path, c.RunOn)
	for i := 0; i+1 < len(path); i++ {
		p, q := path[i], path[i+1]
		// A coarser step for paths of more than 100 mm keeps the work bounded.
		parts := math.Min(2000, math.Ceil(q.Sub(p).Norm()/sheetStep)+1)
		for k := 0.0; k <= parts; k++ {
			at := p.Add(q.Sub(p).Scale(k / parts))
			s.starts = append(s.starts, geometry.Vec3{X: at.X, Y: at.Y, Z: rough.Height(c.Face, at.X, at.Y)})
		}
	}
	return s
}

// within returns the depths between which the line from a start lies in all
// the sides; none when the second is not above the first.
func (s *sheet) within(start geometry.Vec3, sides []half) (from, to float64) {
	from, to = 0, s.depth
	for _, h := range sides {
		at, rise := h.normal.Dot(start)-h.from, h.normal.Dot(s.into)
		switch {
		case math.Abs(rise) < 1e-12:
			if at < 0 {
				return 0, -1
			}
		case rise > 0:
			from = math.Max(from, -at/rise)
		default:
			to = math.Min(to, at/-rise)
		}
	}
	return from, to
}

// stretchesOf returns the parts of a sheet's lines that lie in the rough.
func (b *Body) stretchesOf(s *sheet) []stretch {
	const parts = 32
	some := make([][]stretch, parts)
	geometry.SideBySide(parts, func(k int) {
		for _, start := range s.starts[k*len(s.starts)/parts : (k+1)*len(s.starts)/parts] {
			some[k] = b.addStretches(some[k], s, start)
		}
	})
	return slices.Concat(some...)
}

// addStretches adds those of one line.
func (b *Body) addStretches(out []stretch, s *sheet, start geometry.Vec3) []stretch {
	in := func(depth float64) bool { return b.holds(start.Add(s.into.Scale(depth))) }
	parts := 1 + math.Ceil(s.depth/lineStep)
	if s.into.X == 0 && s.into.Y == 0 {
		parts = 1 // straight down: in the rough from the face to its end or to the far face
	}
	at := func(k float64) float64 { return s.depth * math.Min(1, k/parts) }
	open, from := false, 0.0
	for k := 0.0; k <= parts; k++ {
		switch held := in(at(k)); {
		case held && !open:
			open, from = true, at(k)
			if k > 0 {
				from = edge(in, at(k), at(k-1))
			}
		case !held && open:
			open = false
			out = append(out, stretch{start, from, edge(in, at(k-1), at(k))})
		}
	}
	if open {
		out = append(out, stretch{start, from, s.depth})
	}
	return out
}

// edge halves the way from a depth at which a line is inside the rough to one
// at which it is not, and returns the last one inside.
func edge(in func(float64) bool, good, bad float64) float64 {
	for range 20 {
		if m := (good + bad) / 2; in(m) {
			good = m
		} else {
			bad = m
		}
	}
	return good
}

// each calls see with every part of a line that lies in the rough and in all the sides,
// until that returns false.
func (s *sheet) each(sides []half, see func(stretch) bool) {
	for _, part := range s.stretches() {
		from, to := s.within(part.start, sides)
		if from, to = math.Max(from, part.from), math.Min(to, part.to); to >= from && !see(stretch{part.start, from, to}) {
			return
		}
	}
}

// holds tells whether the rough is solid at a point. A sheet starts on the
// face itself, so rounding must not lose its first point.
func (b *Body) holds(p geometry.Vec3) bool {
	const slack = 1e-6
	return geometry.InPolygon(b.Rough.Outline, p.XY()) &&
		p.Z <= b.Rough.Top(p.X, p.Y)+slack && p.Z >= b.Rough.Base(p.X, p.Y)-slack
}

// any tells whether something of a sheet lies in the rough and the sides.
func (s *sheet) any(sides []half) bool {
	found := false
	s.each(sides, func(stretch) bool { found = true; return false })
	return found
}

// meets tells whether a cut on a piece runs into a crack: whether some of the
// sheet lies within the kerf. One that only touches the kerf's face is not met.
func (s *sheet) meets(c Cut, piece []half) bool {
	const touch = 1e-9
	kerf := c
	kerf.Kerf = -c.Kerf + touch
	// The sides of a cut of negative kerf overlap in what is its kerf.
	return s.any(append([]half{kerf.side(1), kerf.side(-1)}, piece...))
}
