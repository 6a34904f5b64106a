package cuts

import (
	"math"

	"cabwright/geometry"
)

// How the skin is looked at between a mover's samples: from the lowest of them, by steps
// from about half of what lies between two down to what no longer changes the room by a
// hundredth of a millimetre.
const (
	lowestSeen = 5
	firstStep  = 0.8  // mm along the girdle plane
	fineStep   = 0.06 // mm
	closer     = 0.01 // mm: less room than that below the samples' is worth a sample of its own
)

// closest returns the point of the skin, in the solid's own axes, with about the least
// room, and that room: a crack's edge or a pocket's corner can come to the skin between
// the samples.
func (m *mover) closest(s spot) (geometry.Vec3, float64) {
	axes := geometry.RotZ(s.turn).Mul(m.frame)
	room := func(p geometry.Vec3) float64 { return m.room.at(s.at.Add(axes.Apply(p))) }
	var low [lowestSeen]struct {
		p geometry.Vec3
		v float64
	}
	for i := range low {
		low[i].v = math.Inf(1)
	}
	for _, p := range m.samples {
		if m.room.cells.above(s.at.Add(axes.Apply(p)), low[lowestSeen-1].v) {
			continue
		}
		v := room(p)
		for i := range low {
			if v < low[i].v {
				p, low[i].p, v, low[i].v = low[i].p, p, low[i].v, v
			}
		}
	}
	best := low[0]
	for _, from := range low {
		if math.IsInf(from.v, 1) {
			break
		}
		c := &m.body.Solid
		for _, skin := range [2]func(float64) float64{c.Upper, c.Lower} {
			// A point of the girdle lies on both.
			if rho := c.Outline.Gauge(from.p.X, from.p.Y); math.Abs(skin(min(rho, 1))-m.middle-from.p.Z) > 1e-6 {
				continue
			}
			if p, v := m.downhill(from.p, from.v, skin, room); v < best.v {
				best.p, best.v = p, v
			}
		}
	}
	return best.p, best.v
}

// downhill follows the skin from a point to where there is least room, by a pattern search
// (Hooke and Jeeves 1961).
func (m *mover) downhill(
	p geometry.Vec3, v float64, skin func(rho float64) float64, room func(geometry.Vec3) float64,
) (geometry.Vec3, float64) {
	c := &m.body.Solid
	for step := firstStep; step >= fineStep; step /= 2 {
		for moved := true; moved; {
			moved = false
			for _, by := range [4]geometry.Vec2{{X: step}, {X: -step}, {Y: step}, {Y: -step}} {
				at := p.XY().Add(by)
				rho := c.Outline.Gauge(at.X, at.Y)
				if rho > 1 {
					at, rho = at.Scale(1/rho), 1
				}
				next := geometry.Vec3{X: at.X, Y: at.Y, Z: skin(rho) - m.middle}
				if w := room(next); w < v-1e-4 {
					p, v, moved = next, w, true
				}
			}
		}
	}
	return p, v
}

// closely is the value of a spot at which the samples say it is v, with the skin between
// them; where that is less a sample is added, so that a climb knows of it.
func (m *mover) closely(s spot, v float64) float64 {
	p, w := m.closest(s)
	if w > v-closer {
		return min(v, w)
	}
	m.samples = append(m.samples, p)
	return w
}
