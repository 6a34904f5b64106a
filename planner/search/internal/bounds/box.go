package bounds

import (
	"math"

	"cabwright/planner/search/internal/poses"
	"cabwright/planner/search/internal/simplex"
)

// Box is a box of poses: a centre, half-widths, and the best bound known.
type Box struct {
	At, Half poses.Coord
	Bound    float64
	binding  [poses.Dims + 2]int16 // samples whose rows bound it, plus one; 0 for none
	live     *live                 // nil while it is wide
}

// live is the samples that can keep less than is wanted somewhere in a box: in what is
// cut out of it no others can.
type live struct {
	samples []int16 // many boxes have one of their own: it is kept small
	known   int     // samples that there were; later ones are live
	enough  float64 // what was wanted, mm
	width   float64 // of the box, mm
}

// Point returns the pose at y, each from -1 to 1 across the box.
func (c *Box) Point(y [poses.Dims]float64) poses.Coord {
	at := c.At
	for j := range at {
		at[j] += y[j] * c.Half[j]
	}
	return at
}

// The width of a box of poses, as the most that one variable moves a point of the solid,
// above which the few spread samples serve: where the solid leans, more variables move
// it. Measured on the demo stones, level and with tilt.
const (
	wideLevel   = 0.6
	wideLeaning = 0.3
)

// narrow tells whether all samples are looked at in a box.
func (p *Prober) narrow(c *Box) bool {
	if p.Level {
		return p.Widest(c) < wideLevel
	}
	return p.Widest(c) < wideLeaning
}

