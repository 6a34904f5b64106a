package cuts

import (
	"cmp"
	"math"
	"slices"

	"cabwright/geometry"
)

// snapReach is how far along its edge a mark is moved to where it is scribed more
// easily, mm: about as well as a mark is scribed and sawn to.
const snapReach = 0.3

// snapped moves the marks of upright cuts to corners of the rough and to round
// figures, where the cut through them keeps all that it kept: the skin of every
// stone and half of what room there was beyond it, at a trim what the saw leaves for
// the wheels, what it frees, no strip that breaks, and no open crack more.
func (b *Body) snapped(made []Cut, fits []Placed, asSawn float64) []Cut {
	made = slices.Clone(made)
	height := (low(b) + high(b)) / 2
	for i, c := range made {
		before := halves(made, c.Piece)
		if math.Abs(c.Normal.Z) >= upright {
			continue
		}
		marks := b.marks(c, before, height)
		if len(marks) != 2 {
			continue
		}
		keeps := b.keeping(c, before, fits, asSawn)
		for _, at := range snaps(b.Stone.Outline, marks[0], marks[1]) {
			if moved, ok := c.throughBoth(at[0], at[1]); ok && keeps(moved) {
				made[i] = moved
				break
			}
		}
	}
	return made
}

// keeping returns the question whether a cut in the place of another is as good.
func (b *Body) keeping(c Cut, before []half, fits []Placed, asSawn float64) func(Cut) bool {
	skin := b.Stone.Allowances.Skin
	keep := skin
	if c.Kind == Trim {
		keep = math.Max(skin, asSawn)
	}
	stones := append(on(fits, c.Piece+"+"), on(fits, c.Piece+"-")...)
	side := func(f Placed) float64 { return signOf(f.Piece[len(c.Piece)]) }
	kept := func(c Cut) []half { return append(slices.Clone(before), c.side(-1)) }
	var frees []string
	if c.Kind == Free {
		frees = b.frees(before, kept(c))
	}
	opens := func(c Cut) (ids []string) {
		for i := range b.sheets {
			if s := &b.sheets[i]; !s.sealed && s.meets(c, before) {
				ids = append(ids, s.id)
			}
		}
		return ids
	}
	open := opens(c)
	return func(moved Cut) bool {
		for _, f := range stones {
			if had := c.Room(f.Fit, side(f), keep); moved.Room(f.Fit, side(f), keep) < math.Max(0, had/2) {
				return false
			}
		}
		if c.Kind != Part && b.stripOf(moved, before) < leastStrip {
			return false
		}
		if c.Kind == Free && !slices.Equal(frees, b.frees(before, kept(moved))) {
			return false
		}
		return !slices.ContainsFunc(opens(moved), func(id string) bool { return !slices.Contains(open, id) })
	}
}

// snaps returns the pairs of points that two marks may be moved to, the easiest to
// scribe first; both of a pair where they are is not among them.
func snaps(outline []geometry.Vec2, in, out Mark) [][2]geometry.Vec2 {
	type pair struct {
		at     [2]geometry.Vec2
		effort float64
	}
	var pairs []pair
	for _, p := range easier(outline, in) {
		for _, q := range easier(outline, out) {
			if p.effort < asItIs || q.effort < asItIs {
				pairs = append(pairs, pair{[2]geometry.Vec2{p.at, q.at}, p.effort + q.effort})
			}
		}
	}
	slices.SortStableFunc(pairs, func(a, b pair) int { return cmp.Compare(a.effort, b.effort) })
	points := make([][2]geometry.Vec2, len(pairs))
	for i, p := range pairs {
		points[i] = p.at
	}
	return points
}

// scribed is a point on the rim and how hard it is to find there: a corner 0, whole
// millimetres from it 1, half ones 2, others 3, and a little more for the way to it.
type scribed struct {
	at     geometry.Vec2
	effort float64
}

const asItIs = 3.0

// easier lists where a mark may be moved to, itself as well.
func easier(outline []geometry.Vec2, m Mark) []scribed {
	other := m.From + m.To - m.Corner
	p, q := outline[m.Corner-1], outline[other-1]
	along := q.Sub(p)
	length := along.Norm()
	points := []scribed{{m.At, asItIs}}
	for half := math.Ceil(2 * math.Max(0, m.Along-snapReach)); half/2 <= math.Min(length, m.Along+snapReach); half++ {
		effort := 2.0
		switch {
		case half == 0:
			effort = 0
		case math.Mod(half, 2) == 0:
			effort = 1
		}
		to := half / 2
		points = append(points, scribed{p.Add(along.Scale(to / length)), effort + math.Abs(to-m.Along)/2})
	}
	return points
}

// throughBoth returns the cut turned and moved to run through two points of the rim;
// false where they are too near each other to say how.
func (c Cut) throughBoth(p, q geometry.Vec2) (Cut, bool) {
	trace := q.Sub(p)
	length := trace.Norm()
	if length < 4*snapReach {
		return c, false
	}
	n := geometry.Vec3{X: trace.Y / length, Y: -trace.X / length}
	if n.Dot(c.Normal) < 0 {
		n = n.Scale(-1)
	}
	through := Plane{Point: geometry.Vec3{X: p.X, Y: p.Y, Z: c.Point.Z}, Normal: n}
	c.Point = c.Point.Sub(n.Scale(through.Height(c.Point)))
	c.Normal = n
	return c, true
}
