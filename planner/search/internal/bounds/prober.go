package bounds

import (
	"context"
	"math"
	"slices"

	"cabwright/geometry"
	"cabwright/geometry/field"
	"cabwright/planner/search/internal/certify"
	"cabwright/planner/search/internal/poses"
	"cabwright/planner/search/internal/simplex"
)

// Prober asks one field about one model; each goroutine has its own.
type Prober struct {
	Field *field.Field
	Model *poses.Model
	Level bool
	Ctx   context.Context // a climb ends where it does; nil: never

	lp      simplex.Solver
	places  []geometry.Vec3 // of the samples, at the pose asked about
	near    []int32         // samples worth a row
	picked  []int32         // those chosen
	asked   []uint32        // by sample: the programme, by number, that has its rows
	number  uint32          // of the programme
	floors  []float64       // cheap lower bounds of clearance less radius
	least   float64         // the least of those placed last
	every   []int32         // all samples
	among   []int32         // those that can matter in the box at hand
	beyond  float64         // what all others keep there, at least
	raw     []field.Row
	span    field.Span
	TiltMax float64 // radians
	slant   float64 // sine of the largest lean in the box of tilts
	lowest  int     // the sample that decided value last
	ceiling float64 // least bound that moves nothing: clearance at the centre plus reach
}

// NewProber makes a prober for poses that lean by at most tiltMax, radians.
func NewProber(f *field.Field, m *poses.Model, tiltMax float64) *Prober {
	level := tiltMax == 0
	p := &Prober{Field: f, Model: m, Level: level, TiltMax: tiltMax}
	p.lp.N = poses.Dims
	if level {
		p.lp.N = poses.Lean
	}
	// Both tilts at their limits lean by less than their hypotenuse.
	p.slant = math.Sin(min(math.Pi/2, math.Sqrt2*tiltMax))

	p.places = make([]geometry.Vec3, len(m.Samples))
	p.floors = make([]float64, len(m.Samples))
	p.asked = make([]uint32, len(m.Samples))
	p.every = make([]int32, len(m.Samples))
	for i := range p.every {
		p.every[i] = int32(i)
	}
	return p
}

// Vars returns how many of a pose's numbers vary: without a tilt the last two do not.
func (p *Prober) Vars() int { return p.lp.N }

// AddSample has a point of the skin, in the solid's own axes, join the samples.
func (p *Prober) AddSample(at geometry.Vec3) {
	p.Model.Add(at, 0)
	for len(p.places) < len(p.Model.Samples) {
		p.every = append(p.every, int32(len(p.every)))
		p.places, p.floors, p.asked = append(p.places, geometry.Vec3{}), append(p.floors, 0), append(p.asked, 0)
	}
}

// begin starts an empty programme.
func (p *Prober) begin(ceiling float64) {
	p.lp.Rows = p.lp.Rows[:0]
	p.ceiling = ceiling
	p.number++
}

// place puts some samples at a pose and returns the one with the least floor.
func (p *Prober) place(at poses.Coord, r *geometry.Mat3, among []int32) (lowest int32) {
	c := geometry.Vec3{X: at[0], Y: at[1], Z: at[2]}
	p.least = math.Inf(1)
	for _, i := range among {
		s := &p.Model.Samples[i]
		q := r.Apply(s.At).Add(c)
		p.places[i] = q
		floor := p.Field.AtLeast(q) - s.Radius
		p.floors[i] = floor
		if floor < p.least {
			p.least, lowest = floor, i
		}
	}
	return lowest
}

// Value returns the clearance at a pose as the samples see it, right to about a
// hundredth, stopping early below stop.
func (p *Prober) Value(at poses.Coord, stop float64) float64 { return p.valueOf(at, stop, p.every) }

// valueOf is Value as some of the samples see it.
func (p *Prober) valueOf(at poses.Coord, stop float64, among []int32) float64 {
	if len(among) == 0 {
		return math.Inf(1)
	}
	r := at.Rotation()
	first := p.place(at, &r, among)
	least := p.Field.Estimate(p.places[first], math.Inf(1)) - p.Model.Samples[first].Radius
	p.lowest = int(first)
	for _, i := range among {
		if least < stop {
			break
		}
		if p.floors[i] < least {
			s := p.Model.Samples[i].Radius
			if v := p.Field.Estimate(p.places[i], least+s) - s; v < least {
				least, p.lowest = v, int(i)
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
func (p *Prober) reach(c *Box, s *poses.Sample, place geometry.Vec3) field.Reach {
	r := field.Reach{Plan: math.Sqrt(c.Half[0]*c.Half[0] + c.Half[1]*c.Half[1]), Rise: c.Half[2]}
	if p.Level {
		r.Plan += c.Half[poses.Turn] * s.Flat
		return r
	}
	h := math.Hypot(c.Half[poses.Lean], c.Half[poses.Lean+1])
	away := h * s.Lever
	height := math.Abs(place.Z - c.At[2])
	aside := min(away, h*height+h*h/2*s.Lever+c.Half[poses.Lean+1]*p.slant*s.Flat)
	r.Plan += aside + c.Half[poses.Turn]*min(s.Lever, math.Hypot(place.X-c.At[0], place.Y-c.At[1])+aside)
	r.Rise += away
	return r
}

// centred places a sample at the cell's centre pose.
func (p *Prober) centred(c *Box, f *poses.Frame, i int) geometry.Vec3 {
	return f.R.Apply(p.Model.Samples[i].At).Add(geometry.Vec3{X: c.At[0], Y: c.At[1], Z: c.At[2]})
}

// Stopped tells whether the search was cancelled.
func (p *Prober) Stopped() bool { return p.Ctx != nil && p.Ctx.Err() != nil }

// Guess is about the clearance at a pose, from the coarse grid and the samples that are
// spread over the whole solid; it stops early at stop or below.
func (p *Prober) Guess(at poses.Coord, stop float64) float64 {
	r := at.Rotation()
	c := at.Pivot()
	least := math.Inf(1)
	for i := range p.Model.Samples[:p.Model.Few] {
		s := &p.Model.Samples[i]
		if v := p.Field.Guess(r.Apply(s.At).Add(c)) - s.Radius; v < least {
			if least = v; least <= stop {
				break
			}
		}
	}
	return least
}

// Clearances returns the least clearance of each of n obstacles at a pose, as the
// samples see it.
func (p *Prober) Clearances(at poses.Coord, n int) []float64 {
	r := at.Rotation()
	p.place(at, &r, p.every)
	least := slices.Repeat([]float64{math.Inf(1)}, n)
	for i, q := range p.places {
		radius := p.Model.Samples[i].Radius
		p.raw = p.Field.Slopes(q, farEnough+radius, p.raw[:0])
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

// Certify checks a pose on the exact geometry, down to the resolution, mm, or until
// it stands above enough.
func (p *Prober) Certify(at poses.Coord, enough, resolution float64) certify.Result {
	p.Value(at, math.Inf(-1))
	start := p.Model.Own(p.Model.Samples[p.lowest])
	return certify.Whole(p.Field, p.Model.Solid, p.Model.Pose(at), start, enough, resolution)
}
