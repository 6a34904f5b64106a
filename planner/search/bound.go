package search

import (
	"math"

	"cabwright/geometry"
	"cabwright/geometry/field"
)

// cell is a box of poses: a centre, half-widths, and the best bound known.
type cell struct {
	at, half coord
	bound    float64
	binding  [dims + 2]int16 // samples whose rows bound it, plus one; 0 for none
}

// wide is the width of a box of poses, as the most that it moves a point of the
// solid, above which the few spread samples serve.
const wide = 0.3

// widest returns how far the cell's poses can move the solid's far points.
func (p *prober) widest(c *cell) float64 {
	w := 0.0
	for j := 0; j < p.lp.n; j++ {
		w = max(w, c.half[j]*p.leverOf(j))
	}
	return w
}

// How many samples the first programme of a box takes, how many each later one
// adds, and how often: more of each make fewer boxes and dearer ones. Measured on
// the demo stones, the product is least about here and flat.
const (
	firstLook = 8
	nextLook  = 6
	rounds    = 4
)

// maxRows is how many rows one programme holds; the lowest are kept.
const maxRows = 72

// prober asks one field about one model; each goroutine has its own.
type prober struct {
	field *field.Field
	model *model
	level bool

	lp       lp
	places   []geometry.Vec3 // of the samples, at the pose asked about
	near     []int32         // samples worth a row
	picked   []int32         // those chosen
	floors   []float64       // cheap lower bounds of clearance less radius
	raw      []field.Row
	span     field.Span
	tiltMax  float64 // radians
	slant    float64 // sine of the largest lean in the box of tilts
	lowest   int     // the sample that decided value last
	met      bool    // bracket met a pose with the wanted clearance
	metAt    coord
	metValue float64
	stuck    bool    // the last accept ended where a sample more is no help
	ceiling  float64 // least bound that moves nothing: clearance at the centre plus reach
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
	return p
}

