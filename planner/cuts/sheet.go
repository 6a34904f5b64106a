package cuts

import (
	"math"

	"cabwright/geometry"
	"cabwright/planner"
)

// sheet is a crack as the stone file's contract has it: lines that go in from
// the places of its path on a face, each along the same direction.
type sheet struct {
	id     string
	sealed bool
	starts []geometry.Vec3
	into   geometry.Vec3 // for each millimetre of depth
	depth  float64
}

// sheetStep is how finely a sheet is followed, along its path and inwards: half
// of it is what a cut may miss a crack's edge by.
const sheetStep = 0.05

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

// each calls see with points of the sheet that lie in the rough and in all the
// sides, until it returns false.
func (b *Body) each(s *sheet, sides []half, see func(geometry.Vec3) bool) {
	for _, start := range s.starts {
		from, to := s.within(start, sides)
		if to < from {
			continue
		}
		parts := math.Ceil((to-from)/sheetStep) + 1
		for k := 0.0; k <= parts; k++ {
			at := start.Add(s.into.Scale(from + (to-from)*k/parts))
			if b.holds(at) && !see(at) {
				return
			}
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
func (b *Body) any(s *sheet, sides []half) bool {
	found := false
	b.each(s, sides, func(geometry.Vec3) bool { found = true; return false })
	return found
}

// meets tells whether a cut on a piece runs into a crack: whether some of the
// sheet lies within the kerf. One that only touches the kerf's face is not met.
func (b *Body) meets(s *sheet, c Cut, piece []half) bool {
	const touch = 1e-9
	kerf := c
	kerf.Kerf = -c.Kerf + touch
	// The sides of a cut of negative kerf overlap in what is its kerf.
	return b.any(s, append([]half{kerf.side(1), kerf.side(-1)}, piece...))
}
