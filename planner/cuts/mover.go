package cuts

import (
	"math"
	"math/rand/v2"
	"slices"

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

// mover moves one solid about in a piece. It is for one goroutine.
type mover struct {
	room    *room
	keep    float64 // skin
	slack   float64 // see layer
	sides   []half  // of the piece
	body    search.Candidate
	samples []geometry.Vec3 // of the skin, about half the height, those that decided lately first
	middle  float64         // height of that over the girdle
	frame   geometry.Mat3   // how it lies before it is turned
	level   bool            // the girdle is
	girdle  [girdleWays + 1]float64
}

// girdleWays is in how many directions the reach of an outline is tabled: between them it is
// right to a micrometre or two.
const girdleWays = 360

func (l *layer) newMover(sides []half, c search.Candidate, frame geometry.Mat3) *mover {
	m := &mover{room: l.room, keep: l.skin, slack: l.slack, sides: sides, body: c, frame: frame}
	m.middle = c.Solid.CentreOfHeight()
	m.level = math.Hypot(frame.W.X, frame.W.Y) < 1e-9
	for k := range m.girdle {
		s, c := math.Sincos(2 * math.Pi * float64(k) / girdleWays)
		m.girdle[k] = m.body.Solid.Outline.Support(c, s)
	}
	rim := c.Solid.RimRatio()
	add := func(p geometry.Vec2, rho float64, w float64) {
		m.samples = append(m.samples, geometry.Vec3{X: rho * p.X, Y: rho * p.Y, Z: w - m.middle})
	}
	for i, p := range c.Solid.Outline.Points(32) {
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
	for i := range m.sides {
		h := &m.sides[i]
		least = min(least, m.least(s, axes, h.normal)-h.from-m.keep)
	}
	lowest := 0
	for i, p := range m.samples {
		if least < stop {
			break
		}
		at := s.at.Add(axes.Apply(p))
		if m.room.cells.above(at, least) {
			continue
		}
		if v := m.room.at(at); v < least {
			least, lowest = v, i
		}
	}
	// The sample that decided is asked earlier from now on: it will often be again.
	early := lowest / 2
	m.samples[early], m.samples[lowest] = m.samples[lowest], m.samples[early]
	return least
}

// least is the smallest n . p over the solid's points.
func (m *mover) least(s spot, axes geometry.Mat3, n geometry.Vec3) float64 {
	d := axes.Transposed(n.Scale(-1))
	origin := s.at.Sub(axes.W.Scale(m.middle))
	if m.level && n.Z == 0 {
		// Nothing reaches further aside than the girdle.
		turn := math.Atan2(d.Y, d.X) / (2 * math.Pi)
		at := (turn - math.Floor(turn)) * girdleWays
		k := min(int(at), girdleWays-1)
		at -= float64(k)
		return n.Dot(origin) - m.girdle[k]*(1-at) - m.girdle[k+1]*at
	}
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

// settle climbs for clearance, and again where the skin between the samples has less, or
// where little is lacking.
func (m *mover) settle(s spot, tries int) (spot, float64) {
	s, v := m.climb(s, tries, m.value)
	if v > nearlyIn && v < m.slack {
		s, v = m.climb(s, 2*tries, m.value)
	}
	for range settleRounds {
		if v < m.slack {
			break
		}
		close := m.closely(s, v)
		if close >= m.slack || close > v-closer {
			return s, close
		}
		s, v = m.climb(s, tries, m.value)
	}
	return s, v
}

const (
	nearlyIn     = -0.25 // what a solid may lack, mm, to be worth a second climb
	settleRounds = 3     // of looking between the samples
)

// push climbs towards n: the smallest n . p of the solid, as large as it gets
// while the allowances are kept.
func (m *mover) push(s spot, n geometry.Vec3, tries int) (spot, float64) {
	// Below a lens's face the room falls by a tenth of a step aside and less, so that a
	// small weight would buy its way out of the allowances.
	const weight = 4
	s, _ = m.climb(s, tries, func(s spot, stop float64) float64 {
		far := m.least(s, geometry.RotZ(s.turn).Mul(m.frame), n)
		return far + weight*math.Min(0, m.value(s, (stop-far)/weight)-m.slack)
	})
	return s, m.least(s, geometry.RotZ(s.turn).Mul(m.frame), n)
}

// leastSlack and mostSlack bound a layer's slack, mm.
const (
	leastSlack = 0.02
	mostSlack  = 0.12
)

// measureSlack returns by how much the tables say too much of the room that solids have,
// from fits whose clearance is known: what half of them are right to.
func (l *layer) measureSlack(fits []search.Fit) float64 {
	const most = 60
	var over []float64
	for _, f := range fits {
		if len(over) == most {
			break
		}
		if calibrated(f) {
			m := l.newMover(nil, f.Candidate, f.Pose.Axes)
			at := f.Pose.Origin.Add(f.Pose.Axes.W.Scale(m.middle))
			_, v := m.closest(spot{at: at})
			over = append(over, v-f.Clearance)
		}
	}
	slices.Sort(over)
	if len(over) == 0 {
		return leastSlack
	}
	return max(leastSlack, min(mostSlack, over[len(over)/2]))
}