// Widest returns how far the cell's poses can move the solid's far points.
func (p *Prober) Widest(c *Box) float64 {
	w := 0.0
	for j := 0; j < p.lp.N; j++ {
		w = max(w, c.Half[j]*p.leverOf(j))
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

// bracket bounds a cell: it solves the programme of the few samples that bound
// the cell it came from (at first, of those worst off at its centre), looks where
// the optimum puts the solid, adds the samples that are worst off there, and solves
// again (a cutting-plane method: all other rows would only have confirmed these).
// The bound holds at any stage. It ends early below enough.
func (p *Prober) bracket(c *Box, enough float64) (bound float64, met Met) {
	f := poses.NewFrame(c.At, p.Level)
	p.begin(c.Bound)
	narrow := p.narrow(c)
	among := p.every[:p.Model.Few]
	if narrow {
		among = p.liveIn(c, &f, enough)
	}
	// What bounded the box it came from often does for this one.
	for _, k := range c.binding {
		if k > 0 && (narrow || int(k) <= p.Model.Few) {
			p.sampleRows(c, &f, int(k-1), p.centred(c, &f, int(k-1)))
		}
	}
	p.sampleRows(c, &f, 0, p.centred(c, &f, 0))
	if p.ceiling < enough {
		return p.ceiling, met
	}
	if c.binding[0] == 0 {
		p.place(c.At, &f.R, among)
		p.addWorst(c, &f, math.Inf(1), firstLook, among)
	}
	bound = p.cutDown(c, &f, enough, among)
	if bound == p.ceiling && bound < enough {
		return bound, met
	}
	if narrow && bound >= enough {
		bound, met = p.cutCloser(c, &f, enough, bound, among)
	}
	c.binding = p.bindingSamples()
	return bound, met
}

// liveIn returns the samples that can matter in a narrow box.
func (p *Prober) liveIn(c *Box, f *poses.Frame, enough float64) []int32 {
	const narrower = 3 // times, and many of those that could matter no longer can
	all := p.every
	if l := c.live; l != nil && l.enough >= enough {
		p.among = p.among[:0]
		for _, i := range l.samples {
			p.among = append(p.among, int32(i))
		}
		p.among = append(p.among, p.every[l.known:]...)
		if p.Widest(c) > l.width/narrower {
			return p.among
		}
		all = p.among
	}
	p.place(c.At, &f.R, all)
	kept := p.among[:0]
	for _, i := range all {
		if p.floors[i]-p.reach(c, &p.Model.Samples[i], p.places[i]).Full() < enough {
			kept = append(kept, i)
		}
	}
	p.among = kept
	c.live = &live{known: len(p.every), enough: enough, width: p.Widest(c), samples: make([]int16, len(kept))}
	for k, i := range kept {
		c.live.samples[k] = int16(i)
	}
	return kept
}

// cutDown solves the programme, and again with the samples (of those given) that are worst
// off at its optimum, until that tells little more.
func (p *Prober) cutDown(c *Box, f *poses.Frame, enough float64, among []int32) float64 {
	bound := p.ceiling
	for round := 0; ; round++ {
		if p.ceiling < enough {
			return p.ceiling
		}
		before := bound
		p.trim()
		bound = min(p.ceiling, p.lp.Solve(enough))
		if bound < enough || round >= rounds || (round > 1 && bound > before-0.01) {
			return bound
		}
		at := c.Point(p.lp.Point())
		r := at.Rotation()
		p.place(at, &r, among)
		if !p.addWorst(c, f, enough, nextLook, among) {
			return bound
		}
	}
}

// cutCloser goes on where the floors are too coarse to tell, in a narrow box: the
// clearance itself at the optimum names the sample that is missing, or shows that none is.
func (p *Prober) cutCloser(c *Box, f *poses.Frame, enough, bound float64, among []int32) (float64, Met) {
	for k := 0; k < 6 && bound >= enough; k++ {
		at := c.Point(p.lp.Point())
		// Looked for to some depth: the first sample that is short by a hair is often
		// one whose row is there already.
		if p.valueOf(at, enough-0.1, among) >= enough {
			if v := p.Value(at, enough-0.1); v >= enough {
				return bound, Met{true, at, v}
			}
		}
		i := p.lowest
		if p.asked[i] == p.number {
			// Its rows are there and too high: another one may rule the box out.
			if p.valueOf(at, enough-0.1, p.unasked(among)) >= enough {
				break
			}
			i = p.lowest
		}
		p.lp.Rows = p.lp.Rows[:len(p.lp.Rows)-1]
		p.sampleRows(c, f, i, p.centred(c, f, i))
		p.trim()
		before := bound
		if bound = min(bound, min(p.ceiling, p.lp.Solve(enough))); bound > before-0.002 && k > 1 {
			break
		}
	}
	return bound, Met{}
}

// unasked returns those samples that have no rows in the programme.
func (p *Prober) unasked(among []int32) []int32 {
	p.near = p.near[:0]
	for _, i := range among {
		if p.asked[i] != p.number {
			p.near = append(p.near, i)
		}
	}
	return p.near
}

// bindingSamples returns the samples whose rows bind in the programme, plus one.
func (p *Prober) bindingSamples() (out [poses.Dims + 2]int16) {
	n := 0
	p.lp.Weights(func(row int, _ float64) {
		if k := p.lp.Rows[row].Sample; n < len(out) && k > 0 {
			out[n] = int16(k)
			n++
		}
	})
	return out
}

// Met is a pose with the wanted clearance that bounding a box came upon.
type Met struct {
	Found bool
	At    poses.Coord
	Value float64 // its clearance as the samples see it
}

// addWorst adds rows for the samples that pickWorst picks; false if none can be
// below enough.
func (p *Prober) addWorst(c *Box, f *poses.Frame, enough float64, most int, among []int32) bool {
	least := p.pickWorst(enough, most, among)
	for _, i := range p.picked {
		p.sampleRows(c, f, int(i), p.centred(c, f, int(i)))
	}
	return least < enough
}

// pickWorst picks some samples (of those given) that, by their cheap floors at
// the pose they are placed at, may be worst off there, one of each neighbourhood, and have no rows yet.
// It returns the least floor.
func (p *Prober) pickWorst(enough float64, most int, among []int32) (least float64) {
	const neighbourhood = 1.5 // mm: a contact's rows differ little within it
	// The floors are up to half a step of the coarse grid off; those this far above
	// the least are not the worst.
	const margin = 1.2
	limit := min(enough, p.least+margin)
	p.near, p.picked = p.near[:0], p.picked[:0]
	for _, i := range among {
		if p.floors[i] < limit && p.asked[i] != p.number {
			p.near = append(p.near, i)
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
	return p.least
}

// trim drops the rows that cannot bind below the ceiling, keeps the lowest
// maxRows of the others, and adds the ceiling itself as a row.
func (p *Prober) trim() {
	p.sift(p.ceiling)
	for len(p.lp.Rows) > maxRows {
		// Those that reach lowest are the likeliest to bind.
		sum := 0.0
		for i := range p.lp.Rows {
			sum += p.lp.Rows[i].Low
		}
		if n := len(p.lp.Rows); !p.sift(sum/float64(n)) || len(p.lp.Rows) == n {
			p.lp.Rows = p.lp.Rows[:maxRows]
		}
	}
	p.lp.Rows = append(p.lp.Rows, simplex.Row{B: p.ceiling, Low: p.ceiling})
}

// sift keeps the rows whose low is below the limit; it reports whether any is.
func (p *Prober) sift(limit float64) bool {
	kept := 0
	for i := range p.lp.Rows {
		if p.lp.Rows[i].Low < limit {
			if kept != i {
				p.lp.Rows[kept] = p.lp.Rows[i]
			}
			kept++
		}
	}
	if kept == 0 {
		return false
	}
	p.lp.Rows = p.lp.Rows[:kept]
	return true
}