// fit makes room after samples were added to the model.
func (p *prober) fit() {
	for len(p.places) < len(p.model.samples) {
		p.places, p.floors = append(p.places, geometry.Vec3{}), append(p.floors, 0)
	}
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

// bracket bounds a cell: it solves the programme of the few samples that bound
// the cell it came from and those worst off at its centre, looks where the
// optimum puts the solid, adds the samples that are worst off there, and solves
// again (a cutting-plane method: all other rows would only have confirmed these).
// The bound holds at any stage. It ends early below enough.
func (p *prober) bracket(c *cell, enough float64) float64 {
	f := newFrame(c.at, p.level)
	p.lp.rows = p.lp.rows[:0]
	p.ceiling = c.bound
	n := p.model.few
	if p.widest(c) < wide {
		n = len(p.model.samples)
	}
	p.place(c.at, &f.r, n)
	for _, k := range c.binding {
		if k > 0 && int(k) <= n {
			p.sampleRows(c, &f, int(k-1), p.places[k-1])
			p.floors[k-1] = math.Inf(1)
		}
	}
	p.sampleRows(c, &f, 0, p.places[0])
	p.addWorst(c, &f, math.Inf(1), firstLook, n)
	bound := p.ceiling
	for round := 0; ; round++ {
		if p.ceiling < enough {
			return p.ceiling
		}
		before := bound
		p.trim()
		bound = min(p.ceiling, p.lp.solve(enough))
		if bound < enough || round >= rounds || (round > 1 && bound > before-0.01) {
			break
		}
		y := p.lp.point()
		at := c.at
		for j := 0; j < p.lp.n; j++ {
			at[j] += y[j] * c.half[j]
		}
		r := at.rotation()
		p.place(at, &r, n)
		if !p.addWorst(c, &f, enough, nextLook, n) {
			break
		}
	}
	// In a narrow box the floors are too coarse to tell: the clearance itself at
	// the optimum names the sample that is missing, or shows that none is.
	for k := 0; k < 6 && bound >= enough && p.widest(c) < wide; k++ {
		y := p.lp.point()
		at := c.at
		for j := 0; j < p.lp.n; j++ {
			at[j] += y[j] * c.half[j]
		}
		// Looked for to some depth: the first sample that is short by a hair is often
		// one whose row is there already.
		if v := p.value(at, enough-0.1); v >= enough {
			p.met, p.metAt, p.metValue = true, at, v
			break
		}
		i := p.lowest
		p.lp.rows = p.lp.rows[:len(p.lp.rows)-1]
		p.sampleRows(c, &f, i, p.centred(c, &f, i))
		p.trim()
		before := bound
		if bound = min(bound, min(p.ceiling, p.lp.solve(enough))); bound > before-0.002 && k > 1 {
			break
		}
	}
	n = 0
	c.binding = [dims + 2]int16{}
	p.lp.weights(func(row int, _ float64) {
		if k := p.lp.rows[row].sample; n < len(c.binding) && k > 0 {
			c.binding[n] = int16(k)
			n++
		}
	})
	return bound
}

// addWorst adds rows for the samples that pickWorst picks; false if none can be
// below enough.
func (p *prober) addWorst(c *cell, f *frame, enough float64, most, among int) bool {
	least := p.pickWorst(enough, most, among)
	for _, i := range p.picked {
		p.sampleRows(c, f, int(i), p.centred(c, f, int(i)))
	}
	return least < enough
}

// pickWorst picks some samples (of the first among) that, by their cheap floors at
// the pose they are placed at, may be worst off there, one of each neighbourhood.
// It returns the least floor.
func (p *prober) pickWorst(enough float64, most, among int) (least float64) {
	const neighbourhood = 1.5 // mm: a contact's rows differ little within it
	// The floors are up to half a step of the coarse grid off; those this far above
	// the least are not the worst.
	const margin = 1.2
	least = math.Inf(1)
	for _, v := range p.floors[:among] {
		least = min(least, v)
	}
	limit := min(enough, least+margin)
	p.near, p.picked = p.near[:0], p.picked[:0]
	for i, v := range p.floors[:among] {
		if v < limit {
			p.near = append(p.near, int32(i))
		}
	}
	for k := 0; k < most && len(p.near) > 0; k++ {
		best := 0
		for n, i := range p.near {
			if p.floors[i] < p.floors[p.near[best]] {
				best = n
			}
		}
		pick := p.near[best]
		p.picked = append(p.picked, pick)
		at, kept := p.places[pick], p.near[:0]
		for _, i := range p.near {
			if v := p.places[i].Sub(at); v.Dot(v) >= neighbourhood*neighbourhood {
				kept = append(kept, i)
			}
		}
		p.near = kept
	}
	return least
}

// gather fills the programme with the slopes around one pose: the linear model
// that a local climb follows, not a bound.
func (p *prober) gather(c *cell) {
	f := newFrame(c.at, p.level)
	p.lp.rows = p.lp.rows[:0]
	p.ceiling = math.Inf(1)
	n := len(p.model.samples)
	if p.widest(c) > 0.25 {
		n = p.model.few
	}
	first := p.place(c.at, &f.r, n)
	p.slopes(c, &f, first, p.places[first])
	for i := range p.places[:n] {
		if i != first && p.floors[i]-p.reach(c, &p.model.samples[i], p.places[i]).Full() < p.ceiling {
			p.slopes(c, &f, i, p.places[i])
		}
	}
	p.trim()
}

// more adds slopes, still about the cell's centre, for the samples worst off at
// another pose of it.
func (p *prober) more(c *cell, pose coord) {
	f := newFrame(c.at, p.level)
	r := pose.rotation()
	n := len(p.model.samples)
	p.place(pose, &r, n)
	p.pickWorst(math.Inf(1), 8, n)
	for _, i := range p.picked {
		p.slopes(c, &f, int(i), p.centred(c, &f, int(i)))
	}
	p.trim()
}

// farSight is the reach, mm, above which a climb follows the field's bounds, not
// its slopes: these are flatter where an obstacle is thinner than the step, and so
// let it step over. Of some values tried, climbs from random poses ended highest
// with this.
const farSight = 0.9

// slopes adds the linear model of one sample, placed at the cell's centre pose.
func (p *prober) slopes(c *cell, f *frame, i int, place geometry.Vec3) {
	s := &p.model.samples[i]
	full := p.reach(c, s, place).Full()
	if full > farSight {
		p.raw = p.field.Rows(place, p.reach(c, s, place), nil, p.ceiling+s.radius, p.raw[:0])
	} else {
		p.raw = p.field.Slopes(place, p.ceiling+s.radius+full, p.raw[:0])
	}
	for k := range p.raw {
		r := &p.raw[k]
		row := lpRow{b: r.Value - s.radius, obstacle: r.Obstacle, sample: i + 1}
		p.ceiling = min(p.ceiling, row.b+full)
		p.tilt(&row, c, f, s, r.Gradient)
		if row.low < p.ceiling {
			p.lp.rows = append(p.lp.rows, row)
		}
	}
}

// tilt fills in a row's coefficients from the gradient at its sample.
func (p *prober) tilt(row *lpRow, c *cell, f *frame, s *sample, g geometry.Vec3) {
	row.a[0], row.a[1], row.a[2] = g.X*c.half[0], g.Y*c.half[1], g.Z*c.half[2]
	for j := turn; j < p.lp.n; j++ {
		row.a[j] = g.Dot(f.by[j-turn].Apply(s.at)) * c.half[j]
	}
	row.low = row.b
	for j := 0; j < p.lp.n; j++ {
		row.low -= math.Abs(row.a[j])
	}
}

// centred places a sample at the cell's centre pose.
func (p *prober) centred(c *cell, f *frame, i int) geometry.Vec3 {
	return f.r.Apply(p.model.samples[i].at).Add(geometry.Vec3{X: c.at[0], Y: c.at[1], Z: c.at[2]})
}

// trim drops the rows that cannot bind below the ceiling, keeps the lowest
// maxRows of the others, and adds the ceiling itself as a row.
func (p *prober) trim() {
	p.sift(p.ceiling)
	for len(p.lp.rows) > maxRows {
		// Those that reach lowest are the likeliest to bind.
		sum := 0.0
		for i := range p.lp.rows {
			sum += p.lp.rows[i].low
		}
		if n := len(p.lp.rows); !p.sift(sum/float64(n)) || len(p.lp.rows) == n {
			p.lp.rows = p.lp.rows[:maxRows]
		}
	}
	p.lp.rows = append(p.lp.rows, lpRow{b: p.ceiling, low: p.ceiling})
}

// sift keeps the rows whose low is below the limit; it reports whether any is.
func (p *prober) sift(limit float64) bool {
	kept := 0
	for i := range p.lp.rows {
		if p.lp.rows[i].low < limit {
			if kept != i {
				p.lp.rows[kept] = p.lp.rows[i]
			}
			kept++
		}
	}
	if kept == 0 {
		return false
	}
	p.lp.rows = p.lp.rows[:kept]
	return true
}

// sampleRows adds the rows of one sample, placed at the cell's centre pose, and
// lowers the ceiling if this sample lowers it.
func (p *prober) sampleRows(c *cell, f *frame, i int, place geometry.Vec3) {
	s := &p.model.samples[i]
	reach := p.reach(c, s, place)
	full := reach.Full()
	var by [3]geometry.Vec3
	n := p.lp.n - turn
	for k := 0; k < n; k++ {
		by[k] = f.by[k].Apply(s.at)
	}
	span := p.spanOf(c, f, s, by[:n])
	p.raw = p.field.Rows(place, reach, span, p.ceiling+s.radius, p.raw[:0])
	if len(p.raw) == 0 {
		return
	}
	for k := range p.raw {
		r := &p.raw[k]
		if v := r.Value + r.Slack + full - s.radius; v < p.ceiling {
			p.ceiling = v
		}
		row := lpRow{b: r.Value - s.radius, obstacle: r.Obstacle, sample: i + 1}
		if r.Bent {
			row.a, row.strain = r.Coef, r.Strain
			row.b += r.Slack
		} else {
			g := r.Gradient
			row.a[0], row.a[1], row.a[2] = g.X*c.half[0], g.Y*c.half[1], g.Z*c.half[2]
			for j := 0; j < n; j++ {
				row.a[turn+j] = g.Dot(by[j]) * c.half[turn+j]
			}
			row.b += p.slack(c, f, s, r, by[:n], &row.strain)
		}
		row.low = row.b
		for j := 0; j < p.lp.n; j++ {
			row.low -= math.Abs(row.a[j])
		}
		if row.low < p.ceiling {
			p.lp.rows = append(p.lp.rows, row)
		}
	}
}

// spanOf says how a sample moves within the cell: in proportion to each variable,
// and beside that along the arcs that the angles make of it. The second-order
// part of one angle alone is never negative: half of the most it can be is taken
// as a shift. The rest and the third order go into the bow.
func (p *prober) spanOf(c *cell, f *frame, s *sample, by []geometry.Vec3) *field.Span {
	sp := &p.span
	*sp = field.Span{N: p.lp.n}
	sp.By[0].X, sp.By[1].Y, sp.By[2].Z = c.half[0], c.half[1], c.half[2]
	angles := 0.0
	for j := range by {
		hj := c.half[turn+j]
		sp.By[turn+j] = by[j].Scale(hj)
		angles += hj
		for k := j; k < len(by); k++ {
			q := f.twice[j][k].Apply(s.at).Scale(hj * c.half[turn+k])
			if j == k {
				q = q.Scale(0.25)
				sp.Shift = sp.Shift.Add(q)
			}
			sp.Bow += q.Norm()
		}
	}
	arm := s.lever
	if p.level {
		arm = s.flat
	}
	sp.Bow += angles * angles * angles / 6 * arm
	return sp
}

// slack is what a row can miss within the cell, beside its own linear part:
// the obstacle's curvature over the reach, the second-order part of the rotation
// along the row's gradient, and the third-order remainder (every derivative of a
// product of rotations along a line has norm at most the sum of the angles to the
// power of the order). It notes which variable each part comes from.
func (p *prober) slack(c *cell, f *frame, s *sample, r *field.Row, by []geometry.Vec3, strain *[dims]float64) float64 {
	sum := r.Slack
	if r.Slack > 0 {
		// Shared out by the square of how far each variable moves the sample.
		total := 0.0
		for j := range 3 {
			strain[j] = c.half[j] * c.half[j]
			total += strain[j]
		}
		for j := range by {
			h := c.half[turn+j]
			strain[turn+j] = by[j].Dot(by[j]) * h * h
			total += strain[turn+j]
		}
		if total > 0 {
			for j := range strain {
				strain[j] *= r.Slack / total
			}
		}
	}
	angles := 0.0
	for j := range by {
		hj := c.half[turn+j]
		angles += hj
		for k := j; k < len(by); k++ {
			q := r.Gradient.Dot(f.twice[j][k].Apply(s.at)) * hj * c.half[turn+k]
			if j == k {
				q = max(0, q/2)
			} else {
				q = math.Abs(q)
			}
			sum += q
			strain[turn+j] += q / 2
			strain[turn+k] += q / 2
		}
	}
	cubic := angles * angles * angles / 6 * s.lever
	if p.level {
		cubic = angles * angles * angles / 6 * s.flat
	}
	sum += cubic
	if angles > 0 {
		for j := range by {
			strain[turn+j] += cubic * c.half[turn+j] / angles
		}
	}
	return sum
}
