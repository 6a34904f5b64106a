package search

import (
	"context"
	"math"
	"slices"

	"cabwright/geometry"
	"cabwright/geometry/field"
)

// prober asks one field about one model; each goroutine has its own.
type prober struct {
	field *field.Field
	model *model
	level bool
	ctx   context.Context // a climb ends where it does; nil: never

	lp      lp
	places  []geometry.Vec3 // of the samples, at the pose asked about
	near    []int32         // samples worth a row
	picked  []int32         // those chosen
	asked   []uint32        // by sample: the programme, by number, that has its rows
	number  uint32          // of the programme
	floors  []float64       // cheap lower bounds of clearance less radius
	raw     []field.Row
	span    field.Span
	tiltMax float64 // radians
	slant   float64 // sine of the largest lean in the box of tilts
	lowest  int     // the sample that decided value last
	ceiling float64 // least bound that moves nothing: clearance at the centre plus reach
}

func newProber(f *field.Field, m *model, tiltMax float64) *prober {
	level := tiltMax == 0
	p := &prober{field: f, model: m, level: level, tiltMax: tiltMax}
	p.lp.n = dims
	if level {
		p.lp.n = lean
	}
	// Both tilts at their limits lean by less than their hypotenuse.
	p.slant = math.Sin(min(math.Pi/2, math.Sqrt2*tiltMax))

	p.places = make([]geometry.Vec3, len(m.samples))
	p.floors = make([]float64, len(m.samples))
	p.asked = make([]uint32, len(m.samples))
	return p
}

// fit makes room after samples were added to the model.
func (p *prober) fit() {
	for len(p.places) < len(p.model.samples) {
		p.places, p.floors, p.asked = append(p.places, geometry.Vec3{}), append(p.floors, 0), append(p.asked, 0)
	}
}

// begin starts an empty programme.
func (p *prober) begin(ceiling float64) {
	p.lp.rows = p.lp.rows[:0]
	p.ceiling = ceiling
	p.number++
}

// place puts the samples at a pose and returns the one with the least floor.
func (p *prober) place(at coord, r *geometry.Mat3, n int) (lowest int) {
	c := geometry.Vec3{X: at[0], Y: at[1], Z: at[2]}
	least := math.Inf(1)
	for i := range p.model.samples[:n] {
		s := &p.model.samples[i]
		q := r.Apply(s.at).Add(c)
		p.places[i] = q
		p.floors[i] = p.field.AtLeast(q) - s.radius
		if p.floors[i] < least {
			least, lowest = p.floors[i], i
		}
	}
	return lowest
}

// value returns the clearance at a pose as the samples see it, right to about a
// hundredth, stopping early below stop.
func (p *prober) value(at coord, stop float64) float64 {
	r := at.rotation()
	first := p.place(at, &r, len(p.model.samples))
	least := p.field.Estimate(p.places[first], math.Inf(1)) - p.model.samples[first].radius
	p.lowest = first
	for i := range p.places {
		if least < stop {
			break
		}
		if p.floors[i] < least {
			s := p.model.samples[i].radius
			if v := p.field.Estimate(p.places[i], least+s) - s; v < least {
				least, p.lowest = v, i
			}
		}
	}
	return least
}

// reach returns how far a sample can move within the cell: by the translations,
// by the tilts (whose axes are square to each other), which move it mostly up and
// down: a tilt by h about a level axis takes a point sideways by h times its
// height at most, and by h^2/2 times its lever beyond that; the second tilt's axis
// is itself tilted by the first; and by the arc of the turn about the vertical.
func (p *prober) reach(c *cell, s *sample, place geometry.Vec3) field.Reach {
	r := field.Reach{Plan: math.Sqrt(c.half[0]*c.half[0] + c.half[1]*c.half[1]), Rise: c.half[2]}
	if p.level {
		r.Plan += c.half[turn] * s.flat
		return r
	}
	h := math.Hypot(c.half[lean], c.half[lean+1])
	away := h * s.lever
	height := math.Abs(place.Z - c.at[2])
	aside := min(away, h*height+h*h/2*s.lever+c.half[lean+1]*p.slant*s.flat)
	r.Plan += aside + c.half[turn]*min(s.lever, math.Hypot(place.X-c.at[0], place.Y-c.at[1])+aside)
	r.Rise += away
	return r
}

// centred places a sample at the cell's centre pose.
func (p *prober) centred(c *cell, f *frame, i int) geometry.Vec3 {
	return f.r.Apply(p.model.samples[i].at).Add(geometry.Vec3{X: c.at[0], Y: c.at[1], Z: c.at[2]})
}

// stopped tells whether the search was cancelled.
func (p *prober) stopped() bool { return p.ctx != nil && p.ctx.Err() != nil }

// guess is about the clearance at a pose, from the coarse grid and the samples that are
// spread over the whole solid; it stops early at stop or below.
func (p *prober) guess(at coord, stop float64) float64 {
	r := at.rotation()
	c := at.place()
	least := math.Inf(1)
	for i := range p.model.samples[:p.model.few] {
		s := &p.model.samples[i]
		if v := p.field.Guess(r.Apply(s.at).Add(c)) - s.radius; v < least {
			if least = v; least <= stop {
				break
			}
		}
	}
	return least
}

// clearances returns the least clearance of each of n obstacles at a pose, as the
// samples see it.
func (p *prober) clearances(at coord, n int) []float64 {
	r := at.rotation()
	p.place(at, &r, len(p.model.samples))
	least := slices.Repeat([]float64{math.Inf(1)}, n)
	for i, q := range p.places {
		radius := p.model.samples[i].radius
		p.raw = p.field.Slopes(q, farEnough+radius, p.raw[:0])
		for k := range p.raw {
			o := p.raw[k].Obstacle
			least[o] = min(least[o], p.raw[k].Value-radius)
		}
	}
	return least
}

// farEnough is a clearance, mm, that nothing that limits a fit has: one that keeps more
// from everything would go on growing.
const farEnough = 3
