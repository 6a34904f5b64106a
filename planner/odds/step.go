package odds

import (
	"hash/fnv"
	"math"
	"math/rand/v2"

	"cabwright/geometry"
	"cabwright/geometry/solid"
	"cabwright/planner/search"
)

// stepper makes random steps of one solid, with a seed of its own.
type stepper struct {
	solid solid.Cabochon
	tilt  float64 // largest, radians
	arm   float64 // mm: what a turn of one radian moves
	rng   *rand.Rand
}

// newStepper makes one for a solid that tilts by so many degrees at most.
func newStepper(f search.Fit, tilt float64) *stepper {
	return &stepper{
		solid: f.Solid, tilt: tilt * math.Pi / 180, arm: math.Max(1, f.Solid.Outline.Length/2),
		rng: rand.New(rand.NewPCG(1, seedOf(f.Candidate))),
	}
}

// moved returns a pose a random step away, of about the given size in mm, with a
// turn and a tilt that move the ends of the stone by as much.
func (c *stepper) moved(p search.Pose, size float64) search.Pose {
	g := func() float64 { return size * c.rng.NormFloat64() / math.Sqrt(3) }
	p.Origin = p.Origin.Add(geometry.Vec3{X: g(), Y: g(), Z: g() / 2})
	turn, lean, toward := g()/c.arm, g()/c.arm, c.rng.Float64()*2*math.Pi
	p.Axes = geometry.RotZ(turn).Mul(p.Axes)
	if c.tilt > 0 {
		tilted := geometry.RotZ(toward).Mul(geometry.RotX(lean)).Mul(geometry.RotZ(-toward)).Mul(p.Axes)
		if leanOf(tilted) <= c.tilt {
			p.Axes = tilted
		}
	}
	return p
}

// leanOf is the angle between the dome's axis and the vertical, radians.
func leanOf(axes geometry.Mat3) float64 {
	return math.Atan2(math.Hypot(axes.W.X, axes.W.Y), math.Abs(axes.W.Z))
}

// seedOf makes the walk of each solid its own.
func seedOf(c search.Candidate) uint64 {
	h := fnv.New64a()
	o := c.Solid.Outline
	for _, v := range []float64{o.Length, o.Width, c.Solid.Height(), c.Solid.BackDepth()} {
		var b [8]byte
		for i := range b {
			b[i] = byte(math.Float64bits(v) >> (8 * i))
		}
		h.Write(b[:])
	}
	h.Write([]byte(o.Shape + string(c.Face)))
	return h.Sum64()
}

// Moved returns how far the middle of a stone lies from where it was, mm, and by
// how many degrees it is turned or tilted.
func Moved(from, to search.Pose) (mm, degrees float64) {
	mm = to.Origin.Sub(from.Origin).Norm()
	trace := from.Axes.U.Dot(to.Axes.U) + from.Axes.V.Dot(to.Axes.V) + from.Axes.W.Dot(to.Axes.W)
	return mm, math.Acos(math.Max(-1, math.Min(1, (trace-1)/2))) * 180 / math.Pi
}
