package cuts

import (
	"math"
	"math/rand/v2"

	"cabwright/geometry"
	"cabwright/planner"
	"cabwright/planner/search"
)

// spot is a pose with level girdle, or tilted as another pose is: a place and a
// turn.
type spot struct {
	at   geometry.Vec3 // the middle of the stone's height, over the outline's centre
	turn float64       // radians
}

// mover moves one solid about in a piece.
type mover struct {
	room    *room
	keep    float64 // skin
	sides   []half  // of the piece
	body    search.Candidate
	samples []geometry.Vec3 // of the skin, about the middle of the height
	middle  float64         // height of that over the girdle
	frame   geometry.Mat3   // how it lies before it is turned
}

func newMover(r *room, skin float64, sides []half, c search.Candidate, frame geometry.Mat3) *mover {
	m := &mover{room: r, keep: skin, sides: sides, body: c, middle: c.Solid.CentreOfHeight(), frame: frame}
	rim := c.Solid.RimRatio()
	add := func(p geometry.Vec2, rho float64, w float64) {
		m.samples = append(m.samples, geometry.Vec3{X: rho * p.X, Y: rho * p.Y, Z: w - m.middle})
	}
	for i, p := range c.Solid.Outline.Points(20) {
		add(p, 1, 0)
		add(p, rim, c.Solid.Wall)
		if i%2 == 0 {
			add(p, 0.8*rim, c.Solid.Upper(0.8*rim))
			add(p, 0.75, c.Solid.Lower(0.75))
		} else {
			add(p, 0.5*rim, c.Solid.Upper(0.5*rim))
			add(p, 0.4, c.Solid.Lower(0.4))
		}
	}
	add(geometry.Vec2{}, 0, c.Solid.Upper(0))
	add(geometry.Vec2{}, 0, c.Solid.Lower(0))
	return m
}

// level is the frame of a stone whose dome points straight out of a face.
func level(face planner.Face) geometry.Mat3 {
	if face == planner.Base {
		return geometry.Mat3{U: geometry.Vec3{X: 1}, V: geometry.Vec3{Y: -1}, W: geometry.Vec3{Z: -1}}
	}
	return geometry.Identity3()
}

// pose turns a spot into a pose of the plan.
func (m *mover) pose(s spot) search.Pose {
	axes := geometry.RotZ(s.turn).Mul(m.frame)
	return search.Pose{Origin: s.at.Sub(axes.W.Scale(m.middle)), Axes: axes}
}

// value is about how much more than its allowances the solid keeps, or
// something below stop.
func (m *mover) value(s spot, stop float64) float64 {
	axes := geometry.RotZ(s.turn).Mul(m.frame)
	least := math.Inf(1)
	for _, h := range m.sides {
		least = math.Min(least, m.least(s, axes, h.normal)-h.from-m.keep)
	}
	for _, p := range m.samples {
		if least < stop {
			return least
		}
		least = math.Min(least, m.room.at(s.at.Add(axes.Apply(p))))
	}
	return least
}

// least is the smallest n . p over the solid's points.
func (m *mover) least(s spot, axes geometry.Mat3, n geometry.Vec3) float64 {
	d := axes.Transposed(n.Scale(-1))
	origin := s.at.Sub(axes.W.Scale(m.middle))
	return n.Dot(origin) - m.body.Solid.Support(d)
}

// climb walks uphill by an evolution strategy of one parent and one child, its
// step adapted by the one-fifth rule (Rechenberg 1973): the goal has creases on
// which anything that follows slopes gets stuck.
func (m *mover) climb(s spot, tries int, goal func(spot, float64) float64) (spot, float64) {
	rng := rand.New(rand.NewPCG(1, uint64(len(m.samples)))) // the same on every run
	best := goal(s, math.Inf(-1))
	step, arm := 0.5, math.Max(1, m.body.Solid.Outline.Length/2)
	for range tries {
		next := s
		next.at.X += step * rng.NormFloat64()
		next.at.Y += step * rng.NormFloat64()
		next.at.Z += step * 0.5 * rng.NormFloat64()
		next.turn += step / arm * rng.NormFloat64()
		if v := goal(next, best); v > best {
			s, best = next, v
			step = math.Min(1.5, step*1.5)
		} else if step *= 0.9036; step < 0.004 { // 1.5^(-1/4)
			break
		}
	}
	return s, best
}

// settle climbs for clearance.
func (m *mover) settle(s spot, tries int) (spot, float64) {
	return m.climb(s, tries, m.value)
}

// push climbs towards n: the smallest n . p of the solid, as large as it gets
// while the allowances are kept.
func (m *mover) push(s spot, n geometry.Vec3, tries int) (spot, float64) {
	// A step of 1 mm changes the room by 1 mm at most, so any weight above 1
	// keeps to it; 4 gets there in few steps.
	const weight = 4
	s, _ = m.climb(s, tries, func(s spot, stop float64) float64 {
		far := m.least(s, geometry.RotZ(s.turn).Mul(m.frame), n)
		return far + weight*math.Min(0, m.value(s, (stop-far)/weight)-slack)
	})
	return s, m.least(s, geometry.RotZ(s.turn).Mul(m.frame), n)
}

// slack is what a solid found by the lattice has to keep beyond its allowances,
// mm, to be tried on the exact shapes: the lattice is right to about that.
const slack = 0.02
